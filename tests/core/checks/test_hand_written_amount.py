"""The check that no remedy gives by hand a weight that the batch decides."""

from __future__ import annotations

from dataclasses import replace

import pytest

from troubleshoot.checks.hand_written_amount import FOR_THE_BATCH, HandWrittenAmount, hand_written
from troubleshoot.interview.shelf import Shelf
from troubleshoot.knowledge.model import Family
from troubleshoot.problems import Problem


@pytest.mark.parametrize(
    "step",
    [
        "Beat in 40 g of egg.",
        "Stir in 200 ml of cream and wait.",
        "Weigh out 1.5 kg of fresh chocolate.",
        "Add 20 to 30 g of sugar.",
        "Melt 250 g for the second coat.",
        "Boil 2 litres of water and 500 g of sugar.",
    ],
)
def test_an_amount_for_the_batch_is_found(step: str):
    """A bare weight or volume above a portion is refused."""
    assert hand_written(step)


@pytest.mark.parametrize(
    "step",
    [
        "Beat in {part_g} of egg.",
        "Pipe pieces of 20 to 30 g.",
        "Put 25 g on each.",
        "Beat in water 15 g at a time.",
        "Stir 2 g of fine salt into 100 g of caster sugar.",
        "Add 20 g of sugar for each 100 g of cream.",
        "Use 30 g of glucose to the kilo.",
        "Pipe from 250 g bags.",
        "Take a scale that shows 1000 g for a litre of water.",
        "Chill it for 20 minutes under 4 mm of cream at 20 % fat.",
    ],
)
def test_portions_doses_and_sizes_are_left_alone(step: str):
    """What holds for any size of batch may be written by hand."""
    assert hand_written(step) == []


def _found(shelf: Shelf, family: Family) -> list[Problem]:
    return list(HandWrittenAmount().problems(family, shelf.rulebase(family.id)))


def _choux(shelf: Shelf) -> Family:
    return shelf.rulebase("choux").families["choux"]


def _planted(family: Family, kind: str) -> Family:
    remedy = next(r for r in family.remedies.values() if r.kind == kind)
    spoilt = replace(remedy, steps=(*remedy.steps, "Stir in 80 g of flour."))
    return replace(family, remedies={**family.remedies, remedy.id: spoilt})


@pytest.mark.parametrize("kind", sorted(FOR_THE_BATCH))
def test_a_planted_figure_is_reported_with_what_to_write(shelf: Shelf, kind: str):
    """A step spoilt by a hand-written weight is one problem that names the figure."""
    (problem,) = _found(shelf, _planted(_choux(shelf), kind))
    assert "80 g" in problem.wrong
    assert "amounts" in problem.advice


def test_advice_for_next_time_may_name_a_plain_figure(shelf: Shelf):
    """What is written on a card for the next batch is no rescue and is not read."""
    assert _found(shelf, _planted(_choux(shelf), "next-time")) == []


@pytest.mark.parametrize("family", ["choux", "shortbread", "whipped-cream", "melted-chocolate", "candied-peel"])
def test_the_shipped_rules_are_clean(shelf: Shelf, family: str):
    """Every rescue that ships takes its weights from the kitchen."""
    assert _found(shelf, shelf.rulebase(family).families[family]) == []
