"""Ovens and thermometers: fan and gas, Fahrenheit, checks of oven and probe, boiling point by height and pressure.

Temperatures are in °C unless a name says °F; heights in metres; pressures in kPa.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

from troubleshoot.errors import AmountError
from troubleshoot.kitchen.amounts import finite, within
from troubleshoot.kitchen.registry import kitchen_function

#: What the fan is worth, in K (charts agree on 20; published figures run from 14 to 30).
FAN_DROP_K = 20.0
FAN_DROP_SPAN_K = (14.0, 30.0)

#: Kinds of oven and what their dial is below a still oven that bakes alike.  A combi oven always blows.
OVEN_KINDS: Mapping[str, float] = {"conventional": 0.0, "deck": 0.0, "fan": FAN_DROP_K, "combi": FAN_DROP_K}

#: How far an oven may be off before it is worth a repair, in K (common practice: makers accept 14).
OVEN_TOLERANCE_K = 15.0

#: How far a probe may be off in ice or boiling water before it is not to be trusted, in K (common practice).
PROBE_TOLERANCE_K = 1.0

STANDARD_PRESSURE_KPA = 101.325

#: IAPWS-IF97, region 4: coefficients n1 to n10 of the saturation line.
_IF97 = (
    0.11670521452767e4,
    -0.72421316703206e6,
    -0.17073846940092e2,
    0.12020824702470e5,
    -0.32325550322333e7,
    0.14915108613530e2,
    -0.48232657361591e4,
    0.40511340542057e6,
    -0.23855557567849,
    0.65017534844798e3,
)


def fahrenheit(celsius: float) -> float:
    """Return °F: 9 / 5 C + 32.  Errors: below absolute zero.  Source: definition."""
    return within(celsius, -273.15, 1e5, "The temperature", "°C") * 9.0 / 5.0 + 32.0


def celsius(fahrenheit_degrees: float) -> float:
    """Return °C: (F - 32) 5 / 9.  Errors: below absolute zero.  Source: definition."""
    return (within(fahrenheit_degrees, -459.67, 2e5, "The temperature", "°F") - 32.0) * 5.0 / 9.0


@kitchen_function
def conventional_equivalent(dial_c: float, oven_kind: str = "conventional") -> Mapping[str, float]:
    """Return the setting of a still oven that bakes like this dial: 20 K more when a fan blows.

    Units: °C.  Limits: 20 to 350 °C.  Errors: an unknown kind of oven.
    Source: common practice (published fan figures 14 to 30 K, most charts 20).
    Contested: the fan is worth 20 K on most charts, 25 on one, 14 by a maker's manual, 15 to 30 in a baking textbook.
    """
    dial = within(dial_c, 20, 350, "The oven setting", "°C")
    if oven_kind not in OVEN_KINDS:
        raise AmountError(f"The kind of oven must be one of {', '.join(OVEN_KINDS)}.")
    low, high = FAN_DROP_SPAN_K if OVEN_KINDS[oven_kind] else (0.0, 0.0)
    return {
        "conventional_c": dial + OVEN_KINDS[oven_kind],
        "conventional_low_c": dial + low,
        "conventional_high_c": dial + high,
    }


@kitchen_function
def fan_equivalent(conventional_c: float) -> Mapping[str, float]:
    """Return the fan setting for a still-oven setting: 20 K less.

    Units: °C.  Limits: 50 to 370 °C.  Source: as for conventional equivalent.
    Contested: as for conventional equivalent.
    """
    still = within(conventional_c, 50, 370, "The oven setting", "°C")
    low, high = FAN_DROP_SPAN_K
    return {"fan_c": still - FAN_DROP_K, "fan_low_c": still - high, "fan_high_c": still - low}


@kitchen_function
def gas_mark_to_celsius(gas_mark: float) -> Mapping[str, float]:
    """Return °C and °F for a gas mark: F = 250 + 25 mark from mark 1; below it each halving takes 25 °F.

    Units: gas mark in, °C and °F out.  Limits: marks 1/4 to 9.  Errors: a mark outside them.
    Source: gas mark charts (general encyclopaedia).
    Contested: UK charts round it, mark 1/2 to 120 or 130 °C, mark 3 to 160 or 170, mark 4 to 180.
    """
    mark = within(gas_mark, 0.25, 9, "The gas mark")
    degrees = 250.0 + 25.0 * mark if mark >= 1 else 275.0 + 25.0 * math.log2(mark)
    return {"conventional_c": celsius(degrees), "conventional_f": degrees}


@kitchen_function
def celsius_to_gas_mark(conventional_c: float) -> Mapping[str, float]:
    """Return the gas mark nearest to a still-oven temperature: one of 1/4, 1/2, 1, 2 ... 9.

    Units: °C in.  Limits: 100 to 255 °C, the reach of the gas scale.  Source: as for :func:`gas_mark_to_celsius`.
    """
    wanted = within(conventional_c, 100, 255, "The oven temperature", "°C")
    marks = (0.25, 0.5, *(float(mark) for mark in range(1, 10)))
    return {"gas_mark": min(marks, key=lambda mark: abs(gas_mark_to_celsius(mark)["conventional_c"] - wanted))}


@kitchen_function
def oven_correction(dial_c: float, thermometer_c: float, wanted_c: float) -> Mapping[str, float]:
    """Return how far an oven is off by its thermometer, and the dial that gives the wanted heat.

    Formula: error = thermometer - dial; new dial = wanted - error.  Units: °C in; K and °C out.
    Limits: 20 to 350 °C; the error is taken as the same at nearby settings.
    Errors: an error over 80 K (read the thermometer again); a dial outside the limits.  Source: worked.
    Contested: no standard says how far an oven may be off.  Makers accept 14 K, a consumer test found 42.
    """
    dial = within(dial_c, 20, 350, "The oven setting", "°C")
    shown = within(thermometer_c, 20, 400, "The oven thermometer", "°C")
    wanted = within(wanted_c, 20, 350, "The wanted temperature", "°C")
    error = shown - dial
    if abs(error) > 80:
        raise AmountError(
            "Setting and thermometer are more than 80 degrees apart. Wait 20 minutes and read both again."
        )
    return {"error_k": error, "set_dial_c": within(wanted - error, 20, 350, "The corrected setting", "°C")}


def oven_in_order(dial_c: float, thermometer_c: float) -> bool:
    """Tell whether an oven is within 15 K of its dial (common practice; no standard sets a limit)."""
    return abs(oven_correction(dial_c, thermometer_c, dial_c)["error_k"]) <= OVEN_TOLERANCE_K


@kitchen_function
def pressure_at_altitude(altitude_m: float) -> Mapping[str, float]:
    """Return the air pressure of the standard atmosphere: 101.325 (1 - 2.25577e-5 h)^5.2559.

    Units: m in, kPa out.  Limits: -500 to 5000 m.  Source: ISO 2533 (ASHRAE Fundamentals 2017, ch. 1, eq. 3).
    """
    height = within(altitude_m, -500, 5000, "The height above the sea", "m")
    return {"pressure_kpa": STANDARD_PRESSURE_KPA * (1.0 - 2.25577e-5 * height) ** 5.2559}


@kitchen_function
def boiling_point_at_pressure(pressure_kpa: float) -> Mapping[str, float]:
    """Return where water boils under a pressure.

    Formula: the saturation line of IAPWS-IF97 (region 4, eq. 31).  Units: kPa in, °C out.  Limits: 20 to 400 kPa.
    Source: IAPWS-IF97 (1997).
    """
    pressure = within(pressure_kpa, 20, 400, "The air pressure", "kPa")
    beta = (pressure / 1000.0) ** 0.25
    n1, n2, n3, n4, n5, n6, n7, n8, n9, n10 = _IF97
    e = beta**2 + n3 * beta + n6
    f = n1 * beta**2 + n4 * beta + n7
    g = n2 * beta**2 + n5 * beta + n8
    d = 2.0 * g / (-f - math.sqrt(f**2 - 4.0 * e * g))
    kelvin = (n10 + d - math.sqrt((n10 + d) ** 2 - 4.0 * (n9 + n10 * d))) / 2.0
    return {"boils_c": kelvin - 273.15}


def saturation_pressure_kpa(celsius_degrees: float) -> float:
    """Return the pressure under which water boils at a temperature, by IAPWS-IF97 (region 4, eq. 30), in kPa.

    Limits: 0.01 to 200 °C.  Source: IAPWS-IF97 (1997).
    """
    kelvin = within(celsius_degrees, 0.01, 200, "The temperature", "°C") + 273.15
    n1, n2, n3, n4, n5, n6, n7, n8, n9, n10 = _IF97
    theta = kelvin + n9 / (kelvin - n10)
    a = theta**2 + n1 * theta + n2
    b = n3 * theta**2 + n4 * theta + n5
    c = n6 * theta**2 + n7 * theta + n8
    return float(1000.0 * (2.0 * c / (-b + math.sqrt(b**2 - 4.0 * a * c))) ** 4)


@kitchen_function
def boiling_point_at_altitude(altitude_m: float) -> Mapping[str, float]:
    """Return where water boils at a height, in the standard atmosphere; weather moves it by about 1 K.

    Formula: p = 101.325 (1 - 2.25577e-5 h)^5.2559, then the saturation line of IAPWS-IF97.  Units: m in, °C out.
    Limits: -500 to 5000 m.  Source: ISO 2533 and IAPWS-IF97.
    """
    return boiling_point_at_pressure(pressure_at_altitude(altitude_m)["pressure_kpa"])


@kitchen_function
def altitude_from_boiling(boils_c: float) -> Mapping[str, float]:
    """Return the height at which water boils at a temperature, and the air pressure there; the other way round.

    Formula: p from the saturation line of IAPWS-IF97, then h = (1 - (p / 101.325)^(1 / 5.2559)) / 2.25577e-5.
    Units: °C in; m and kPa out.  Limits: 83.3 to 101.6 °C (5000 m to 500 m below the sea); weather moves it by 300 m.
    Source: ISO 2533 and IAPWS-IF97.
    """
    pressure = saturation_pressure_kpa(within(boils_c, 83.3, 101.6, "The boiling point of water", "°C"))
    height = (1.0 - (pressure / STANDARD_PRESSURE_KPA) ** (1.0 / 5.2559)) / 2.25577e-5
    return {"altitude_m": height, "pressure_kpa": pressure}


@kitchen_function
def probe_check(ice_c: float, boiling_c: float, altitude_m: float = 0.0) -> Mapping[str, float]:
    """Return how far a probe is off in melting ice and in boiling water at this height.

    Formula: ice error = reading - 0; boiling error = reading - boiling point.  Units: °C and m in, K out.
    Limits: readings within 20 K of the true points.  Errors: beyond that (wrong bath or broken probe).
    Source: ISO 2533 and IAPWS-IF97 for the boiling point; the check itself is common practice.
    """
    boils = boiling_point_at_altitude(altitude_m)["boils_c"]
    ice = within(ice_c, -20, 20, "The reading in melting ice", "°C")
    boiling = within(boiling_c, boils - 20, boils + 20, "The reading in boiling water", "°C")
    return {"ice_error_k": ice, "boiling_error_k": boiling - boils, "boils_c": boils}


@kitchen_function
def probe_corrected(
    reading_c: float, ice_error_k: float, boiling_error_k: float, boils_c: float = 100.0
) -> Mapping[str, float]:
    """Return the true temperature behind a reading, by a straight line through the two checked points.

    Formula: true = (reading - e0) boils / (boils + e1 - e0).  Units: °C and K.
    Limits: -40 to 250 °C; errors within 20 K.
    Source: worked (two-point calibration).
    """
    reading = within(reading_c, -40, 250, "The reading", "°C")
    low = within(ice_error_k, -20, 20, "The error in ice", "K")
    high = within(boiling_error_k, -20, 20, "The error in boiling water", "K")
    boils = within(boils_c, 80, 105, "The boiling point", "°C")
    return {"true_c": (reading - low) * boils / (boils + high - low)}


def probe_trusted(ice_error_k: float, boiling_error_k: float) -> bool:
    """Tell whether a probe is within 1 K at both points (common practice)."""
    ice = finite(ice_error_k, "The error in ice")
    boiling = finite(boiling_error_k, "The error in boiling water")
    return max(abs(ice), abs(boiling)) <= PROBE_TOLERANCE_K
