"""Plots as plain data: curves, the batch's own point, and limits.  Whoever draws them decides how.

Temperatures are in °C here; a drawing may show them in °F.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from troubleshoot.errors import AmountError
from troubleshoot.kitchen.air import dew_point
from troubleshoot.kitchen.chocolate import off_working_heat, tempering_curve
from troubleshoot.kitchen.heat import temperature_after, time_constant_from_readings
from troubleshoot.kitchen.safety import LIMITS
from troubleshoot.kitchen.sucrose import strength_at_boil, syrup_boiling_point
from troubleshoot.kitchen.time_record import cold_limit_of, read_record, time_record

Point = tuple[float, float]

#: Points of a curve; more would not be seen.
_STEPS = 60

#: Strength up to which the boiling curve is drawn, and where the older table ends, in per cent.
_STRONGEST, _OLDER_FROM, _OLDER_TO = 94.0, 10.0, 82.0

#: Two heights this near are one line.
_SAME_K = 0.3

#: Steps of tempering after the solid chocolate.
_TEMPER = ("melt", "cool", "work")


@dataclass(frozen=True, slots=True)
class Line:
    """A curve by its points; ``dashed`` for a second opinion or an edge."""

    words: str
    points: tuple[Point, ...]
    dashed: bool = False


@dataclass(frozen=True, slots=True)
class Level:
    """One height across the whole plot: a limit, or what was measured (``own``)."""

    words: str
    y: float
    own: bool = False


@dataclass(frozen=True, slots=True)
class Plot:
    """A plot: title, axes with their units, curves, the batch's points, and limits.

    ``ticks`` names places on the x axis where they are steps and no numbers.
    """

    title: str
    x_words: str
    x_unit: str
    y_words: str
    y_unit: str
    lines: tuple[Line, ...]
    marks: tuple[tuple[str, Point], ...] = ()
    levels: tuple[Level, ...] = ()
    ticks: tuple[tuple[float, str], ...] = ()


def boiling_curve(sugar_percent: float, altitude_m: float = 0.0) -> Plot:
    """Return the boiling curve of syrup at a height, by both sources, with the batch's point on it."""
    found = syrup_boiling_point(sugar_percent, altitude_m)
    strengths = [_STRONGEST * step / _STEPS for step in range(_STEPS + 1)]
    curve = [(percent, syrup_boiling_point(percent, altitude_m)) for percent in strengths]
    older = tuple((p, values["older_c"]) for p, values in curve if _OLDER_FROM <= p <= _OLDER_TO)
    return Plot(
        title=f"Where syrup boils at {altitude_m:.0f} m",
        x_words="Sugar",
        x_unit="%",
        y_words="Boils at",
        y_unit="degC",
        lines=(
            Line("Modern equation", tuple((p, values["boils_c"]) for p, values in curve)),
            Line("Table of 1912", older, dashed=True),
        ),
        marks=(("This syrup", (sugar_percent, found["boils_c"])),),
    )


def boiling_curve_from_heat(boiling_c: float, altitude_m: float = 0.0) -> Plot:
    """Return the same curve with the point of a syrup that boils at a temperature."""
    return boiling_curve(strength_at_boil(boiling_c, altitude_m)["sugar_percent"], altitude_m)


def temper_curve(coating: str, chocolate_c: float | None = None) -> Plot:
    """Return the tempering curve of a kind of chocolate as steps, with the bowl's temperature across it."""
    curve = tempering_curve(coating)
    if chocolate_c is not None:
        off_working_heat(coating, chocolate_c)
    steps = (("start", 20.0, 20.0), *((step, curve[f"{step}_low_c"], curve[f"{step}_high_c"]) for step in _TEMPER))
    return Plot(
        title=f"Tempering {coating} chocolate",
        x_words="Step",
        x_unit="",
        y_words="Chocolate",
        y_unit="degC",
        lines=(
            Line("Middle of the span", tuple((float(at), (low + high) / 2) for at, (_, low, high) in enumerate(steps))),
            Line("At most", tuple((float(at), high) for at, (_, _, high) in enumerate(steps)), dashed=True),
            Line("At least", tuple((float(at), low) for at, (_, low, _) in enumerate(steps)), dashed=True),
        ),
        levels=(
            Level("Temper is lost above", curve["lost_above_c"]),
            *(() if chocolate_c is None else (Level("The bowl now", chocolate_c, own=True),)),
        ),
        ticks=((0.0, "solid"), (1.0, "melt"), (2.0, "cool"), (3.0, "work")),
    )


