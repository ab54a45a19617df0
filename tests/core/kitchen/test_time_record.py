"""A record of times and temperatures judged by the rules of a country or of the house."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from troubleshoot.errors import AmountError
from troubleshoot.kitchen.safety import time_out_left
from troubleshoot.kitchen.time_record import read_record, spells_above, time_record

MINUTES = st.lists(st.floats(1, 200), min_size=1, max_size=8)
HEATS = st.lists(st.floats(-5, 30), min_size=9, max_size=9)


def record(steps, heats) -> str:
    times = [sum(steps[:index]) for index in range(len(steps) + 1)]
    return ", ".join(f"{time:.3f} {heat:.2f}" for time, heat in zip(times, heats, strict=False))


def test_readings_by_minutes_and_by_the_clock_are_the_same_record():
    """Minutes, times of day, and times past midnight."""
    expected = ((0.0, 4.0), (30.0, 9.0), (100.0, -1.5))
    assert read_record("0 4, 30 9, 100 -1.5") == expected
    assert read_record("12:30 4; 13:00 9\n14:10 -1.5") == expected
    assert read_record("23:50 4, 0:20 9, 1:30 -1.5") == expected
    assert read_record("5 4, 35 9, 105 -1.5") == expected


@pytest.mark.parametrize(
    ("readings", "said"),
    [
        ("warm", "'warm' is no reading"),
        ("0 4, 30", "'30' is no reading"),
        ("30 4, 10 5", "times must rise"),
        ("30 4, 30 5", "times must rise"),
        ("25:10 4, 26:00 5", "no time of day"),
        ("0 4", "2 to 200 readings"),
        ("0 4, 30 300", "from -40 °C to 100 °C"),
        ("", "is no reading"),
    ],
)
def test_what_is_no_record_is_said_with_what_to_write(readings, said):
    """One sentence names what is wrong."""
    with pytest.raises(AmountError) as refused:
        time_record(readings)
    assert said in str(refused.value)


def test_spells_are_cut_where_the_line_crosses_the_limit():
    """From 4 to 12 °C in 40 minutes a limit of 8 is crossed after 20; back at it half way down."""
    assert spells_above(((0, 4), (40, 12), (60, 4)), 8) == ((20, 50),)
    assert spells_above(((0, 4), (40, 12), (60, 12), (80, 4)), 8) == ((20, 70),)
    assert spells_above(((0, 12), (10, 4), (20, 12)), 8) == ((0, 5), (15, 20))
    assert spells_above(((0, 8), (30, 8)), 8) == ()


# SR 2006/3 Schedule 4, para 5: less than four hours above 8 °C, once
def test_in_the_uk_only_one_spell_is_allowed():
    """A spell that goes on has the rest of four hours; one that is over leaves none; a second one is over at once."""
    on = time_record("0 12, 90 12", "uk")
    assert (on["left_min"], on["over_min"], on["discard_min"]) == (150, 0, 240)
    closed = time_record("0 12, 90 12, 91 4, 200 4", "uk")
    assert (closed["left_min"], closed["over_min"]) == (0, 0)
    assert "discard_min" not in closed
    again = time_record("0 12, 60 12, 61 4, 100 4, 101 12, 131 12", "uk")
    assert again["times_out"] == 2
    assert again["over_min"] == pytest.approx(30.5)
    assert again["discard_min"] == pytest.approx(100.5)


# US FDA Food Code 2022, 3-501.19: 4 h in all, 6 h if never above 70 °F (21 °C)
def test_in_the_us_the_time_adds_up_and_cool_food_has_longer():
    """Two spells add up; at 25 °C four hours are allowed, at 20 °C six."""
    both = time_record("0 12, 60 12, 61 4, 100 4, 101 12, 131 12", "us")
    assert both["limit_min"] == 360
    assert both["left_min"] == pytest.approx(360 - both["out_min"])
    assert time_record("0 25, 60 25", "us")["limit_min"] == 240
    late = time_record("0 25, 300 25", "us")
    assert (late["over_min"], late["discard_min"]) == (60, 240)


def test_the_house_has_limits_of_its_own():
    """Half an hour above 3 °C, as the house's plan has it."""
    found = time_record("0 6, 20 6", "own", 3, 0.5)
    assert (found["limit_min"], found["left_min"], found["discard_min"]) == (30, 10, 30)
    with pytest.raises(AmountError, match="from -5 °C to 15 °C"):
        time_record("0 6, 20 6", "own", 30, 0.5)
    with pytest.raises(AmountError, match="uk, us, own"):
        time_record("0 6, 20 6", "mars")


@given(MINUTES, HEATS, st.sampled_from(["uk", "us", "own"]))
def test_time_out_and_time_left_keep_their_bounds(steps, heats, scheme):
    """Time out never exceeds the record; left and over are never both there; what is over is thrown away in the past."""
    found = time_record(record(steps, heats), scheme)
    whole = read_record(record(steps, heats))[-1][0]
    assert -1e-9 <= found["out_min"] <= whole + 1e-6
    assert min(found["left_min"], found["over_min"]) == 0
    if found["over_min"] > 1e-6:
        assert found["discard_min"] <= whole + 1e-6
    elif "discard_min" in found:
        assert found["discard_min"] == pytest.approx(whole + found["left_min"], abs=1e-6)


@given(MINUTES, HEATS)
def test_warmer_food_never_has_more_time(steps, heats):
    """Two degrees warmer all the way never leaves more minutes, under rules that add up."""
    cool = time_record(record(steps, heats), "own")
    warm = time_record(record(steps, [heat + 2 for heat in heats]), "own")
    assert warm["left_min"] <= cool["left_min"] + 1e-6
    assert warm["out_min"] >= cool["out_min"] - 1e-6


@given(st.floats(1, 400), st.floats(9, 60), st.sampled_from(["uk", "us"]))
def test_a_record_at_one_heat_agrees_with_the_plain_sum(minutes, heat, country):
    """Food that stood at one heat all the time has what the calculation without a record leaves."""
    found = time_record(f"0 {heat:.2f}, {minutes:.3f} {heat:.2f}", country)
    plain = time_out_left(round(minutes, 3), round(heat, 2), country)
    assert found["left_min"] == pytest.approx(plain["left_min"], abs=1e-6)
    assert found["limit_min"] == plain["limit_min"]
