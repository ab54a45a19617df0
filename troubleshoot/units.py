"""Quantities as people write them ("140 F", "2 oz", "4500 ft"), turned into the program's own units.

Used at the door only: behind it every number already has the unit that its sign or batch figure names.
One table holds every unit.  A wrong dimension, an unknown spelling or an unclear measure is refused in plain words.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

from troubleshoot.errors import AmountError
from troubleshoot.kitchen.oven import celsius_to_gas_mark, gas_mark_to_celsius
from troubleshoot.problems import nearest

#: Longest text that is read as a quantity.
LONGEST = 60


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit: base value = factor x value + offset; the base of each dimension is its first unit in the table."""

    name: str
    dimension: str
    factor: float
    spellings: tuple[str, ...] = ()
    offset: float = 0.0


GAS_MARK = "gas mark"

#: Every unit the program reads.
TABLE: tuple[Unit, ...] = (
    Unit("degC", "temperature", 1.0, ("c", "celsius", "centigrade")),
    Unit("degF", "temperature", 5.0 / 9.0, ("f", "fahrenheit"), -160.0 / 9.0),
    Unit("K", "temperature", 1.0, ("kelvin",), -273.15),
    Unit(GAS_MARK, "temperature", math.nan, ("gas", "mark", "gasmark")),
    Unit("g", "weight", 1.0, ("gram", "grams", "gramme", "grammes", "gr", "gm")),
    Unit("mg", "weight", 0.001, ("milligram", "milligrams")),
    Unit("kg", "weight", 1000.0, ("kilo", "kilos", "kilogram", "kilograms", "kilogramme", "kilogrammes")),
    Unit("oz", "weight", 28.349523125, ("ounce", "ounces")),
    Unit("lb", "weight", 453.59237, ("lbs", "pound", "pounds")),
    Unit("min", "time", 1.0, ("mins", "minute", "minutes")),
    Unit("s", "time", 1.0 / 60.0, ("sec", "secs", "second", "seconds")),
    Unit("h", "time", 60.0, ("hr", "hrs", "hour", "hours")),
    Unit("day", "time", 1440.0, ("days", "d")),
    Unit("m", "length", 1.0, ("metre", "metres", "meter", "meters")),
    Unit("mm", "length", 0.001, ("millimetre", "millimetres", "millimeter", "millimeters")),
    Unit("cm", "length", 0.01, ("centimetre", "centimetres", "centimeter", "centimeters")),
    Unit("km", "length", 1000.0, ("kilometre", "kilometres", "kilometer", "kilometers")),
    Unit("in", "length", 0.0254, ("inch", "inches", '"')),
    Unit("ft", "length", 0.3048, ("foot", "feet", "'")),
    Unit("ml", "volume", 1.0, ("millilitre", "millilitres", "milliliter", "milliliters", "cc")),
    Unit("cl", "volume", 10.0, ("centilitre", "centilitres")),
    Unit("dl", "volume", 100.0, ("decilitre", "decilitres")),
    Unit("l", "volume", 1000.0, ("litre", "litres", "liter", "liters")),
    Unit("tsp", "volume", 5.0, ("teaspoon", "teaspoons")),
    Unit("tbsp", "volume", 15.0, ("tablespoon", "tablespoons")),
    Unit("US cup", "volume", 236.5882365, ("us cups", "cup", "cups")),
    Unit("US fl oz", "volume", 29.5735295625, ("us fluid ounce", "us fluid ounces")),
    Unit("UK fl oz", "volume", 28.4130625, ("uk fluid ounce", "uk fluid ounces", "imperial fluid ounce")),
    Unit("US pint", "volume", 473.176473, ("us pints",)),
    Unit("UK pint", "volume", 568.26125, ("uk pints", "imperial pint", "imperial pints")),
    Unit("kPa", "pressure", 1.0, ("kilopascal", "kilopascals")),
    Unit("hPa", "pressure", 0.1, ("mbar", "millibar", "millibars", "hectopascal", "hectopascals")),
    Unit("ratio", "share", 1.0, ("times", "x", "fold")),
    Unit("%", "share", 0.01, ("percent", "per cent", "pct")),
    Unit("pieces", "count", 1.0, ("piece", "pcs", "pc")),
    Unit("dozen", "count", 12.0, ("dozens", "doz")),
)

#: Measures that differ between countries, with what to write.
_UNCLEAR: dict[str, str] = {
    **dict.fromkeys(("fl oz", "floz", "fluid ounce", "fluid ounces"), "'UK fl oz' or 'US fl oz'"),
    **dict.fromkeys(("pint", "pints", "pt"), "'UK pint' or 'US pint'"),
}

_SPELLINGS: dict[str, Unit] = {spelling: unit for unit in TABLE for spelling in (unit.name.lower(), *unit.spellings)}

_FRACTIONS = {"¼": "1/4", "½": "1/2", "¾": "3/4", "⅓": "1/3", "⅔": "2/3", "⅛": "1/8"}
_NUMBER = r"(?:\d+\s+\d+/\d+|\d+/\d+|\d{1,3}(?:,\d{3})+(?:\.\d+)?|\d+(?:[.,]\d+)?|\.\d+)"
_PART = re.compile(rf"\s*({_NUMBER})\s*([^\d\s.,/][^\d]*?)?\s*(?=$|\d|\.\d)")
_RANGE = re.compile(r"\d\s*[a-z°%]*\s*(?:-|\bto\b)\s*\d")
_GAS = re.compile(rf"(?:gas\s*mark|gas|mark)\s*({_NUMBER})$")


