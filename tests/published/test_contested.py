"""Where published sources part, both figures are given: in the result, on the card, on the command line."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from troubleshoot import cli
from troubleshoot.kitchen import chocolate, cream_checks, eggs, oven, sucrose, syrup
from troubleshoot.kitchen.card import card
from troubleshoot.kitchen.registry import FUNCTIONS

#: Calculations whose figures sources part on, with what both sources say, as it stands on the card.
CONTESTED = {
    "solubility": ("203.9", "200.5"),
    "saturation_temperature": ("2.5 K",),
    "supersaturation": ("2.3 %",),
    "syrup_boiling_point": ("12.0", "9.5", "125", "122.4"),
    "strength_at_boil": ("80 %", "76 %"),
    "liquid_for_seized": ("20", "26", "33"),
    "tempering_curve": ("27 to 28", "29 to 30"),
    "ganache_chocolate": ("1.5", "3"),
    "egg_to_flour": ("1.33", "2.01"),
    "egg_into_panade": ("60", "24 to 41"),
    "conventional_equivalent": ("14", "15 to 30", "20", "25"),
    "fan_equivalent": ("14", "15 to 30", "20", "25"),
    "gas_mark_to_celsius": ("120", "130", "160", "170"),
    "oven_correction": ("14", "42"),
    "whipping_fat": ("30", "35"),
    "overrun": ("100", "141", "216"),
    "dough_water": ("15.87", "17.94", "16"),
    "butter_off_window": ("refrigerator",),
    "sugar_share": ("8", "10", "15"),
    "syrup_from": ("50", "46"),
    "step_up": ("70 to 74", "75"),
    "glucose_to_add": ("quarter", "50"),
    "peel_end_point": ("105 to 110",),
    "soaking_time": ("cherry", "sapodilla", "litchi"),
    "doctor_to_stop_grain": ("10 to 25", "50"),
    "growth_margins": ("0.87 to 0.91", "0.82 to 0.85"),
    "cooling_check": ("60", "57"),
    "egg_cooking": ("17", "15"),
    "cream_by_name": ("law", "trade code"),
}


@pytest.mark.parametrize("name", CONTESTED)
def test_the_card_tells_what_each_source_says(name):
    """The figures of the sources that part stand on the card."""
    told = card(name).contested
    assert all(figure in told for figure in CONTESTED[name]), told


def test_no_contested_card_goes_unchecked():
    """Every card that tells of sources that part is one of those above, or points to one."""
    telling = {name for name in FUNCTIONS if card(name).contested}
    pointing = {"ganache_off_span", "growth_in_syrup", "off_working_heat"}
    assert telling == set(CONTESTED) | pointing


def test_the_command_says_that_sources_differ(capsys):
    """Figures by both sources, and both sources, in the output of one command."""
    assert cli.main(["amounts", "solubility", "celsius=20"]) == 0
    out = " ".join(capsys.readouterr().out.split())
    assert "by the handbook table: 203.9 g" in out
    assert "by the newer line: 200.47 g" in out
    assert "Sources differ: At 20 °C" in out
    assert "2010, Table A2.2; Vavrinecz 1962" in out


# Mohos 2010, Table A2.2 and Vavrinecz 1962: 203.9 and 200.5 g in 100 g of water at 20 °C
def test_solubility_is_a_range_at_every_heat():
    """The two lines are both given, part by less than 2.3 %, and cross near 60 °C."""
    for celsius in range(0, 101, 5):
        found = sucrose.solubility(celsius)
        assert found["newer_g_per_100_g_water"] == pytest.approx(found["g_per_100_g_water"], rel=0.023)
    cold, warm = sucrose.solubility(20), sucrose.solubility(70)
    assert cold["newer_g_per_100_g_water"] < cold["g_per_100_g_water"]
    assert warm["newer_g_per_100_g_water"] > warm["g_per_100_g_water"]


@given(st.floats(64.5, 82.6))
def test_each_line_is_undone_by_its_own_inverse(percent):
    """At the heat where a syrup is saturated by a line, that line holds just this strength and no more."""
    found = sucrose.saturation_temperature(percent)
    assert sucrose.solubility(found["saturated_c"])["sugar_percent"] == pytest.approx(percent, abs=1e-9)
    assert sucrose.solubility(found["newer_saturated_c"])["newer_sugar_percent"] == pytest.approx(percent, abs=1e-9)
    assert sucrose.supersaturation(percent, found["saturated_c"])["times_saturated"] == pytest.approx(1, abs=1e-9)
    newer = sucrose.supersaturation(percent, found["newer_saturated_c"])
    assert newer["newer_times_saturated"] == pytest.approx(1, abs=1e-9)


# Browne 1912 and Starzak and Peacock 1997 part most from 70 to 80 %
@pytest.mark.parametrize(("sugar", "modern", "older"), [(70, 4.99, 6.5), (74, 6.33, 8.4), (80, 9.46, 12.0)])
def test_boiling_points_are_given_by_both_sources(sugar, modern, older):
    """The two figures are both there, and a syrup that boils at the older one may be of this strength or stronger."""
    found = sucrose.syrup_boiling_point(sugar)
    assert found["over_water_k"] == pytest.approx(modern, abs=0.05)
    assert found["older_c"] - found["boils_c"] == pytest.approx(older - modern, abs=0.1)
    turned = sucrose.strength_at_boil(found["older_c"])
    assert turned["lowest_percent"] == pytest.approx(sugar, abs=0.1)
    assert turned["sugar_percent"] > sugar


@given(st.floats(50, 300))
def test_an_oven_setting_comes_with_the_range_of_the_fan(still):
    """The usual figure lies in the range, which is as wide as the published ones, 14 to 30 degrees."""
    found = oven.fan_equivalent(still)
    assert found["fan_low_c"] < found["fan_c"] < found["fan_high_c"]
    assert found["fan_high_c"] - found["fan_low_c"] == pytest.approx(16)


def test_margins_are_given_by_the_careful_and_the_usual_figure():
    """33 % fat whips by one source and not by the other; a panade of 65 °C is too hot but not yet at failure."""
    fat = cream_checks.whipping_fat(33)
    assert (fat["over_least_percent"], fat["over_sure_percent"]) == (3, -2)
    panade = eggs.egg_into_panade(65)
    assert (panade["to_limit_k"], panade["to_failure_k"]) == (-5, 5)


def test_seized_chocolate_gets_a_band():
    """A kilogram is given 200 g of water at the very least and 260 to 330 g to be safe."""
    found = chocolate.liquid_for_seized(1000)
    assert [found[name] for name in ("least_water_g", "water_low_g", "water_high_g")] == pytest.approx([200, 260, 330])


# Crank; diffusion in cherry 1.24e-10 m2/s and in sapodilla 2.3e-10
def test_soaking_is_a_span_of_hours():
    """The slow and the fast fruit part as their published figures do."""
    found = syrup.soaking_time(5)
    assert found["hours_high_h"] / found["hours_low_h"] == pytest.approx(2.3 / 1.24, rel=1e-9)
