"""Pressure and boiling point of water against the standard atmosphere and the IAPWS saturation line."""

from __future__ import annotations

import psychrolib
import pytest

from troubleshoot.kitchen import oven


# IAPWS-IF97 release, table 36: verification values of the backward equation
@pytest.mark.parametrize(("megapascal", "kelvin"), [(0.1, 0.372755919e3)])
def test_verification_value_of_the_standard(megapascal, kelvin):
    """The standard's own verification value within reach is met to nine figures (value from memory)."""
    assert oven.boiling_point_at_pressure(1000 * megapascal)["boils_c"] + 273.15 == pytest.approx(kelvin, abs=1e-6)


@pytest.mark.parametrize("height", range(0, 5001, 250))
def test_pressure_against_a_general_library(height):
    """The standard atmosphere agrees with a general library for moist air at every height."""
    psychrolib.SetUnitSystem(psychrolib.SI)
    library = psychrolib.GetStandardAtmPressure(height) / 1000
    assert oven.pressure_at_altitude(height)["pressure_kpa"] == pytest.approx(library, rel=1e-9)


# On Food and Cooking, 2nd ed., ch. 12: 2 °F lower for each 1000 ft
@pytest.mark.parametrize("thousands", [1, 2, 3, 5])
def test_rule_of_thumb_by_feet(thousands):
    """The rule of two degrees Fahrenheit for a thousand feet holds within a fifth up to 5000 ft."""
    drop_k = oven.boiling_point_at_altitude(0)["boils_c"] - oven.boiling_point_at_altitude(304.8 * thousands)["boils_c"]
    assert drop_k * 9 / 5 == pytest.approx(2 * thousands, rel=0.2)
