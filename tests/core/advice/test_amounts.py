"""Amounts for the batch in hand: the person's own figures first, and what is assumed is said and scaled soundly."""

from __future__ import annotations

import pytest

from troubleshoot.advice.amounts import work_out
from troubleshoot.inference.facts import Case
from troubleshoot.inference.reason import Reasoner
from troubleshoot.interview.shelf import Shelf


def test_own_figures_are_used_and_nothing_is_assumed(choux: Reasoner):
    """With every weight given the figures are the batch's own."""
    case = Case("choux", batch={"flour_g": 150.0, "liquid_g": 250.0, "butter_g": 105.0, "egg_g": 330.0})
    worked = work_out(choux.family.remedies["stiffen_with_panade"], case, choux.family.header)
    assert worked.assumed == {}
    assert worked.figures["extra_flour_g"] == pytest.approx(330 / 1.65 - 150)


def test_what_is_not_given_is_assumed_at_the_size_of_what_is(choux: Reasoner):
    """Twice the flour means twice the liquid and butter, unless they are given."""
    case = Case("choux", batch={"flour_g": 300.0})
    worked = work_out(choux.family.remedies["stiffen_with_panade"], case, choux.family.header)
    assert worked.assumed["liquid_g"] == pytest.approx(500.0)
    assert worked.assumed["butter_g"] == pytest.approx(210.0)


def test_per_cent_and_single_pieces_do_not_grow_with_the_batch(shelf: Shelf):
    """A double batch of cream has the same fat figure and the same cream to a piece."""
    family = shelf.reasoner("whipped-cream").family
    for remedy in family.remedies.values():
        single, double = (
            work_out(remedy, Case("whipped-cream", batch={"cream_g": grams}), family.header).assumed
            for grams in (500.0, 1000.0)
        )
        for name in ("fat_percent", "piece_g", "room_c"):
            assert single.get(name) == double.get(name)


def test_what_has_a_value_of_its_own_is_not_missing(shelf: Shelf):
    """The kind of chocolate was not asked, the calculation has one of its own, and nothing is said to be missing."""
    family = shelf.reasoner("melted-chocolate").family
    case = Case("melted-chocolate", batch={"chocolate_g": 350.0, "cream_g": 500.0})
    worked = work_out(family.remedies["firm_with_chocolate"], case, family.header)
    assert worked.missing == ()
    assert worked.figures["more_chocolate_g"] == pytest.approx(150)


def test_a_figure_that_nobody_could_guess_is_named_as_missing(choux: Reasoner):
    """Without the panade's weights the program asks for them instead of inventing them."""
    worked = work_out(
        choux.family.remedies["stiffen_wet_paste"], Case("choux", batch={"panade_before_g": 509.0}), choux.family.header
    )
    assert "panade_after_g" in worked.missing or "panade_after_g" in worked.assumed
