"""Checks that every calculation makes on the numbers it is given.

Each check returns the number as a float or raises :class:`AmountError` with one plain sentence.
Nothing here rounds: rounding is for showing, and belongs to the place that shows.
"""

from __future__ import annotations

import math

from troubleshoot.errors import AmountError

#: Below this a number is nothing: no scale shows it, and dividing by it has no meaning.
LEAST = 1e-6


def finite(value: float, what: str) -> float:
    """Return ``value``; it must be a real, finite number."""
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
        raise AmountError(f"{what} must be a number.")
    return float(value)


def positive(value: float, what: str, unit: str = "") -> float:
    """Return ``value``; it must be more than nothing, and enough to divide by."""
    number = finite(value, what)
    if number < LEAST:
        raise AmountError(f"{what} must be more than {written(0, unit)}, and {written(number, unit)} was given.")
    return number


def not_negative(value: float, what: str, unit: str = "") -> float:
    """Return ``value``; it may be nothing but not less."""
    number = finite(value, what)
    if number < 0:
        raise AmountError(f"{what} cannot be less than {written(0, unit)}, and {written(number, unit)} was given.")
    return number


def within(value: float, low: float, high: float, what: str, unit: str = "") -> float:
    """Return ``value``; it must lie from ``low`` to ``high``, both included."""
    number = finite(value, what)
    if not low <= number <= high:
        span = f"from {written(low, unit)} to {written(high, unit)}"
        raise AmountError(f"{what} must be {span}, and {written(number, unit)} was given.")
    return number


def written(value: float, unit: str = "") -> str:
    """Return the number as a person writes it, with its unit."""
    number = f"{value:.6g}"
    return f"{number} {unit}" if unit else number
