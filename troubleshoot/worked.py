"""One calculation from what a person typed to figures in words: the same for the command and the window."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from troubleshoot import units
from troubleshoot.advice.wording import Wording
from troubleshoot.errors import AmountError
from troubleshoot.kitchen import registry
from troubleshoot.kitchen.amounts import written
from troubleshoot.kitchen.card import Card, CardInput
from troubleshoot.kitchen.inputs import Choice, Input, Record
from troubleshoot.kitchen.outcomes import outcome
from troubleshoot.problems import choose_from

#: A reading of a record: a time, a temperature, and perhaps its scale.
_READING = re.compile(r"(\d{1,2}:\d{2}|\d+(?:\.\d+)?) +(-?\d+(?:\.\d+)?)(?: *°?([CFcf]))?(?=\s*(?:[,;\n]|$))")

#: Units of inputs as a person reads them.
UNIT_WORDS: Mapping[str, str] = {"degC": "°C", "degF": "°F", "ratio": "", "pieces": "pieces", "": ""}


@dataclass(frozen=True, slots=True)
class Figure:
    """One result: its own name, its name in words, the number in its own unit, and number with unit in words."""

    name: str
    words: str
    value: float
    shown: str


def read_input(given: CardInput, text: str, fahrenheit: bool = False) -> float | str:
    """Return what was typed for an input, in the input's own unit.

    A bare number is in the input's unit, or in °F for a temperature when ``fahrenheit`` is set.
    Errors: a word that is none of the answers, a unit of another kind, a number outside the bounds.
    """
    about = given.about
    if isinstance(about, Choice):
        word = text.strip().lower()
        if word not in about.answers:
            raise AmountError(f"{about.words}: there is no '{text.strip()}'; {choose_from(word, about.answers)}")
        return word
    if isinstance(about, Record):
        return _record(text, fahrenheit)
    number, unit = units.parse_quantity(text)
    if about.unit == "K":
        number = _difference(number, unit, fahrenheit)
    elif unit and about.unit == "":
        raise AmountError(f"{about.words} is a plain number. Write it without '{UNIT_WORDS.get(unit, unit)}'.")
    elif unit or (fahrenheit and about.unit == "degC"):
        number = units.convert(number, unit or "degF", about.unit)
    if not about.low <= number <= about.high:
        words = f"'{label(given)}'" if "," in label(given) else label(given)
        raise AmountError(f"{words} must be {bounds(about)}, and {_typed(about, number)} was given.")
    return number


def work_out(
    card: Card, typed: Mapping[str, str], fahrenheit: bool = False
) -> tuple[dict[str, float | str], dict[str, float]]:
    """Return the inputs as read and the figures that the calculation gives.

    Errors: an input that the calculation does not have, one that is missing, and all of :func:`read_input`.
    """
    known = {given.name: given for given in card.inputs}
    for name in typed:
        if name not in known:
            raise AmountError(f"{card.name} has no input '{name}'; {choose_from(name, known)}")
    missing = [given.name for given in card.inputs if given.needed and given.name not in typed]
    if missing:
        raise AmountError(f"{card.name} also needs {', '.join(missing)}; write {missing[0]}=…")
    inputs = {name: read_input(known[name], text, fahrenheit) for name, text in typed.items()}
    return inputs, dict(registry.FUNCTIONS[card.name].call(**inputs))


def figures(result: Mapping[str, float], wording: Wording) -> tuple[Figure, ...]:
    """Return the figures of a result with their names and units in words."""
    made = []
    for name, value in result.items():
        words, unit = outcome(name)
        made.append(Figure(name, wording.text(words), value, shown(value, unit, wording)))
    return tuple(made)


def shown(value: float, unit: str, wording: Wording) -> str:
    """Return a figure with its unit, rounded as it can be weighed, read or timed; nothing is rounded before this."""
    if unit == "degC":
        number = value * 9 / 5 + 32 if wording.fahrenheit else value
        return f"{_trim(number, 1)} {'°F' if wording.fahrenheit else '°C'}"
    if unit == "K":
        degrees = _trim(value * 9 / 5 if wording.fahrenheit else value, 1)
        word = "degree" if degrees in ("1", "-1") else "degrees"
        return f"{degrees} {word} {'Fahrenheit' if wording.fahrenheit else 'Celsius'}"
    if unit == "degF":
        return f"{_trim(value, 0)} °F"
    if unit == "min":
        return _minutes(value)
    if unit == "h":
        return f"{_trim(value, 1)} hours"
    if unit == "s":
        return f"{_trim(value, 0)} seconds"
    if unit in ("g", "ml"):
        return f"{_trim(value, 1 if abs(value) < 100 else 0)} {unit}"
    if unit == "share":
        return f"{_trim(100 * value, 1)} %"
    if unit == "%":
        return f"{_trim(value, 1)} %"
    if unit in ("m", "mm"):
        return f"{_trim(value, 0)} {unit}"
    if unit in ("ratio", "times"):
        return _trim(value, 3 if abs(value) < 0.1 else 2) + (" times" if unit == "times" else "")
    return f"{value:.5g} {unit}".strip()


def label(given: CardInput, wording: Wording | None = None) -> str:
    """Return the name of an input in words."""
    return (wording or Wording()).text(given.about.words)


def bounds(about: Input, wording: Wording | None = None) -> str:
    """Return the span of an input in words, with its unit."""
    return f"from {_typed(about, about.low, wording)} to {_typed(about, about.high, wording)}"


def unit_words(about: Input, wording: Wording | None = None) -> str:
    """Return the unit of an input as a person reads it."""
    if about.unit == "degC" and wording is not None and wording.fahrenheit:
        return "°F"
    return UNIT_WORDS.get(about.unit, "degrees" if about.unit == "K" else about.unit)


def usual_text(given: CardInput, wording: Wording, known: Mapping[str, float | str] | None = None) -> str:
    """Return the value that stands in the input's field at first: what is known of the kitchen, else a usual one."""
    about = given.about
    value = (known or {}).get(given.name, given.usual)
    if isinstance(about, Record) and wording.fahrenheit:
        return _rewritten(str(value), lambda celsius: _trim(celsius * 9 / 5 + 32, 1))
    if isinstance(value, str) or not isinstance(about, Input):
        return str(value)
    if about.unit == "degC" and wording.fahrenheit:
        return _trim(value * 9 / 5 + 32, 1)
    return _trim(value, 3)


