"""What the physics of sucrose in water promises."""

from __future__ import annotations

import pytest

from troubleshoot.errors import AmountError
from troubleshoot.kitchen import oven, sucrose

STRENGTHS = (1, 10, 30, 50, 65, 75, 85, 92, 97)


@pytest.mark.parametrize("sugar", STRENGTHS)
@pytest.mark.parametrize("height", [0, 800, 2500])
def test_strength_and_boiling_point_undo_each_other(sugar, height):
    """The strength read off a boiling point is the one that boils there, at any height."""
    boils = sucrose.syrup_boiling_point(sugar, height)["boils_c"]
    assert sucrose.strength_at_boil(boils, height)["sugar_percent"] == pytest.approx(sugar, abs=1e-6)


def test_syrup_boils_later_the_stronger_it_is():
    """Boiling point rises with strength, from water's own, and falls with height."""
    boils = [sucrose.syrup_boiling_point(sugar)["boils_c"] for sugar in (0, *STRENGTHS)]
    assert boils == sorted(boils)
    assert boils[0] == pytest.approx(oven.boiling_point_at_altitude(0)["boils_c"], abs=1e-5)
    by_height = [sucrose.syrup_boiling_point(75, height)["boils_c"] for height in (0, 1000, 2000)]
    assert by_height == sorted(by_height, reverse=True)


def test_the_rise_over_water_hardly_moves_with_height():
    """Over local water a syrup of 75 % rises 6 to 7 K at the sea and at 2000 m, so the rise tells strength anywhere."""
    rises = [sucrose.syrup_boiling_point(75, height)["over_water_k"] for height in (0, 1000, 2000)]
    assert max(rises) - min(rises) < 0.4


def test_the_older_table_reads_a_strong_syrup_weaker():
    """The lowest strength is never over the modern one, and parts from it between 60 and 82 %."""
    for boiling in (101, 103, 105, 107, 110, 115):
        found = sucrose.strength_at_boil(boiling)
        assert found["lowest_percent"] <= found["sugar_percent"]
    assert sucrose.strength_at_boil(107)["lowest_percent"] < sucrose.strength_at_boil(107)["sugar_percent"] - 1


def test_below_the_boiling_point_of_water_the_probe_is_wrong():
    """A boiling syrup below local water is refused, with the check to make; so is melted sugar."""
    with pytest.raises(AmountError, match="Check the probe"):
        sucrose.strength_at_boil(99)
    assert sucrose.strength_at_boil(99, 1000)["sugar_percent"] > 50
    with pytest.raises(AmountError, match="melted sugar"):
        sucrose.strength_at_boil(160)


def test_water_activity_falls_with_sugar():
    """Pure water is 1, and more sugar always binds more."""
    activity = [sucrose.water_activity(sugar)["water_activity"] for sugar in (0, *STRENGTHS)]
    assert activity == sorted(activity, reverse=True)
    assert activity[0] == 1
    assert activity[-1] > 0


def test_solubility_and_saturation_undo_each_other():
    """The temperature at which a syrup is saturated dissolves just that much."""
    for degrees in (1, 20, 33.3, 60, 99):
        percent = sucrose.solubility(degrees)["sugar_percent"]
        assert sucrose.saturation_temperature(percent)["saturated_c"] == pytest.approx(degrees, abs=1e-6)
        assert sucrose.supersaturation(percent, degrees)["times_saturated"] == pytest.approx(1, abs=1e-9)


def test_cooling_makes_a_syrup_oversaturated():
    """The same syrup is more oversaturated the colder it is, and what falls out leaves a saturated syrup."""
    times = [sucrose.supersaturation(75, degrees)["times_saturated"] for degrees in (90, 60, 20, 5)]
    assert times == sorted(times)
    over = sucrose.supersaturation(75, 20)["sugar_over_percent"]
    left = 100 * (75 - over) / (100 - over)
    assert left == pytest.approx(sucrose.solubility(20)["sugar_percent"], abs=1e-9)
    assert sucrose.supersaturation(60, 20)["sugar_over_percent"] == 0


@pytest.mark.parametrize("sugar", [0, 10, 45, 66.7, 85])
def test_baume_and_percent_undo_each_other(sugar):
    """Degrees Baumé turned back give the strength."""
    assert sucrose.percent_from_baume(sucrose.baume_from_percent(sugar)["baume"])["sugar_percent"] == pytest.approx(
        sugar, abs=1e-6
    )


def test_density_rises_with_sugar():
    """A stronger syrup is denser."""
    densities = [sucrose.syrup_density(sugar)["density_kg_m3"] for sugar in range(0, 86, 5)]
    assert densities == sorted(densities)


@pytest.mark.parametrize("bad", [-1, 101, float("nan")])
def test_strengths_beyond_all_sugar_are_refused(bad):
    """No syrup holds less than nothing or more than all sugar."""
    for function in (
        sucrose.water_activity,
        sucrose.syrup_boiling_point,
        sucrose.syrup_density,
        sucrose.saturation_temperature,
    ):
        with pytest.raises(AmountError):
            function(bad)