def cooling_curve(start_c: float, wanted_c: float, around_c: float, time_constant_min: float) -> Plot:
    """Return how a piece or bowl goes to the heat around it, with the food limits that it crosses."""
    until = 5.0 * time_constant_min
    low, high = min(start_c, around_c), max(start_c, around_c)
    limits = (
        Level("Cold limit, United States", LIMITS["us_cold_hold"].value),
        Level("Cold limit, United Kingdom", LIMITS["uk_cold_hold"].value),
        Level("First step of cooling", LIMITS["us_out_cool_ceiling"].value),
    )
    return Plot(
        title="Cooling" if start_c > around_c else "Warming",
        x_words="Time",
        x_unit="min",
        y_words="Piece",
        y_unit="degC",
        lines=(Line("The piece", _newton(start_c, around_c, until, time_constant_min)),),
        levels=_with_wanted(wanted_c, [level for level in limits if low < level.y < high]),
    )


def _with_wanted(wanted_c: float, limits: Sequence[Level]) -> tuple[Level, ...]:
    """Return the wanted heat among the limits; where it is one of them, both are one line."""
    same = [level for level in limits if abs(level.y - wanted_c) < _SAME_K]
    if not same:
        return (Level("Wanted", wanted_c, own=True), *limits)
    return tuple(Level(f"{level.words} (wanted)", level.y) if level in same else level for level in limits)


def forecast_curve(start_c: float, now_c: float, minutes: float, around_c: float) -> Plot:
    """Return the cooling of a filling from two readings, against the two steps of the US limit."""
    constant = time_constant_from_readings(start_c, now_c, minutes, around_c)
    until = 60.0 * LIMITS["us_cool_whole"].value
    return Plot(
        title="Cooling of the filling against the limit",
        x_words="Time",
        x_unit="min",
        y_words="Filling",
        y_unit="degC",
        lines=(Line("The filling, at the fastest", _newton(start_c, around_c, until, constant)),),
        marks=(
            ("Second reading", (minutes, now_c)),
            ("To be reached in 2 hours", (60.0 * LIMITS["us_cool_first"].value, 21.0)),
            ("To be reached in 6 hours", (until, LIMITS["us_cold_hold"].value)),
        ),
        levels=(Level("First step", 21.0), Level("Cold", LIMITS["us_cold_hold"].value)),
    )


def box_curve(piece_c: float, air_c: float, humidity_percent: float, time_constant_min: float = 61.5) -> Plot:
    """Return how chilled pieces warm in their shut box, against the dew point of the room."""
    dew = dew_point(air_c, humidity_percent)["dew_point_c"]
    plot = cooling_curve(piece_c, dew, air_c, time_constant_min)
    return Plot(
        title="Warming in the shut box",
        x_words="Time",
        x_unit="min",
        y_words="Piece",
        y_unit="degC",
        lines=plot.lines,
        levels=(Level("Dew point: open the box above it", dew),),
    )


def record_curve(readings: str, scheme: str = "uk", cold_limit_c: float = 5.0, out_limit_h: float = 2.0) -> Plot:
    """Return a record of cream or filled pieces against the cold limit, with the moment to throw it away."""
    found = time_record(readings, scheme, cold_limit_c, out_limit_h)
    record = read_record(readings)
    last, discard = record[-1], found.get("discard_min")
    onward = (Line("If it stays as it is", (last, (discard or 0.0, last[1])), dashed=True),)
    return Plot(
        title="The record against the cold limit",
        x_words="Time since the first reading",
        x_unit="min",
        y_words="Food",
        y_unit="degC",
        lines=(Line("The record", record), *(onward if discard is not None and discard > last[0] else ())),
        marks=() if discard is None else (("Throw it away", (discard, _at_time(record, discard))),),
        levels=(Level("Cold limit", cold_limit_of(scheme, cold_limit_c)),),
    )


def _at_time(record: Sequence[Point], minutes: float) -> float:
    """Return the temperature of a record at a time, by straight lines; after its end the last one."""
    return float(np.interp(minutes, [time for time, _ in record], [celsius for _, celsius in record]))


#: Calculations that have a plot, with the function that makes it from the same inputs.
PLOTS: Mapping[str, Callable[..., Plot]] = {
    "syrup_boiling_point": boiling_curve,
    "strength_at_boil": boiling_curve_from_heat,
    "tempering_curve": temper_curve,
    "off_working_heat": temper_curve,
    "cooling_time": cooling_curve,
    "cooling_forecast": forecast_curve,
    "wait_in_box": box_curve,
    "time_record": record_curve,
}


def plot_of(name: str, inputs: Mapping[str, float | str]) -> Plot:
    """Return the plot of a calculation for its inputs.  Errors: a calculation without one; those of the calculation."""
    if name not in PLOTS:
        raise AmountError(f"There is no plot for '{name}'. There is one for {', '.join(PLOTS)}.")
    return PLOTS[name](**inputs)


def _newton(start: float, around: float, until: float, constant: float) -> tuple[Point, ...]:
    times = [until * step / _STEPS for step in range(_STEPS + 1)]
    return tuple((minutes, temperature_after(start, around, minutes, constant)) for minutes in times)