def _typed(about: Input, value: float, wording: Wording | None = None) -> str:
    if about.unit == "degC" and wording is not None and wording.fahrenheit:
        value = value * 9 / 5 + 32
    return written(value, unit_words(about, wording))


def _record(text: str, fahrenheit: bool) -> str:
    """Return a record of readings with its temperatures in °C; each may bring a scale of its own."""

    def celsius(match: re.Match[str]) -> str:
        scale = (match[3] or ("F" if fahrenheit else "C")).upper()
        value = float(match[2])
        return f"{match[1]} {(value - 32) * 5 / 9 if scale == 'F' else value:.6g}"

    return _READING.sub(celsius, text)


def _rewritten(text: str, put: Callable[[float], str]) -> str:
    return _READING.sub(lambda match: f"{match[1]} {put(float(match[2]))}", text)


def _difference(number: float, unit: str, fahrenheit: bool) -> float:
    """Return a difference of temperature in K; a plain number is one of the scale in use."""
    if unit == "degF" or (not unit and fahrenheit):
        return number * 5 / 9
    if unit not in ("", "degC", "K"):
        raise AmountError(f"'{unit}' is no difference of temperature. Write it in degrees.")
    return number


def _minutes(value: float) -> str:
    if abs(value) < 10:
        text = _trim(value, 1)
        return f"{text} minute" + ("" if text == "1" else "s")
    whole = round(value)
    if abs(whole) < 180:
        return f"{whole} minutes"
    sign, hours, rest = "-" if whole < 0 else "", abs(whole) // 60, abs(whole) % 60
    return f"{sign}{hours} hours" + (f" {rest} minutes" if rest else "")


def _trim(value: float, places: int) -> str:
    text = f"{value:.{places}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text
