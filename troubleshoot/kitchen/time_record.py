"""A record of time and temperature of cream or filled pieces, judged by the rules that are worked by.

A record is a text of readings, a time and a temperature each: "0 4, 30 9, 90 14" in minutes and °C, or with the time of
day, "12:30 4, 13:00 9, 14:10 14".  Between two readings the temperature is taken as a straight line.
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Mapping, Sequence

from troubleshoot.errors import AmountError
from troubleshoot.kitchen.amounts import within
from troubleshoot.kitchen.registry import kitchen_function
from troubleshoot.kitchen.safety import LIMITS

#: Rules that a record can be judged by: those of two countries, and the house's own.
SCHEMES = ("uk", "us", "own")

#: A record of more readings than this was not written by hand.
MOST_READINGS = 200

Reading = tuple[float, float]

_CLOCK = re.compile(r"(\d{1,2}):(\d{2})")
_READING = re.compile(r"\s*(\d{1,2}:\d{2}|\d+(?:\.\d+)?)\s+(-?\d+(?:\.\d+)?)\s*")
_DAY_MIN = 1440.0


def read_record(readings: str) -> tuple[Reading, ...]:
    """Return the readings of a record as minutes from the first one and °C.

    Errors: fewer than two readings, one that is not a time and a temperature, times that do not rise.  A time of day
    smaller than the one before it is one of the next day.
    """
    if not isinstance(readings, str):
        raise AmountError("The record must be written as times and temperatures, such as 0 4, 30 9, 90 14.")
    found: list[Reading] = []
    for part in re.split(r"[,;\n]", readings):
        match = _READING.fullmatch(part)
        if match is None:
            raise AmountError(
                f"'{part.strip()[:40]}' is no reading. Write a time and a temperature with a space between, "
                "such as 30 9 or 13:00 9, and a comma after each."
            )
        minutes, celsius = _minutes(match[1]), within(float(match[2]), -40, 100, "Each temperature", "°C")
        if found and ":" in match[1] and minutes < found[-1][0]:
            minutes += _DAY_MIN
        if found and minutes <= found[-1][0]:
            raise AmountError(f"The times must rise, and {match[1]} does not come after the one before it.")
        found.append((minutes, celsius))
    if not 2 <= len(found) <= MOST_READINGS:
        raise AmountError(f"A record needs 2 to {MOST_READINGS} readings, and {len(found)} was given.")
    return tuple((minutes - found[0][0], celsius) for minutes, celsius in found)


def spells_above(record: Sequence[Reading], limit_c: float) -> tuple[tuple[float, float], ...]:
    """Return the spells in which a record is above a limit, from and to in minutes from its first reading."""
    spells: list[tuple[float, float]] = []
    for (start, before), (end, after) in itertools.pairwise(record):
        if max(before, after) <= limit_c:
            continue
        crossing = start + (end - start) * (limit_c - before) / (after - before) if before != after else start
        begin = start if before > limit_c else crossing
        finish = end if after > limit_c else crossing
        if spells and abs(spells[-1][1] - begin) < 1e-9:
            begin = spells.pop()[0]
        spells.append((begin, finish))
    return tuple(spells)


@kitchen_function
def time_record(
    readings: str, scheme: str = "uk", cold_limit_c: float = 5.0, out_limit_h: float = 2.0
) -> Mapping[str, float]:
    """Return the time that a record of times and temperatures leaves under the chosen rules, and when to throw it away.

    Formula: time allowed less the time above the cold limit, straight lines between the readings.
    UK: 4 h above 8 °C, and only once: after its one spell it must stay cold.  US: 4 h above 5 °C in all, 6 h if it
    never passed 21 °C.  Own: the house's cold limit and time, in all.
    Units: minutes (or times of day) and °C in; min and °C out.  ``discard_min`` counts from the first reading; it is
    there when the food is out of the cold now, and supposes that it stays out, or when it was out for too long.
    Limits: 2 to 200 readings, -40 to 100 °C.  A fridge door opened between two readings is not seen.
    Errors: readings that cannot be read; times that do not rise; rules that are not known.
    Source: SR 2006/3 Schedule 4; US FDA Food Code 2022, 3-501.19; the house's written plan.
    """
    record = read_record(readings)
    cold, allowed = _limits(record, scheme, cold_limit_c, out_limit_h)
    spells = spells_above(record, cold)
    out_now = record[-1][1] > cold
    counted = _counted(spells, allowed, once=scheme == "uk")
    left = max(0.0, allowed - counted)
    if scheme == "uk" and spells and not out_now:
        left = 0.0
    found = {
        "out_min": sum(end - begin for begin, end in spells),
        "times_out": float(len(spells)),
        "warmest_c": max(celsius for _, celsius in record),
        "limit_min": allowed,
        "left_min": left,
        "over_min": max(0.0, counted - allowed),
    }
    if out_now or found["over_min"] > 0.0:
        found["discard_min"] = _discard(record, spells, allowed, counted, once=scheme == "uk")
    return found


def cold_limit_of(scheme: str, cold_limit_c: float) -> float:
    """Return the cold limit of the rules, in °C.  Errors: rules that are not known; a limit out of -5 to 15 °C."""
    if scheme not in SCHEMES:
        raise AmountError(f"The rules known here are {', '.join(SCHEMES)}.")
    own = within(cold_limit_c, -5, 15, "The cold limit of the house", "°C")
    return own if scheme == "own" else LIMITS[f"{scheme}_cold_hold"].value


def _limits(record: Sequence[Reading], scheme: str, cold_limit_c: float, out_limit_h: float) -> tuple[float, float]:
    """Return the cold limit in °C and the minutes allowed above it."""
    cold = cold_limit_of(scheme, cold_limit_c)
    own = 60.0 * within(out_limit_h, 0, 12, "The time allowed by the house", "h")
    if scheme == "own":
        return cold, own
    cool = scheme == "us" and max(celsius for _, celsius in record) <= LIMITS["us_out_cool_ceiling"].value
    return cold, 60.0 * LIMITS["us_out_cool" if cool else f"{scheme}_out"].value


def _counted(spells: Sequence[Reading], allowed: float, *, once: bool) -> float:
    """Return the minutes that count; where only one spell is allowed, all of a later one is over."""
    lengths = [end - begin for begin, end in spells]
    return max(lengths[0], allowed) + sum(lengths[1:]) if once and len(lengths) > 1 else sum(lengths)


def _discard(
    record: Sequence[Reading], spells: Sequence[Reading], allowed: float, counted: float, *, once: bool
) -> float:
    """Return when the time is used up, in minutes from the first reading."""
    if counted < allowed:
        return record[-1][0] + allowed - counted
    if once and len(spells) > 1 and spells[0][1] - spells[0][0] < allowed:
        return spells[1][0]
    before = 0.0
    for begin, end in spells:
        if before + end - begin >= allowed:
            return begin + allowed - before
        before += end - begin
    return record[-1][0]


def _minutes(text: str) -> float:
    clock = _CLOCK.fullmatch(text)
    if clock is None:
        return float(text)
    hours, minutes = int(clock[1]), int(clock[2])
    if hours > 23 or minutes > 59:
        raise AmountError(f"'{text}' is no time of day. Write it as 9:05 or 14:30.")
    return 60.0 * hours + minutes
