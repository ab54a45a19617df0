"""Kitchen air: dew point, humidity, whether a cold piece sweats, and how long it must stay shut in its box.

Temperatures in °C, relative humidity in per cent.  Dew points are over liquid water, also below freezing.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

from troubleshoot.errors import AmountError
from troubleshoot.kitchen.amounts import within
from troubleshoot.kitchen.heat import BOXED, minutes_to_reach, time_constant
from troubleshoot.kitchen.oven import pressure_at_altitude
from troubleshoot.kitchen.registry import kitchen_function

#: Magnus coefficients over water (WMO-No. 8, Annex 4.B, after Sonntag 1990): hPa, none, °C.
MAGNUS = (6.112, 17.62, 243.12)

#: Weight of water vapour against dry air for the same pressure.
VAPOUR_TO_AIR = 0.621945

#: A filled piece of 80 g with 130 cm2 of surface in a closed box, in minutes (3.0 J/(g K)); see :func:`wait_in_box`.
BOXED_PIECE_MIN = time_constant(80.0, 3.0, 130.0, BOXED)["time_constant_min"]


def saturation_hpa(celsius: float) -> float:
    """Return the pressure of saturated water vapour over water: 6.112 exp(17.62 t / (243.12 + t)), in hPa.

    Limits: -45 to 60 °C.  Source: WMO-No. 8, Annex 4.B.
    """
    a, b, c = MAGNUS
    degrees = within(celsius, -45, 60, "The air", "°C")
    return a * math.exp(b * degrees / (c + degrees))


@kitchen_function
def dew_point(air_c: float, humidity_percent: float) -> Mapping[str, float]:
    """Return the temperature at or below which a surface sweats: Magnus formula turned round.

    Formula: g = ln(RH / 100) + b t / (c + t); dew = c g / (b - g).  Units: °C and % in, °C out.
    Limits: -20 to 60 °C, 1 to 100 %.  Source: WMO-No. 8, Annex 4.B (within 0.05 K of the ASHRAE equations above 0 °C).
    """
    _, b, c = MAGNUS
    air = within(air_c, -20, 60, "The air", "°C")
    humidity = within(humidity_percent, 1, 100, "The humidity", "%")
    g = math.log(humidity / 100.0) + b * air / (c + air)
    return {"dew_point_c": c * g / (b - g)}


@kitchen_function
def humidity_from_dew_point(air_c: float, dew_point_c: float) -> Mapping[str, float]:
    """Return the relative humidity behind a dew point: 100 e(dew) / e(air).

    Units: °C in, % out.  Errors: a dew point above the air.  Source: WMO-No. 8, Annex 4.B.
    """
    air = within(air_c, -20, 60, "The air", "°C")
    dew = within(dew_point_c, -45, 60, "The dew point", "°C")
    if dew > air:
        raise AmountError("The dew point cannot be above the temperature of the air.")
    return {"humidity_percent": 100.0 * saturation_hpa(dew) / saturation_hpa(air)}


@kitchen_function
def humidity_when_warmed(air_c: float, humidity_percent: float, warmed_c: float) -> Mapping[str, float]:
    """Return the relative humidity of the same air brought to another temperature: RH e(t1) / e(t2).

    Units: °C and %.  Limits: as for :func:`dew_point`.  Errors: cooled below its dew point (water falls out of it).
    Source: WMO-No. 8, Annex 4.B; worked.
    """
    humidity = within(humidity_percent, 1, 100, "The humidity", "%")
    warmed = within(warmed_c, -20, 60, "The new temperature", "°C")
    result = humidity * saturation_hpa(air_c) / saturation_hpa(warmed)
    if result > 100.0:
        raise AmountError("At that temperature the air cannot hold its water, and some falls out as dew.")
    return {"humidity_percent": result}


@kitchen_function
def water_in_air(air_c: float, humidity_percent: float, altitude_m: float = 0.0) -> Mapping[str, float]:
    """Return the grams of water in each kilogram of dry air: 622 e / (p - e), p by height.

    Units: °C, % and m in; g/kg out.  Limits: -20 to 60 °C, 1 to 100 %, -500 to 5000 m.
    Source: WMO-No. 8 and ISO 2533 (ideal gas: 0.5 % under real moist air).
    """
    vapour = saturation_hpa(air_c) * within(humidity_percent, 1, 100, "The humidity", "%") / 100.0
    pressure = 10.0 * pressure_at_altitude(altitude_m)["pressure_kpa"]
    return {"water_g_per_kg": 1000.0 * VAPOUR_TO_AIR * vapour / (pressure - vapour)}


@kitchen_function
def above_dew_point(surface_c: float, air_c: float, humidity_percent: float) -> Mapping[str, float]:
    """Return how far a surface is above the dew point of the room; at nothing or below it sweats.

    Formula: surface - dew point.  Units: °C and % in; K and °C out.  Limits: as for :func:`dew_point`.
    Source: WMO-No. 8, Annex 4.B.
    """
    dew = dew_point(air_c, humidity_percent)["dew_point_c"]
    return {"margin_k": within(surface_c, -60, 100, "The surface", "°C") - dew, "dew_point_c": dew}


def sweats(surface_c: float, air_c: float, humidity_percent: float) -> bool:
    """Tell whether a surface takes on dew in this room (at or below the dew point)."""
    return above_dew_point(surface_c, air_c, humidity_percent)["margin_k"] <= 0.0


@kitchen_function
def wait_in_box(
    piece_c: float, air_c: float, humidity_percent: float, time_constant_min: float = BOXED_PIECE_MIN
) -> Mapping[str, float]:
    """Return how long chilled pieces stay shut in their box until they are above the dew point of the room.

    Formula: k ln((air - piece) / (air - dew)); nothing when the piece is already above the dew point.
    The time constant of 61 minutes is that of a filled piece of 80 g in a closed box; give another for other pieces.
    Units: °C, % and min in; min and °C out.  The time counts as time out of the cold.
    Errors: air at 100 % (pieces sweat until they are as warm as the room).  Source: WMO-No. 8 and Newton's law; worked.
    """
    air = within(air_c, -20, 60, "The air", "°C")
    piece = within(piece_c, -40, 60, "The piece", "°C")
    dew = dew_point(air, humidity_percent)["dew_point_c"]
    if piece >= dew:
        return {"wait_min": 0.0, "dew_point_c": dew}
    if humidity_percent >= 100.0:
        raise AmountError("In air of 100 % humidity everything colder than the room sweats. Dry the room first.")
    return {"wait_min": minutes_to_reach(piece, dew, air, time_constant_min), "dew_point_c": dew}
