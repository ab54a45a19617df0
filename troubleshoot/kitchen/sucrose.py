"""Sucrose in water: water activity, boiling point and strength, solubility, density and degrees Baumé.

Strength is in per cent of weight, which is degrees Brix for pure sucrose.  Temperatures in °C, heights in metres.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping

import numpy as np

from troubleshoot.errors import AmountError
from troubleshoot.kitchen.amounts import within
from troubleshoot.kitchen.oven import boiling_point_at_pressure, pressure_at_altitude, saturation_pressure_kpa
from troubleshoot.kitchen.registry import kitchen_function

SUCROSE_G_PER_MOL = 342.2965
WATER_G_PER_MOL = 18.01528
GAS_CONSTANT = 8.314462618

#: Starzak and Peacock, Zuckerindustrie 122, 1997: ln(activity coefficient) = Q / (R T) (1 + a x + b x2) x2.
_Q, _A, _B = -17638.0, -1.0038, -0.24653

#: Boiling point elevation by Browne, Handbook of Sugar Analysis, 1912: % of weight and K (read second-hand).
BROWNE = (
    (10.0, 20.0, 32.0, 40.0, 50.0, 52.0, 62.0, 64.0, 66.0, 68.0, 70.0, 72.0, 74.0, 76.0, 78.0, 80.0, 82.0),
    (0.4, 0.6, 1.1, 1.5, 2.0, 2.1, 3.4, 4.0, 4.8, 5.6, 6.5, 7.4, 8.4, 9.4, 10.6, 12.0, 13.9),
)

#: Solubility: °C and g of sucrose in 100 g of water (Antokolskaya et al. 1964, in Mohos, Confectionery and Chocolate
#: Engineering, 2010, Table A2.2).
SOLUBILITY = (
    tuple(5.0 * step for step in range(21)),
    (
        179.2, 184.7, 190.5, 197.0, 203.9, 211.4, 219.9, 228.4, 238.1, 248.7, 260.4,
        273.1, 287.3, 302.9, 320.5, 339.9, 362.1, 386.8, 415.7, 448.6, 487.2,
    ),
)  # fmt: skip

#: The other published line: % of weight as a polynomial in °C (Vavrinecz 1962, coefficients from memory).
_NEWER_SOLUBILITY = (64.447, 0.08222, 1.6169e-3, -1.558e-6, -4.63e-8)

#: Strengths that the table has saturated from 0 to 100 °C, in per cent, rounded inwards.
_SATURATED_PERCENT = (64.2, 82.9)

#: Density at 20 °C, kg/m3, as a polynomial in the share of weight (ICUMSA SPS-4, coefficients from memory).
_DENSITY = (998.20, 385.1761, 135.3705, 40.9299, -3.9643, 13.4853, -17.2890)


@kitchen_function
def water_activity(sugar_percent: float, celsius: float = 25.0) -> Mapping[str, float]:
    """Return the water activity of sucrose syrup: x exp(Q / (R T) (1 + a s + b s2) s2), x water and s sucrose by mole.

    Units: % of weight and °C in, 0 to 1 out.  Limits: 0 to 99.5 %, 0 to 170 °C; over saturation it is extrapolated.
    Source: Starzak and Peacock, Zuckerindustrie 122, 1997.
    """
    share = within(sugar_percent, 0, 99.5, "The sugar", "%") / 100.0
    kelvin = within(celsius, 0, 170, "The syrup", "°C") + 273.15
    sugar_mol = share / SUCROSE_G_PER_MOL
    s = sugar_mol / (sugar_mol + (1.0 - share) / WATER_G_PER_MOL)
    coefficient = math.exp(_Q / (GAS_CONSTANT * kelvin) * (1.0 + _A * s + _B * s**2) * s**2)
    return {"water_activity": (1.0 - s) * coefficient}


@kitchen_function
def syrup_boiling_point(sugar_percent: float, altitude_m: float = 0.0) -> Mapping[str, float]:
    """Return where a syrup boils: water's vapour pressure times its activity equals the pressure of the air.

    Units: % of weight and m in; °C and K out: ``boils_c`` and ``over_water_k`` by the modern equation, ``older_c`` by
    the handbook of 1912 where it reaches (10 to 82 %), else the same.
    Limits: 0 to 98 %, -500 to 5000 m.  Source: Starzak and Peacock 1997 with IAPWS-IF97; Browne 1912.
    Contested: from 70 to 80 % the table is up to 3 K higher (80 %: 12.0 against 9.5 K over water).  A published graph
    has 125 °C at 90 %, the equation 122.4.
    """
    sugar = within(sugar_percent, 0, 98, "The sugar", "%")
    pressure = pressure_at_altitude(altitude_m)["pressure_kpa"]
    water = boiling_point_at_pressure(pressure)["boils_c"]

    def steam_over_air(celsius: float) -> float:
        return saturation_pressure_kpa(celsius) * water_activity(sugar, celsius)["water_activity"] - pressure

    boils = _root(steam_over_air, water - 1e-6, 168.0)
    inside = BROWNE[0][0] <= sugar <= BROWNE[0][-1]
    older = water + float(np.interp(sugar, *BROWNE)) if inside else boils
    return {"boils_c": boils, "over_water_k": max(0.0, boils - water), "older_c": older}


@kitchen_function
def strength_at_boil(boiling_c: float, altitude_m: float = 0.0) -> Mapping[str, float]:
    """Return how strong a syrup is from where it boils; the other way round of :func:`syrup_boiling_point`.

    Formula: the strength at which that calculation gives this boiling point, by halving.
    Units: °C and m in; % of weight out: ``sugar_percent`` by the modern equation, ``lowest_percent`` by the handbook of
    1912 where it reaches (to 13.9 K over water).  Limits: from the boiling point of water to 165 °C, above which syrup
    no longer boils.  Errors: a reading below the boiling point of water at that height (check the probe).
    Source: Starzak and Peacock 1997 with IAPWS-IF97; Browne 1912.
    Contested: a syrup that boils 9.5 K over water is of 80 % by the equation and of 76 % by the table.
    """
    water = boiling_point_at_pressure(pressure_at_altitude(altitude_m)["pressure_kpa"])["boils_c"]
    boiling = within(boiling_c, 50, 165, "The boiling syrup", "°C")
    if boiling < water - 0.05:
        raise AmountError(
            f"At {altitude_m:.0f} m water itself boils at {water:.1f} °C, and no syrup boils below that. "
            "Check the probe in boiling water."
        )
    most = syrup_boiling_point(98.0, altitude_m)["boils_c"]
    if boiling >= most:
        raise AmountError(f"At {boiling:.0f} °C hardly any water is left: this is melted sugar, not a syrup.")
    sugar = _root(lambda percent: syrup_boiling_point(percent, altitude_m)["boils_c"] - boiling, 0.0, 98.0)
    over = boiling - water
    inside = BROWNE[1][0] <= over <= BROWNE[1][-1]
    older = float(np.interp(over, BROWNE[1], BROWNE[0])) if inside else sugar
    return {"sugar_percent": sugar, "lowest_percent": min(sugar, older)}


@kitchen_function
def solubility(celsius: float) -> Mapping[str, float]:
    """Return the most sucrose that water holds, by two published lines: g to 100 g of water, and % of weight.

    Formula: straight lines in the % of weight between the table's points; the newer line is a polynomial of the fourth
    degree.  Units: °C in.  Limits: 0 to 100 °C.
    Source: Mohos, Confectionery and Chocolate Engineering, 2010, Table A2.2; Vavrinecz 1962 (coefficients from memory).
    Contested: at 20 °C the table has 203.9 g in 100 g of water and the newer line 200.5.  They agree near 60 °C and
    part by 2.3 % at most.
    """
    degrees = within(celsius, 0, 100, "The syrup", "°C")
    percents = [100.0 * grams / (100.0 + grams) for grams in SOLUBILITY[1]]
    percent = float(np.interp(degrees, SOLUBILITY[0], percents))
    newer = _newer_solubility(degrees)
    return {
        "g_per_100_g_water": 100.0 * percent / (100.0 - percent),
        "newer_g_per_100_g_water": 100.0 * newer / (100.0 - newer),
        "sugar_percent": percent,
        "newer_sugar_percent": newer,
    }


@kitchen_function
def saturation_temperature(sugar_percent: float) -> Mapping[str, float]:
    """Return the temperature at which a syrup is just saturated, by two published lines; colder it can grain.

    Formula: the heat at which the solubility gives this strength, by halving.  Units: % of weight in, °C out.
    Limits: 64.2 to 82.9 %, the reach of the table from 0 to 100 °C; beyond its own reach the newer line is given as the
    table.  Source: as for solubility.  Contested: near 67 % the two part by 2.5 K.
    """
    sugar = within(sugar_percent, *_SATURATED_PERCENT, "The sugar", "%")
    saturated = _root(lambda degrees: solubility(degrees)["sugar_percent"] - sugar, 0.0, 100.0)
    inside = _newer_solubility(0.0) <= sugar <= _newer_solubility(100.0)
    newer = _root(lambda degrees: _newer_solubility(degrees) - sugar, 0.0, 100.0) if inside else saturated
    return {"saturated_c": saturated, "newer_saturated_c": newer}


@kitchen_function
def supersaturation(sugar_percent: float, celsius: float) -> Mapping[str, float]:
    """Return how many times more sucrose a syrup holds than water can at that heat, and the sugar that may fall out.

    Formula: (S / W) / solubility, by both lines; sugar over in g to 100 g of syrup, by the table.
    Units: % of weight and °C in.  Limits: 0 to 99 %, 0 to 100 °C.  Source: as for solubility.
    Contested: the two lines part by 2.3 % at most, so a syrup near once saturated may grain or not.
    """
    sugar = within(sugar_percent, 0, 99, "The sugar", "%")
    lines = solubility(celsius)
    most, newer = (lines[name] / 100.0 for name in ("g_per_100_g_water", "newer_g_per_100_g_water"))
    held = sugar / (100.0 - sugar)
    return {
        "times_saturated": held / most,
        "newer_times_saturated": held / newer,
        "sugar_over_percent": max(0.0, sugar - most * (100.0 - sugar)),
    }


@kitchen_function
def doctor_to_stop_grain(sugar_percent: float, celsius: float) -> Mapping[str, float]:
    """Return the share of all dry sugar that must not be sucrose, so that a syrup cannot grain at its storing heat.

    Formula: 1 - solubility (100 - S) / S, by both lines: then no more sucrose is in than its water holds by itself.
    Units: % of weight and °C in, % of the dry sugar out; 0 when plain sugar stays dissolved.
    Limits: 1 to 95 %, 0 to 100 °C; the other sugars are taken to leave the water's hold on sucrose as it is.
    Source: as for solubility; worked.
    Contested: this is the share that is safe by solubility.  Common practice gets by with 10 to 25 % for dry peel,
    because thick syrup grains slowly, and takes up to 50 % for wet.
    """
    sugar = within(sugar_percent, 1, 95, "The sugar", "%")
    lines = solubility(celsius)
    most, newer = (lines[name] for name in ("g_per_100_g_water", "newer_g_per_100_g_water"))
    return {
        "doctor_percent": max(0.0, 100.0 - most * (100.0 - sugar) / sugar),
        "newer_doctor_percent": max(0.0, 100.0 - newer * (100.0 - sugar) / sugar),
    }


@kitchen_function
def syrup_density(sugar_percent: float) -> Mapping[str, float]:
    """Return the density at 20 °C and the specific gravity 20/20 of a sucrose syrup.

    Formula: 998.20 + 385.18 w + 135.37 w2 + 40.93 w3 - 3.96 w4 + 13.49 w5 - 17.29 w6, w share of weight.
    Units: % of weight in; kg/m3 and none out.  Limits: 0 to 85 %.
    Source: ICUMSA SPS-4 polynomial (coefficients from memory; within 0.0003 of NBS Circular C440 to 40 %).
    """
    share = within(sugar_percent, 0, 85, "The sugar", "%") / 100.0
    density = sum(coefficient * share**power for power, coefficient in enumerate(_DENSITY))
    return {"density_kg_m3": density, "specific_gravity": density / _DENSITY[0]}


@kitchen_function
def baume_from_percent(sugar_percent: float) -> Mapping[str, float]:
    """Return the degrees Baumé of a syrup at 20 °C: 145 - 145 / SG.

    Units: % of weight in, °Bé out.  Limits: 0 to 85 %.  Source: definition with modulus 145; density as above.
    """
    return {"baume": 145.0 - 145.0 / syrup_density(sugar_percent)["specific_gravity"]}


@kitchen_function
def percent_from_baume(baume: float) -> Mapping[str, float]:
    """Return the strength of a syrup from its degrees Baumé at 20 °C; the other way round.

    Formula: the strength of SG = 145 / (145 - Bé), by halving.  Units: °Bé in, % of weight out.
    Limits: 0 to 44.9 °Bé.  Source: definition with modulus 145; density by ICUMSA SPS-4.
    """
    most = baume_from_percent(85.0)["baume"]
    degrees = within(baume, 0, most, "The reading", "°Bé")
    return {"sugar_percent": _root(lambda percent: baume_from_percent(percent)["baume"] - degrees, 0.0, 85.0)}


def _newer_solubility(celsius: float) -> float:
    """Return the strength of a saturated syrup in % of weight by the newer line."""
    return sum(coefficient * celsius**power for power, coefficient in enumerate(_NEWER_SOLUBILITY))


def _root(function: Callable[[float], float], low: float, high: float) -> float:
    """Return where a rising function crosses nothing, by halving the span sixty times."""
    for _ in range(60):
        middle = (low + high) / 2.0
        if function(middle) < 0.0:
            low = middle
        else:
            high = middle
    return (low + high) / 2.0
