"""What the balance of a recipe promises."""

from __future__ import annotations

import pytest

from troubleshoot.errors import AmountError
from troubleshoot.kitchen.balance import SPANS, Standing, judge_balance, recipe_balance, standing


def test_ratios_are_plain_divisions():
    """The usual batch gives its four ratios, all inside."""
    assert recipe_balance(150, 250, 105, 250) == {
        "liquid_ratio": pytest.approx(250 / 150),
        "egg_ratio": pytest.approx(250 / 150),
        "fat_ratio": pytest.approx(0.7),
        "egg_to_liquid_ratio": pytest.approx(1.0),
        "outside_spans": 0,
    }
    assert judge_balance(150, 250, 105, 250).inside


@pytest.mark.parametrize("ratio", list(SPANS))
def test_the_ends_of_a_span_are_inside(ratio):
    """A ratio exactly at either end is inside; a little beyond is not."""
    low, high = SPANS[ratio]
    assert standing(ratio, low) is standing(ratio, high) is Standing.INSIDE
    assert standing(ratio, low - 1e-6) is Standing.LOW
    assert standing(ratio, high + 1e-6) is Standing.HIGH


@pytest.mark.parametrize(
    ("batch", "field", "expected"),
    [
        ((150, 200, 105, 205), "liquid", Standing.LOW),
        ((150, 330, 105, 300), "liquid", Standing.HIGH),
        ((150, 250, 60, 250), "fat", Standing.LOW),
        ((150, 250, 170, 250), "fat", Standing.HIGH),
        ((150, 250, 105, 190), "egg", Standing.LOW),
        ((150, 310, 105, 310), "egg", Standing.HIGH),
        ((150, 250, 105, 280), "egg_to_liquid", Standing.HIGH),
    ],
)
def test_each_ratio_is_judged_by_its_own_span(batch, field, expected):
    """A recipe off in one ratio is told which one and to which side."""
    judged = judge_balance(*batch)
    assert getattr(judged, field) is expected
    assert not judged.inside


def test_egg_speaks_first_by_flour_and_then_by_liquid():
    """The egg as a whole is high when either of its ratios is."""
    assert judge_balance(150, 250, 105, 280).egg_standing is Standing.HIGH
    assert judge_balance(150, 250, 105, 190).egg_standing is Standing.LOW
    assert judge_balance(150, 250, 105, 250).egg_standing is Standing.INSIDE


@pytest.mark.parametrize("batch", [(0, 250, 105, 250), (150, 0, 105, 250), (150, 250, -1, 250), (150, 250, 105, -1)])
def test_a_recipe_without_flour_or_liquid_is_refused(batch):
    """Nothing can be divided by no flour or no liquid."""
    with pytest.raises(AmountError):
        recipe_balance(*batch)
