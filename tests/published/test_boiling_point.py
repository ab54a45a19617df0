"""Pressure and boiling point of water against the standard atmosphere and the IAPWS saturation line."""

from __future__ import annotations

import psychrolib
import pytest

from troubleshoot.kitchen import oven

#: Height in m, pressure in kPa (ISO 2533 / ASHRAE Handbook Fundamentals 2017 ch. 1 eq. 3, worked with psychrolib),
#: boiling point in °C (IAPWS-IF97 worked with the iapws package; IAPWS-95 agrees to 0.01 K).
BY_HEIGHT = [
    (0, 101.325, 99.97), (100, 100.129, 99.64), (200, 98.945, 99.31), (300, 97.773, 98.98), (305, 97.714, 98.96),
    (400, 96.611, 98.64), (500, 95.461, 98.31), (600, 94.322, 97.98), (700, 93.194, 97.65), (800, 92.076, 97.31),
    (900, 90.97, 96.98), (1000, 89.875, 96.65), (1200, 87.716, 95.98), (1400, 85.599, 95.32), (1500, 84.556, 94.98),
    (1600, 83.523, 94.65), (1800, 81.489, 93.98), (2000, 79.495, 93.32), (2250, 77.058, 92.48), (2500, 74.682, 91.64),
    (2750, 72.366, 90.81), (3000, 70.108, 89.97), (3500, 65.764, 88.3), (4000, 61.64, 86.62), (4500, 57.728, 84.94),
    (5000, 54.02, 83.25),
]  # fmt: skip

#: Pressure in kPa and boiling point in °C (IAPWS-IF97, worked with the iapws package).
BY_PRESSURE = [
    (50.0, 81.317), (55.0, 83.709), (60.0, 85.926), (65.0, 87.993), (70.0, 89.932), (75.0, 91.758), (80.0, 93.485),
    (85.0, 95.125), (90.0, 96.687), (92.5, 97.441), (95.0, 98.178), (97.5, 98.9), (100.0, 99.606), (101.325, 99.974),
    (102.5, 100.298), (105.0, 100.976),
]  # fmt: skip

#: Temperature in °C and saturation pressure in kPa (IAPWS-IF97), where the calculation reaches.
SATURATION = [
    (70, 31.2006), (80, 47.4147), (85, 57.8675), (90, 70.1824), (95, 84.6089), (100, 101.418), (105, 120.9021),
    (110, 143.376), (120, 198.6654),
]  # fmt: skip


@pytest.mark.parametrize(("height", "pressure", "boils"), BY_HEIGHT)
def test_pressure_and_boiling_point_by_height(height, pressure, boils):
    """Pressure agrees to the table's last digit, the boiling point to well within 0.05 K."""
    assert oven.pressure_at_altitude(height)["pressure_kpa"] == pytest.approx(pressure, abs=0.001)
    assert oven.boiling_point_at_altitude(height)["boils_c"] == pytest.approx(boils, abs=0.011)


@pytest.mark.parametrize(("pressure", "boils"), BY_PRESSURE)
def test_boiling_point_by_pressure(pressure, boils):
    """The boiling point agrees to the table's last digit."""
    assert oven.boiling_point_at_pressure(pressure)["boils_c"] == pytest.approx(boils, abs=0.0011)


@pytest.mark.parametrize(("celsius", "pressure"), SATURATION)
def test_saturation_line_backwards(celsius, pressure):
    """Water boils at the temperature whose saturation pressure this is."""
    assert oven.boiling_point_at_pressure(pressure)["boils_c"] == pytest.approx(celsius, abs=0.002)


#: Temperature in °C and saturation pressure in kPa (IAPWS-IF97), in a room.
COLD = [
    (5, 0.8726), (10, 1.2282), (15, 1.7057), (20, 2.3392), (25, 3.1697), (30, 4.2467), (40, 7.3844), (50, 12.3513),
    (60, 19.9458),
]  # fmt: skip


@pytest.mark.parametrize(("celsius", "pressure"), [*COLD, *SATURATION])
def test_saturation_line_forwards(celsius, pressure):
    """The saturation pressure agrees to the table's last digit."""
    assert oven.saturation_pressure_kpa(celsius) == pytest.approx(pressure, abs=0.000051)


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
