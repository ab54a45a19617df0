"""What warming, cooling and the dew point promise."""

from __future__ import annotations

import itertools

import pytest

from troubleshoot.errors import AmountError
from troubleshoot.kitchen import air, heat

ROOMS = list(itertools.product((16.0, 20.0, 28.0, 34.0), (20.0, 50.0, 85.0, 99.0)))


@pytest.mark.parametrize(("start", "wanted", "around"), [(5, 15, 20), (95, 21, 3), (-18, 4, 20), (45, 31, 20)])
def test_time_and_temperature_undo_each_other(start, wanted, around):
    """After the minutes worked out, the piece has the wanted temperature."""
    minutes = heat.minutes_to_reach(start, wanted, around, 40)
    assert minutes > 0
    assert heat.temperature_after(start, around, minutes, 40) == pytest.approx(wanted, abs=1e-9)
    assert heat.cooling_time(start, wanted, around, 40) == {"minutes_min": minutes}


@pytest.mark.parametrize(("start", "wanted", "around"), [(5, 25, 20), (5, 4, 20), (95, 3, 3), (5, 20, 20)])
def test_what_is_never_reached_is_said(start, wanted, around):
    """A temperature beyond start or surroundings is refused."""
    with pytest.raises(AmountError, match="between the two"):
        heat.minutes_to_reach(start, wanted, around, 40)


def test_time_constant_comes_back_from_two_readings():
    """Two readings of a piece give the time constant it was worked out with."""
    later = heat.temperature_after(90, 5, 25, 33)
    assert heat.time_constant_from_readings(90, later, 25, 5) == pytest.approx(33, rel=1e-9)
    with pytest.raises(AmountError, match="between"):
        heat.time_constant_from_readings(60, 70, 10, 5)


def test_heavier_pieces_are_slower_and_wind_is_faster():
    """The time constant rises with the weight and falls with surface and moving air."""
    base = heat.time_constant(80, 3, 130, heat.STILL_AIR)["time_constant_min"]
    assert heat.time_constant(160, 3, 130, heat.STILL_AIR)["time_constant_min"] == pytest.approx(2 * base)
    assert heat.time_constant(80, 3, 260, heat.STILL_AIR)["time_constant_min"] == pytest.approx(base / 2)
    assert heat.time_constant(80, 3, 130, heat.MOVING_AIR)["time_constant_min"] < base


@pytest.mark.parametrize(("room", "humidity"), ROOMS)
def test_dew_point_and_humidity_undo_each_other(room, humidity):
    """The humidity behind the dew point is the one it came from, and the dew point is never above the air."""
    dew = air.dew_point(room, humidity)["dew_point_c"]
    assert dew < room
    assert air.humidity_from_dew_point(room, dew)["humidity_percent"] == pytest.approx(humidity, rel=1e-9)


def test_dew_point_rises_with_heat_and_humidity():
    """Damper or warmer air has a higher dew point; at 100 % it is the air itself."""
    by_humidity = [air.dew_point(20, humidity)["dew_point_c"] for humidity in (1, 20, 50, 80, 100)]
    by_heat = [air.dew_point(degrees, 50)["dew_point_c"] for degrees in (0, 10, 20, 40)]
    assert by_humidity == sorted(by_humidity)
    assert by_heat == sorted(by_heat)
    assert by_humidity[-1] == pytest.approx(20, abs=1e-9)


def test_warming_air_dries_it():
    """The same air is drier when warmed, and cannot be cooled past its dew point."""
    assert air.humidity_when_warmed(20, 60, 50)["humidity_percent"] < 15
    dew = air.dew_point(20, 60)["dew_point_c"]
    assert air.humidity_when_warmed(20, 60, dew)["humidity_percent"] == pytest.approx(100, abs=1e-6)
    with pytest.raises(AmountError, match="dew"):
        air.humidity_when_warmed(20, 60, 5)


def test_thin_air_holds_more_water_for_each_kilogram():
    """At the same heat and humidity, air at a height holds more water to the kilogram."""
    by_height = [air.water_in_air(20, 50, height)["water_g_per_kg"] for height in (0, 1500, 3000)]
    assert by_height == sorted(by_height)


@pytest.mark.parametrize(("room", "humidity"), ROOMS)
def test_after_the_wait_the_piece_no_longer_sweats(room, humidity):
    """A piece at 5 degrees that waits as told is at the dew point and a minute later above it."""
    wait = air.wait_in_box(5, room, humidity)
    at_end = heat.temperature_after(5, room, wait["wait_min"], air.BOXED_PIECE_MIN)
    assert at_end >= wait["dew_point_c"] - 1e-9
    assert not air.sweats(heat.temperature_after(5, room, wait["wait_min"] + 1, air.BOXED_PIECE_MIN), room, humidity)
    assert (wait["wait_min"] > 0) == air.sweats(5 - 1e-9, room, humidity)


def test_waiting_is_of_the_order_the_trade_knows():
    """Common practice: chilled filled pieces stay boxed 20 to 40 minutes in a usual room."""
    for room, humidity in ((20, 50), (22, 55), (24, 50)):
        assert 15 <= air.wait_in_box(5, room, humidity)["wait_min"] <= 45


def test_soaked_air_and_impossible_dew_points_are_refused():
    """At 100 % no wait helps; a dew point above the air does not exist."""
    with pytest.raises(AmountError, match="100 %"):
        air.wait_in_box(5, 20, 100)
    with pytest.raises(AmountError, match="above the temperature"):
        air.humidity_from_dew_point(20, 21)
    for humidity in (0, 101, float("nan")):
        with pytest.raises(AmountError):
            air.dew_point(20, humidity)
