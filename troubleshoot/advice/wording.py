"""Texts of the rule base as a person reads them: temperatures, amounts and frequencies put into words."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass

from troubleshoot.kitchen.oven import FAN_DROP_K
from troubleshoot.knowledge.model import Vocabulary

#: ``{c:50}`` a temperature, ``{oven:180}`` an oven setting without the fan, ``{name_g}`` a worked-out amount.
_PLACEHOLDER = re.compile(r"\{(?:(c|oven):(-?\d+(?:\.\d+)?)|([a-z][a-z0-9_]*))\}")

#: Parts of one that have a sign of their own.
_FRACTIONS: Mapping[float, str] = {0.0: "", 0.25: "¼", 0.5: "½", 0.75: "¾", 1.0: ""}

#: Shown where an amount cannot be worked out from what was given.
UNKNOWN_AMOUNT = "(an amount that needs your weights)"


@dataclass(frozen=True, slots=True)
class Wording:
    """How temperatures are shown: in Celsius or Fahrenheit, and for an oven with or without its fan, or both."""

    fahrenheit: bool = False
    fan: bool | None = None

    def temperature(self, celsius: float) -> str:
        """Return a temperature with its unit, in the chosen scale, rounded to whole degrees."""
        if self.fahrenheit:
            return f"{_round_half_up(celsius * 9 / 5 + 32)} °F"
        return f"{_plain(celsius)} °C"

    def oven(self, conventional_c: float) -> str:
        """Return an oven setting; both settings are named when the kind of oven is not known."""
        with_fan = self.temperature(conventional_c - FAN_DROP_K)
        if self.fan is True:
            return f"{with_fan} with the fan"
        if self.fan is False:
            return self.temperature(conventional_c)
        return f"{self.temperature(conventional_c)} ({with_fan} with the fan)"

    def text(self, text: str, amounts: Mapping[str, float] | None = None) -> str:
        """Return ``text`` with every placeholder put into words."""

        def put(match: re.Match[str]) -> str:
            kind, number, name = match.groups()
            if kind == "c":
                return self.temperature(float(number))
            if kind == "oven":
                return self.oven(float(number))
            if amounts is None or name not in amounts:
                return UNKNOWN_AMOUNT
            return self.amount(name, amounts[name])

        return _PLACEHOLDER.sub(put, text)

    def quantity(self, value: float, unit: str) -> str:
        """Return a figure with its unit as people write it."""
        if unit == "degC":
            return self.temperature(value)
        if unit == "g":
            return f"{_grams(value)} g"
        return f"{_round_half_up(value) if unit == 'pieces' else _plain(value)} {unit}".strip()

    def amount(self, name: str, value: float) -> str:
        """Return a worked-out amount with the unit its name ends in, rounded as a scale or a clock shows it."""
        if name.endswith("_g"):
            return f"{_grams(value)} g"
        if name.endswith("_min"):
            minutes = max(1, _round_half_up(value))
            return f"{minutes} minute" + ("" if minutes == 1 else "s")
        if name.endswith("_c"):
            return self.temperature(_round_half_up(value))
        if name.endswith("_percent"):
            return f"{value:.1f} %"
        if name.endswith("_ratio"):
            return f"{_part(value)} to 1"
        return str(_round_half_up(value))


def placeholders(text: str) -> frozenset[str]:
    """Return the names of the amounts that ``text`` asks for."""
    return frozenset(match[3] for match in _PLACEHOLDER.finditer(text) if match[3])


def sureness(probability: float, vocabulary: Vocabulary) -> str:
    """Return the word for how sure a probability is."""
    return next((word for least, word in vocabulary.sureness if probability >= least), vocabulary.sureness[-1][1])


def weight_word(decibans: float) -> str:
    """Return the word for a weight: 20 decibans are a hundred to one, 10 ten to one, 5 about three to one."""
    weight = abs(decibans)
    return "decides nearly alone" if weight >= 20 else "strong" if weight >= 10 else "fair" if weight >= 5 else "slight"


def percent(probability: float) -> str:
    """Return a probability as a percentage that never claims certainty; 0 only follows from a rule-out."""
    if probability == 0:
        return "ruled out"
    whole = _round_half_up(probability * 100)
    if whole < 1:
        return "under 1 %"
    if whole >= 100:
        return "over 99 %"
    return f"{whole} %"


def _part(value: float) -> str:
    """Return one side of a ratio as it is said at the bench: 1, 1½, 0.67."""
    whole, rest = divmod(value, 1.0)
    for fraction, sign in _FRACTIONS.items():
        if abs(rest - fraction) < 0.005:
            return f"{whole + (fraction == 1.0):.0f}{sign}" if whole or not sign else sign
    return f"{value:.2f}".rstrip("0").rstrip(".")


def _grams(value: float) -> str:
    if value < 10:
        return _plain(round(value * 2) / 2) if value >= 0.5 else f"{value:.1f}"
    return str(_round_half_up(value) if value < 500 else 5 * _round_half_up(value / 5))


def _plain(value: float) -> str:
    return f"{value:.1f}".removesuffix(".0")


def _round_half_up(value: float) -> int:
    return math.floor(value + 0.5)
