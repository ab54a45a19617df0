"""Lumped warming and cooling: one temperature for the whole piece, driven by the difference to the air around it.

Good for small pieces and stirred bowls; a thick piece is slower inside than this says.
Times are in minutes, temperatures in °C.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

from troubleshoot.errors import AmountError
from troubleshoot.kitchen.amounts import finite, not_negative, positive, within
from troubleshoot.kitchen.registry import kitchen_function

#: Heat passed by still air and by a light fan, W/(m2 K), radiation included (engineering handbooks: 5 to 10, 15 to 30).
STILL_AIR = 8.0
BOXED = 5.0
MOVING_AIR = 20.0


def minutes_to_reach(start_c: float, wanted_c: float, around_c: float, time_constant_min: float) -> float:
    """Return the minutes from ``start_c`` to ``wanted_c`` in surroundings of ``around_c``: k ln((Ta - T0) / (Ta - T1)).

    Errors: the wanted temperature is not between start and surroundings (it is never reached), or equals the latter.
    Source: Newton's law of cooling.
    """
    start, wanted, around = (
        within(value, -60, 400, what, "°C")
        for value, what in ((start_c, "The start"), (wanted_c, "The wanted temperature"), (around_c, "The air around"))
    )
    constant = positive(time_constant_min, "The time constant", "min")
    if math.isclose(start, wanted, abs_tol=1e-12):
        return 0.0
    if not min(start, around) < wanted < max(start, around):
        raise AmountError(
            f"From {start:.1f} °C, air of {around:.1f} °C never brings it to {wanted:.1f} °C. "
            "Only temperatures between the two are reached."
        )
    return constant * math.log((around - start) / (around - wanted))


def temperature_after(start_c: float, around_c: float, minutes: float, time_constant_min: float) -> float:
    """Return the temperature after some minutes: Ta + (T0 - Ta) exp(-t / k).  Source: Newton's law of cooling."""
    start = within(start_c, -60, 400, "The start", "°C")
    around = within(around_c, -60, 400, "The air around", "°C")
    time = not_negative(minutes, "The time", "min")
    return around + (start - around) * math.exp(-time / positive(time_constant_min, "The time constant", "min"))


def time_constant_from_readings(first_c: float, second_c: float, minutes: float, around_c: float) -> float:
    """Return the time constant behind two readings some minutes apart: t / ln((T1 - Ta) / (T2 - Ta)).

    Errors: the readings do not move towards the surroundings.  Source: Newton's law of cooling.
    """
    first, second = finite(first_c, "The first reading"), finite(second_c, "The second reading")
    around = finite(around_c, "The air around")
    time = positive(minutes, "The time between the readings", "min")
    if not (first > second > around or first < second < around):
        raise AmountError("The second reading must lie between the first one and the air around.")
    return time / math.log((first - around) / (second - around))


@kitchen_function
def time_constant(
    weight_g: float, heat_j_per_g_k: float, surface_cm2: float, transfer_w_m2_k: float
) -> Mapping[str, float]:
    """Return the time constant of a piece: m c / (h A).

    Units: g, J/(g K), cm2 and W/(m2 K) in; min out.  Limits: all above nothing.
    Source: worked (lumped heat balance); h about 5 in a closed box, 8 in still air, 20 before a light fan.
    """
    heat = positive(weight_g, "The weight", "g") * positive(heat_j_per_g_k, "The specific heat")
    flow = positive(transfer_w_m2_k, "The heat transfer") * positive(surface_cm2, "The surface", "cm2") * 1e-4
    return {"time_constant_min": heat / flow / 60.0}


@kitchen_function
def cooling_time(start_c: float, wanted_c: float, around_c: float, time_constant_min: float) -> Mapping[str, float]:
    """Return the minutes a piece or bowl takes from one temperature to another in air or a bath.

    Formula: k ln((around - start) / (around - wanted)).  Units: °C and min.  Limits: -60 to 400 °C.
    Errors: a temperature that the surroundings never give.  Source: Newton's law of cooling.
    """
    return {"minutes_min": minutes_to_reach(start_c, wanted_c, around_c, time_constant_min)}
