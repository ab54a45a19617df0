"""Oven conversions against published charts and worked values."""

from __future__ import annotations

import pytest

from troubleshoot.kitchen import oven

#: Gas mark, °F, exact °C, rounded °C, °C with the fan.  Source: gas mark table of a general encyclopaedia for °F;
#: rounded °C and fan °C as printed on UK oven charts (common practice).
GAS = [
    (0.25, 225, 107, 110, 90),
    (0.5, 250, 121, 120, 100),
    (1, 275, 135, 140, 120),
    (2, 300, 149, 150, 130),
    (3, 325, 163, 160, 140),
    (4, 350, 177, 180, 160),
    (5, 375, 191, 190, 170),
    (6, 400, 204, 200, 180),
    (7, 425, 218, 220, 200),
    (8, 450, 232, 230, 210),
    (9, 475, 246, 240, 220),
]


@pytest.mark.parametrize(("mark", "degrees_f", "exact", "rounded", "fan"), GAS)
def test_gas_marks(mark, degrees_f, exact, rounded, fan):
    """Each mark gives the printed °F, the exact °C to the degree, and the rounded °C to within 8 degrees."""
    found = oven.gas_mark_to_celsius(mark)
    assert found["conventional_f"] == pytest.approx(degrees_f)
    assert found["conventional_c"] == pytest.approx(exact, abs=0.5)
    assert found["conventional_c"] == pytest.approx(rounded, abs=8)
    assert oven.celsius_to_gas_mark(rounded)["gas_mark"] == mark


@pytest.mark.parametrize(("mark", "degrees_f", "exact", "rounded", "fan"), GAS)
def test_fan_column_of_the_charts(mark, degrees_f, exact, rounded, fan):
    """The fan column of the charts is the rounded column less the fan's 20 degrees, both ways."""
    assert oven.fan_equivalent(rounded)["fan_c"] == fan
    assert oven.conventional_equivalent(fan, "fan")["conventional_c"] == rounded


#: °F and °C, worked from the definition to one decimal.
FAHRENHEIT = [
    (200, 93.3), (225, 107.2), (250, 121.1), (275, 135.0), (300, 148.9), (325, 162.8), (350, 176.7), (360, 182.2),
    (375, 190.6), (400, 204.4), (425, 218.3), (450, 232.2), (475, 246.1), (500, 260.0),
]  # fmt: skip


@pytest.mark.parametrize(("degrees_f", "degrees_c"), FAHRENHEIT)
def test_fahrenheit(degrees_f, degrees_c):
    """Each °F gives the worked °C to its decimal, and back to the degree."""
    assert oven.celsius(degrees_f) == pytest.approx(degrees_c, abs=0.051)
    assert oven.fahrenheit(degrees_c) == pytest.approx(degrees_f, abs=0.1)


@pytest.mark.parametrize(
    "drop",
    [
        20,  # most UK charts (common practice)
        25,  # one UK chart (common practice)
        15,  # Professional Baking: 25 °F ...
        30,  # ... to 50 °F lower, as printed in °C
        14,  # an owner's manual of a gas range: 25 °F
        28,  # a professional baking book: 50 °F
    ],
)
def test_published_fan_reductions_lie_in_the_span(drop):
    """The span kept for the fan covers every published reduction, and 20 is inside it."""
    low, high = oven.FAN_DROP_SPAN_K
    assert low <= drop <= high
    assert low <= oven.FAN_DROP_K <= high


@pytest.mark.parametrize(
    ("off", "in_order"),
    [
        (14, True),  # what makers treat as in order, 25 °F (appliance repair column; common practice)
        (20, False),  # overheated by 20 or more: 17 % of ovens in a consumer test of 2015
        (42, False),  # the worst in the same test
        (-30, False),  # the coldest in the same test
    ],
)
def test_ovens_that_testers_found_off_are_found_off(off, in_order):
    """An oven that testers called off is not in order here, and one that makers accept is."""
    assert oven.oven_in_order(180, 180 + off) is in_order