def convert(value: float, unit: str, to: str) -> float:
    """Return ``value`` turned from ``unit`` into ``to``; a value without a unit (``""``) is already in ``to``.

    Errors: an unknown or unclear unit, two dimensions that do not match, a temperature below absolute zero.
    The result keeps twelve figures, so that 140 °F is 60 °C and not a hair more.
    Spoons are the metric 5 and 15 ml, a cup is the US cup.  Source: definitions; gas marks as in the kitchen.
    """
    target = find_unit(to)
    source = find_unit(unit) if unit else target
    if source.dimension != target.dimension:
        raise AmountError(
            f"'{unit}' is a {source.dimension}, and a {target.dimension} is wanted here. Write it in {target.name}."
        )
    if not math.isfinite(value):
        raise AmountError("The number must be finite.")
    base = _to_base(value, source)
    if source.dimension == "temperature" and base < -273.15 - 1e-9:
        raise AmountError("No temperature lies below absolute zero, -273 °C.")
    return float(f"{_from_base(base, target):.12g}")


def parse_quantity(text: str) -> tuple[float, str]:
    """Return the number and the unit's own name in a text such as "140 F", "1 1/2 oz", "1 h 30 min" or "gas mark 4".

    A bare number gives the unit ``""``.  Several parts are added up in the unit of the first ("2 lb 3 oz").
    Commas part thousands before three digits ("4,500 ft") and stand for a decimal point otherwise ("2,5 kg").
    Errors: no number, an unknown unit, parts of different dimensions, a text of over 60 characters.
    """
    if len(text) > LONGEST:
        raise AmountError(f"A quantity is a number and a unit, at most {LONGEST} characters.")
    plain, sign = _plain(text)
    if _RANGE.search(plain):
        raise AmountError(f"'{text.strip()}' is a range. Write one number, the one you measured or the middle.")
    gas = _GAS.fullmatch(plain)
    if gas:
        return sign * _number(gas[1]), GAS_MARK
    parts = _parts(plain, text)
    number, unit = parts[0]
    if len(parts) > 1:
        if not all(name for _, name in parts) or find_unit(unit).dimension == "temperature":
            raise AmountError(f"'{text.strip()}' is not one quantity. Write a number and a unit, such as '120 g'.")
        number += sum(convert(value, name, unit) for value, name in parts[1:])
    return sign * number, unit


def find_unit(word: str) -> Unit:
    """Return the unit of a spelling.  Errors: an unknown spelling (the nearest is named), an unclear measure."""
    key = _unit_key(word)
    if key in _UNCLEAR:
        raise AmountError(f"'{word}' differs between countries. Write {_UNCLEAR[key]}.")
    if key not in _SPELLINGS:
        near = nearest(key, _SPELLINGS)
        usual = f"did you mean '{near}'?" if near else "write g, oz, C, F, min, h, mm, m, ft or %"
        raise AmountError(f"There is no unit '{word}'; {usual}")
    return _SPELLINGS[key]


def _to_base(value: float, unit: Unit) -> float:
    if unit.name == GAS_MARK:
        return gas_mark_to_celsius(value)["conventional_c"]
    return value * unit.factor + unit.offset


def _from_base(base: float, unit: Unit) -> float:
    if unit.name == GAS_MARK:
        return celsius_to_gas_mark(base)["gas_mark"]
    return (base - unit.offset) / unit.factor


def _unit_key(word: str) -> str:
    key = re.sub(r"[°º]|\bdegrees?\b|\bdeg\b\.?", " ", word.strip().lower())
    key = " ".join(key.split()).rstrip(".")
    return "us " + key.removeprefix("american ") if key.startswith("american ") else key


def _plain(text: str) -> tuple[str, float]:
    plain = text.strip().lower().replace("−", "-").replace("–", "-")
    for glyph, written in _FRACTIONS.items():
        plain = plain.replace(glyph, f" {written}")
    plain = plain.strip()
    return (plain[1:].strip(), -1.0) if plain.startswith("-") else (plain.removeprefix("+").strip(), 1.0)


def _parts(plain: str, text: str) -> list[tuple[float, str]]:
    parts: list[tuple[float, str]] = []
    at = 0
    while at < len(plain):
        found = _PART.match(plain, at)
        if found is None:
            raise AmountError(f"'{text.strip()}' is not a quantity. Write a number and a unit, such as '120 g'.")
        word = (found[2] or "").strip()
        parts.append((_number(found[1]), find_unit(word).name if word else ""))
        at = found.end()
    if not parts:
        raise AmountError("Nothing was written. Write a number and a unit, such as '120 g'.")
    return parts


def _number(written: str) -> float:
    whole, _, rest = written.rpartition(" ")
    if "/" in rest:
        top, bottom = rest.split("/")
        if int(bottom) == 0:
            raise AmountError("A fraction cannot be divided by 0.")
        return (float(whole) if whole.strip() else 0.0) + int(top) / int(bottom)
    if re.fullmatch(r"[1-9]\d{0,2}(,\d{3})+(\.\d+)?", rest):
        return float(rest.replace(",", ""))
    return float(rest.replace(",", "."))
