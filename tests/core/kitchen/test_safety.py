"""What the time and temperature sums promise."""

from __future__ import annotations

import pytest

from troubleshoot.errors import AmountError
from troubleshoot.kitchen import safety


def test_time_only_runs_out():
    """More time out never leaves more, nothing is left below nothing."""
    for country in safety.COUNTRIES:
        left = [safety.time_out_left(out, 20, country)["left_min"] for out in range(0, 600, 15)]
        assert left == sorted(left, reverse=True)
        assert min(left) == 0


def test_the_clock_stands_still_in_the_cold():
    """Below the cold limit no minute counts."""
    assert not safety.must_be_thrown_away(5000, 8, "uk")
    assert not safety.must_be_thrown_away(5000, 5, "us")
    assert safety.must_be_thrown_away(5000, 8.1, "uk")
    assert safety.must_be_thrown_away(5000, 5.1, "us")


@pytest.mark.parametrize(
    ("minutes", "warmest", "country", "thrown"),
    [
        (239, 20, "uk", False),
        (240, 20, "uk", True),
        (239, 25, "us", False),
        (240, 25, "us", True),
        (359, 20, "us", False),
        (360, 20, "us", True),
    ],
)
def test_limits_are_kept_to_the_minute(minutes, warmest, country, thrown):
    """One minute before the limit is in time, the limit itself is not."""
    assert safety.must_be_thrown_away(minutes, warmest, country) is thrown


def test_twenty_one_degrees_still_counts_as_cool():
    """In the US the six hours hold up to and with 21 degrees, and four above."""
    assert safety.time_out_left(0, 21, "us")["limit_min"] == 360
    assert safety.time_out_left(0, 21.1, "us")["limit_min"] == 240


def test_a_country_without_rules_is_refused():
    """The message names the countries whose rules are known."""
    with pytest.raises(AmountError, match="uk and us"):
        safety.time_out_left(10, 20, "fr")


def test_cooling_is_checked_in_both_steps():
    """Both steps must be kept; failing either fails the whole."""
    assert safety.cooled_in_time(120, 360)
    assert not safety.cooled_in_time(121, 300)
    assert not safety.cooled_in_time(60, 361)
    assert safety.cooling_check(90, 300) == {"first_left_min": 30, "whole_left_min": 60}
    with pytest.raises(AmountError, match="longer one"):
        safety.cooling_check(200, 100)


def test_forecast_goes_through_both_readings():
    """A forecast from two readings passes 21 before 5 degrees and agrees with a third reading on the same curve."""
    forecast = safety.cooling_forecast(85, 60, 20, 2)
    assert 20 < forecast["to_21_min"] < forecast["to_5_min"]
    again = safety.cooling_forecast(85, 2 + 83 * (58 / 83) ** 2, 40, 2)
    assert again["to_5_min"] == pytest.approx(forecast["to_5_min"], rel=1e-9)


def test_a_forecast_needs_cold_around_it():
    """Nothing gets cold in a warm place."""
    with pytest.raises(AmountError, match="ice or a fridge"):
        safety.cooling_forecast(85, 60, 20, 8)


@pytest.mark.parametrize(
    ("reached", "seconds", "held", "safe"),
    [
        (63, 15, False, True),
        (62.9, 60, False, False),
        (63, 14, False, False),
        (68, 17, True, True),
        (68, 16, True, False),
        (67, 600, True, False),
    ],
)
def test_egg_needs_heat_and_time(reached, seconds, held, safe):
    """Heat without time and time without heat are not enough."""
    assert safety.egg_safe(reached, seconds, held=held) is safe
