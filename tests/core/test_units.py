"""What reading a quantity at the door promises."""

from __future__ import annotations

import itertools
import math

import pytest

from troubleshoot.errors import AmountError
from troubleshoot.units import GAS_MARK, TABLE, convert, find_unit, parse_quantity


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("140 F", (140, "degF")),
        ("2 oz", (2, "oz")),
        ("4500 ft", (4500, "ft")),
        ("4,500 ft", (4500, "ft")),
        ("2,5 kg", (2.5, "kg")),
        ("0,125 kg", (0.125, "kg")),
        ("100g", (100, "g")),
        ("1 1/2 oz", (1.5, "oz")),
        ("½ cup", (0.5, "US cup")),
        ("1½ tsp", (1.5, "tsp")),
        ("-18 °C", (-18, "degC")),
        ("−18°C", (-18, "degC")),
        ("180 degrees C", (180, "degC")),
        ("gas mark 4", (4, GAS_MARK)),
        ("Gas 1/2", (0.5, GAS_MARK)),
        ("1 h 30 min", (1.5, "h")),
        ("2 lb 3 oz", (2.1875, "lb")),
        ("5' 3\"", (5.25, "ft")),
        ("3 UK fl oz", (3, "UK fl oz")),
        ("7 per cent", (7, "%")),
        ("12.5", (12.5, "")),
    ],
)
def test_quantities_are_read_as_people_write_them(text, expected):
    """Number and unit come out of the usual spellings."""
    number, unit = parse_quantity(text)
    assert (number, unit) == (pytest.approx(expected[0]), expected[1])


@pytest.mark.parametrize(
    "text", ["", "  ", "abc", "g", "12 g 13", "1h30", "1 2 3", "1.5.2 g", "10 C 5 C", "1/0 g", "g 12", "1e9 g"]
)
def test_what_is_no_quantity_is_refused(text):
    """A text that is not one number with one unit is refused with what to write."""
    with pytest.raises(AmountError):
        parse_quantity(text)


@pytest.mark.parametrize("text", ["5-10 min", "5 to 10 min", "35–55 °C"])
def test_a_range_is_not_a_number(text):
    """A range is refused, and one number is asked for."""
    with pytest.raises(AmountError, match="one number"):
        parse_quantity(text)


def test_a_long_text_is_refused_before_it_is_read():
    """A text over the bound is refused."""
    with pytest.raises(AmountError, match="at most"):
        parse_quantity("1" * 61)


def test_a_misspelt_unit_names_its_neighbour():
    """An unknown unit is answered with the nearest known one."""
    with pytest.raises(AmountError, match="did you mean 'gram'"):
        parse_quantity("3 gramz")


@pytest.mark.parametrize("word", ["fl oz", "pint"])
def test_measures_that_differ_between_countries_are_asked_back(word):
    """Fluid ounces and pints must say whose."""
    with pytest.raises(AmountError, match="UK"):
        find_unit(word)


@pytest.mark.parametrize(
    ("value", "unit", "to", "expected"),
    [
        (140, "F", "degC", 60),
        (4500, "ft", "m", 1371.6),
        (2, "oz", "g", 56.69904625),
        (90, "s", "min", 1.5),
        (50, "%", "ratio", 0.5),
        (3, "", "g", 3),
    ],
)
def test_conversions_come_out_without_noise(value, unit, to, expected):
    """The usual conversions give the exact number."""
    assert convert(value, unit, to) == expected


UNITS = [unit for unit in TABLE if unit.name != GAS_MARK]
PAIRS = [(a, b) for a, b in itertools.permutations(UNITS, 2)]


@pytest.mark.parametrize(
    ("a", "b"), [pair for pair in PAIRS if pair[0].dimension == pair[1].dimension], ids=lambda u: u.name
)
def test_conversions_undo_each_other(a, b):
    """There and back gives the same number, for every pair of units of one dimension."""
    assert convert(convert(37.5, a.name, b.name), b.name, a.name) == pytest.approx(37.5, rel=1e-9)


def test_two_dimensions_never_mix():
    """Every pair of units of two dimensions is refused, and the wanted unit is named."""
    for a, b in PAIRS:
        if a.dimension != b.dimension:
            with pytest.raises(AmountError, match="is wanted here"):
                convert(1, a.name, b.name)


def test_every_spelling_means_one_unit():
    """No spelling stands twice in the table."""
    spellings = [spelling for unit in TABLE for spelling in (unit.name.lower(), *unit.spellings)]
    assert len(spellings) == len(set(spellings))


def test_gas_marks_become_degrees():
    """Gas mark 4 is about 177 degrees, and 180 degrees is mark 4."""
    assert convert(4, "gas mark", "degC") == pytest.approx(176.7, abs=0.05)
    assert convert(180, "degC", "gas mark") == 4


@pytest.mark.parametrize(
    ("value", "unit"), [(-300, "degC"), (-500, "degF"), (-1, "K"), (math.inf, "degC"), (math.nan, "degC")]
)
def test_impossible_temperatures_are_refused(value, unit):
    """Nothing lies below absolute zero or beyond all numbers."""
    with pytest.raises(AmountError):
        convert(value, unit, "degC")
