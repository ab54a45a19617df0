"""What the egg calculations promise."""

from __future__ import annotations

import itertools

import pytest

from troubleshoot.errors import AmountError
from troubleshoot.kitchen import eggs


def test_contents_and_shell_make_the_egg():
    """Contents and shell add up to the egg."""
    for weight in (40, 58, 75):
        parts = eggs.egg_without_shell(weight)
        assert parts["contents_g"] + parts["shell_g"] == pytest.approx(weight, abs=1e-9)
        assert 0 < parts["shell_g"] < parts["contents_g"]


def test_eggs_needed_are_enough_and_not_one_too_many():
    """The count covers the weight, and the rest is less than one egg."""
    for wanted in (1, 50, 50.1, 247.5, 1000):
        need = eggs.eggs_needed(wanted, 50)
        assert need["eggs"] * 50 == pytest.approx(wanted + need["left_over_g"], abs=1e-6)
        assert 0 <= need["left_over_g"] < 50


def test_an_exact_number_of_eggs_is_not_rounded_up():
    """Five eggs of 50 g are five, not six."""
    assert eggs.eggs_needed(250, 50) == {"eggs": 5, "left_over_g": 0}


def test_counting_eggs_can_move_a_batch_by_much():
    """Six eggs of 38 to 63 g differ by about two thirds of the least."""
    counted = eggs.egg_counted(6, 38, 63)
    assert counted["least_g"] == 228
    assert counted["most_g"] == 378
    assert counted["spread_percent"] == pytest.approx(65.8, abs=0.1)
    with pytest.raises(AmountError, match="heaviest"):
        eggs.egg_counted(6, 63, 38)


@pytest.mark.parametrize(
    "call",
    [
        lambda: eggs.eu_class(0),
        lambda: eggs.egg_without_shell(-1),
        lambda: eggs.eggs_needed(0, 50),
        lambda: eggs.eggs_needed(50, 0),
    ],
)
def test_no_egg_is_refused(call):
    """No weight is no egg."""
    with pytest.raises(AmountError, match="more than 0"):
        call()


def test_an_unknown_class_names_the_known_ones():
    """The message lists the classes that exist."""
    with pytest.raises(AmountError, match="S, M, L, XL"):
        eggs.eu_contents_g("XXL")
    with pytest.raises(AmountError, match="peewee"):
        eggs.us_minimum_g("huge")


def test_classes_meet_without_a_gap():
    """Each EU class begins where the one below ends, and the last is open."""
    for lower, upper in itertools.pairwise(eggs.EU_CLASSES):
        assert lower.high_g == upper.low_g
    assert eggs.EU_CLASSES[-1].high_g is None


def test_egg_sets_in_order():
    """White thickens before it sets, yolk sets above it, and whole egg last."""
    order = [
        eggs.CHOUX_EGG_LIMIT_C,
        eggs.FIRST_PROTEIN_SETS_C,
        eggs.WHITE_THICKENS_C,
        eggs.WHITE_SETS_C,
        eggs.YOLK_SETS_C,
        eggs.WHOLE_EGG_SETS_C,
    ]
    assert order == sorted(order)
