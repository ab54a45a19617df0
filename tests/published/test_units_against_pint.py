"""Every unit of the table against the pint library."""

from __future__ import annotations

import pint
import pytest

from troubleshoot.units import TABLE, convert

LIBRARY = pint.UnitRegistry()

#: Our name, the library's name.  Metric spoons and the gas mark have no counterpart there.
NAMES = {
    "degC": "degC", "degF": "degF", "K": "kelvin", "g": "gram", "mg": "milligram", "kg": "kilogram", "oz": "ounce",
    "lb": "pound", "min": "minute", "s": "second", "h": "hour", "day": "day", "m": "metre", "mm": "millimetre",
    "cm": "centimetre", "km": "kilometre", "in": "inch", "ft": "foot", "ml": "millilitre", "cl": "centilitre",
    "dl": "decilitre", "l": "litre", "US cup": "cup", "US fl oz": "fluid_ounce", "UK fl oz": "imperial_fluid_ounce",
    "US pint": "pint", "UK pint": "imperial_pint", "kPa": "kilopascal", "hPa": "hectopascal",
    "ratio": "dimensionless", "%": "percent",
}  # fmt: skip
WITHOUT = {"tsp", "tbsp", "gas mark", "pieces", "dozen"}
KNOWN = [unit for unit in TABLE if unit.name in NAMES]
PAIRS = [(a.name, b.name) for a in KNOWN for b in KNOWN if a.dimension == b.dimension]


def test_every_unit_is_compared_or_named_as_without_a_counterpart():
    """No unit of the table slips past the comparison."""
    assert {unit.name for unit in TABLE} == set(NAMES) | WITHOUT


@pytest.mark.parametrize(("unit", "to"), PAIRS)
def test_conversions_agree(unit, to):
    """Small, usual and large numbers convert as in the library."""
    for value in (0.25, 37.0, 4500.0):
        expected = LIBRARY.Quantity(value, NAMES[unit]).to(NAMES[to]).magnitude
        assert convert(value, unit, to) == pytest.approx(expected, rel=1e-10, abs=1e-10)


def test_spoons_are_metric():
    """Common practice: a teaspoon is 5 ml and a tablespoon 15 ml."""
    assert convert(1, "tsp", "ml") == 5
    assert convert(1, "tbsp", "tsp") == 3
