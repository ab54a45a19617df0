"""Syrup and candied peel: water to add or boil off, sugar for a strength, glucose, grain, soaking and drying.

Weights in grams, strengths in per cent of weight (degrees Brix).
"""

from __future__ import annotations

import math
from collections.abc import Mapping

from troubleshoot.errors import AmountError
from troubleshoot.kitchen.amounts import not_negative, positive, within
from troubleshoot.kitchen.oven import boiling_point_at_altitude
from troubleshoot.kitchen.registry import kitchen_function

#: Dry sugars in glucose syrup (USDA National Nutrient Database, Release 28, NDB 19350: 22.81 % water).
SOLIDS_IN_GLUCOSE_SYRUP = 0.7719

#: Water in blanched peel, as a share of its weight (common practice; raw peel is 72 to 82 % by USDA Release 28).
WATER_IN_BLANCHED_PEEL = 0.9

#: Share of all sugar that is not sucrose, per cent: peel that stays free of grain, dry and wet (common practice).
DOCTOR_DRY_PERCENT = (10.0, 25.0)
DOCTOR_WET_PERCENT = (10.0, 50.0)

#: End of the last boil for peel, in K over the boiling point of water (common practice 106 to 108 °C at the sea).
PEEL_END_OVER_WATER_K = (6.0, 8.0)

#: How fast sugar moves in fruit, m2/s: least and most of published figures for fruit flesh near room heat (1.24e-10
#: cherry, 2.3e-10 sapodilla); litchi is thirty times slower.
DIFFUSIVITY = (1.24e-10, 2.3e-10)

#: Heat that dries peel without a hard rim, in °C (common practice; above 60 a crust forms).
DRYING_SPAN_C = (45.0, 55.0)


@kitchen_function
def water_to_add(syrup_g: float, sugar_percent: float, wanted_percent: float) -> Mapping[str, float]:
    """Return the hot water that thins a syrup: Y (b1 / b2 - 1).

    Units: g and % in, g out.  Limits: 1 to 99 %.  Errors: the syrup is not stronger than wanted.
    Source: worked (mass balance).
    """
    syrup, now, wanted = _strengths(syrup_g, sugar_percent, wanted_percent)
    if now <= wanted:
        raise AmountError(f"This syrup is of {now:.1f} %, which is not over {wanted:.1f} %. It needs no water.")
    return {"water_g": syrup * (now / wanted - 1.0), "syrup_g": syrup * now / wanted}


@kitchen_function
def water_to_boil_off(syrup_g: float, sugar_percent: float, wanted_percent: float) -> Mapping[str, float]:
    """Return the water that a weak syrup has to lose: Y (1 - b1 / b2).

    Units: g and % in, g out.  Limits: 1 to 99 %.  Errors: the syrup is not weaker than wanted.
    Source: worked (mass balance).
    """
    syrup, now, wanted = _strengths(syrup_g, sugar_percent, wanted_percent)
    if now >= wanted:
        raise AmountError(f"This syrup is of {now:.1f} %, which is not under {wanted:.1f} %. It needs no boiling down.")
    return {"water_g": syrup * (1.0 - now / wanted), "syrup_g": syrup * now / wanted}


@kitchen_function
def sugar_to_strengthen(syrup_g: float, sugar_percent: float, wanted_percent: float) -> Mapping[str, float]:
    """Return the sugar that strengthens a syrup without boiling: Y (b2 - b1) / (100 - b2).

    Units: g and % in, g out.  Limits: 1 to 99 %.  Errors: the syrup is not weaker than wanted.
    Source: worked (mass balance).
    """
    syrup, now, wanted = _strengths(syrup_g, sugar_percent, wanted_percent)
    if now >= wanted:
        raise AmountError(f"This syrup is of {now:.1f} %, which is not under {wanted:.1f} %. It needs no sugar.")
    sugar = syrup * (wanted - now) / (100.0 - wanted)
    return {"sugar_g": sugar, "syrup_g": syrup + sugar}


@kitchen_function
def syrup_from(sugar_g: float, water_g: float) -> Mapping[str, float]:
    """Return the strength of a fresh syrup: 100 S / (S + W).

    Units: g in; %, and sugar to water, out.  Errors: no water.  Source: worked.
    Contested: "one to one" is 50 % when weighed and 46 % by cups.  Ask which is meant.
    """
    sugar = not_negative(sugar_g, "The sugar", "g")
    water = positive(water_g, "The water", "g")
    return {"sugar_percent": 100.0 * sugar / (sugar + water), "sugar_to_water_ratio": sugar / water}


@kitchen_function
def syrup_to_make(syrup_g: float, wanted_percent: float) -> Mapping[str, float]:
    """Return sugar and water for a weight of syrup: Y b / 100 and the rest.

    Units: g and % in, g out.  Limits: 1 to 99 %.  Source: worked.
    """
    syrup = positive(syrup_g, "The syrup", "g")
    sugar = syrup * within(wanted_percent, 1, 99, "The wanted strength", "%") / 100.0
    return {"sugar_g": sugar, "water_g": syrup - sugar}


@kitchen_function
def peel_water_to_boil_off(
    sugar_g: float, water_g: float, peel_g: float, wanted_percent: float = 75.0
) -> Mapping[str, float]:
    """Return the water a pan of peel, sugar and water has to lose by the end: W + 0.9 P - S (100 - b) / b.

    Units: g and % in, g out.  Limits: 50 to 90 %; peel blanched and drained.
    Errors: the pan is already that strong or stronger.  Source: worked (mass balance); 90 % water in blanched peel.
    """
    sugar = positive(sugar_g, "The sugar", "g")
    inside = not_negative(water_g, "The water", "g") + WATER_IN_BLANCHED_PEEL * not_negative(peel_g, "The peel", "g")
    wanted = within(wanted_percent, 50, 90, "The wanted strength", "%")
    off = inside - sugar * (100.0 - wanted) / wanted
    if off <= 0:
        raise AmountError(
            f"This pan already holds {100 * sugar / (sugar + inside):.0f} % sugar. It needs no boiling down."
        )
    return {"water_g": off, "sugar_now_percent": 100.0 * sugar / (sugar + inside)}


@kitchen_function
def syrup_to_cover(peel_g: float) -> Mapping[str, float]:
    """Return sugar and water for peel to lie covered: as much sugar as peel, and as much water as sugar.

    Units: g.  Source: common practice (at least sugar = peel, 1:1 syrup).
    """
    peel = positive(peel_g, "The peel", "g")
    return {"sugar_g": peel, "water_g": peel}


@kitchen_function
def syrup_with_glucose(syrup_g: float, wanted_percent: float, glucose_percent: float = 20.0) -> Mapping[str, float]:
    """Return sugar, water and glucose syrup for a fresh syrup that stays soft.

    Formula: sugar Y b / 100, water the rest, glucose syrup g % of the sugar.
    The glucose syrup comes on top of the weight.  Units: g and % in, g out.  Limits: 1 to 99 %; glucose 1 to 100 %.
    Source: worked; a fifth of the sugar is common practice.
    """
    made = syrup_to_make(syrup_g, wanted_percent)
    glucose = within(glucose_percent, 1, 100, "The glucose syrup", "%") / 100.0
    return {**made, "glucose_syrup_g": glucose * made["sugar_g"]}


@kitchen_function
def water_for_peel(peel_g: float, times: float = 5.0) -> Mapping[str, float]:
    """Return the water to boil or soak peel in: times x P.

    Units: g.  Limits: 1 to 20 times.  Source: common practice (five times the peel).
    """
    peel = positive(peel_g, "The peel", "g")
    return {"boiling_water_g": peel * within(times, 1, 20, "The times its weight")}


@kitchen_function
def syrup_for_paste(peel_g: float, share: float = 0.7) -> Mapping[str, float]:
    """Return the syrup to blend with candied peel for a paste, and the paste: share x P.

    Units: g.  Limits: share 0.1 to 2.  Source: common practice (seven tenths).
    """
    peel = positive(peel_g, "The peel", "g")
    syrup = peel * within(share, 0.1, 2, "The share of syrup")
    return {"paste_syrup_g": syrup, "paste_g": peel + syrup}


@kitchen_function
def step_up(syrup_g: float, sugar_percent: float) -> Mapping[str, float]:
    """Return the next strength when peel is candied by steps, and the sugar for it: 10 % a day to 65, then 5 to 75.

    Units: g and % in, % and g out.  Limits: 15 to under 75 %.
    Source: course text on glazed and crystallised fruit (30 to 75 °Brix by these steps).
    Contested: candying begins at 15 to 20 % (On Food and Cooking), 30 % or 50 %, and ends at 70 to 74 % or 75 %.
    """
    now = within(sugar_percent, 15, 75, "The sugar", "%")
    if now >= 75.0:
        raise AmountError("At 75 % the last step is done. Drain and dry the peel.")
    following = min(75.0, min(now + 10.0, max(65.0, now + 5.0)))
    return {"next_percent": following, **sugar_to_strengthen(syrup_g, now, following)}


@kitchen_function
def doctor_share(sugar_g: float, glucose_syrup_g: float, invert_g: float = 0.0) -> Mapping[str, float]:
    """Return the share of all dry sugar that is not sucrose, the part that keeps a syrup from graining.

    Formula: (0.77 G + I) / (S + 0.77 G + I).  Units: g in; invert as dry weight; % out.  Errors: no sugar at all.
    Source: USDA Release 28 for glucose syrup; worked.
    """
    doctor = SOLIDS_IN_GLUCOSE_SYRUP * not_negative(glucose_syrup_g, "The glucose syrup", "g")
    doctor += not_negative(invert_g, "The invert sugar", "g")
    return {
        "doctor_percent": 100.0 * doctor / positive(not_negative(sugar_g, "The sugar", "g") + doctor, "All sugar", "g")
    }


@kitchen_function
def glucose_to_add(sugar_g: float, wanted_percent: float, glucose_syrup_g: float = 0.0) -> Mapping[str, float]:
    """Return the glucose syrup still to add for a share of the sugar that is not sucrose.

    Formula: G = p S / ((1 - p) 0.77) - what is in.  Units: g and % in, g out.  Limits: 1 to 60 %.
    Errors: the share is already reached.  Source: worked; 10 to 25 % for dry peel is common practice.
    Contested: a quarter of the sugar from the start, or as much as the sucrose by the end; up to 50 % for wet peel.
    """
    sugar = positive(sugar_g, "The sugar", "g")
    share = within(wanted_percent, 1, 60, "The wanted share", "%") / 100.0
    wanted = share * sugar / ((1.0 - share) * SOLIDS_IN_GLUCOSE_SYRUP)
    add = wanted - not_negative(glucose_syrup_g, "The glucose syrup", "g")
    if add <= 0:
        raise AmountError("This syrup already holds that much glucose. Add none.")
    return {"glucose_syrup_g": add}


@kitchen_function
def grained_pan(sugar_g: float) -> Mapping[str, float]:
    """Return water, glucose syrup and lemon juice that clear a grained pan: 0.25 S, 0.12 S, or 10 ml to the kilogram.

    Units: g in; g and ml out.  Source: common practice (glucose or lemon juice, not both).
    """
    sugar = positive(sugar_g, "The sugar in the pan", "g")
    return {"water_g": 0.25 * sugar, "glucose_syrup_g": 0.12 * sugar, "lemon_juice_ml": 0.01 * sugar}


@kitchen_function
def peel_end_point(altitude_m: float = 0.0) -> Mapping[str, float]:
    """Return where the last boil of peel ends at a height: the boiling point of water there plus 6 to 8 K.

    Units: m in, °C out.  Limits: -500 to 5000 m.  Source: common practice (106 to 108 °C at the sea) with IAPWS-IF97.
    Contested: printed recipes end at 105 to 110 °C.
    """
    water = boiling_point_at_altitude(altitude_m)["boils_c"]
    low, high = PEEL_END_OVER_WATER_K
    return {"end_low_c": water + low, "end_high_c": water + high, "water_boils_c": water}


@kitchen_function
def soaking_time(thickness_mm: float, done_share: float = 0.9) -> Mapping[str, float]:
    """Return the hours sugar takes to even out through a strip, by diffusion from both faces: order of size only.

    Formula: t = 4 l2 / (pi2 D) ln(8 / (pi2 (1 - share))), l half the thickness.
    Twice as thick takes four times as long.
    Units: mm in, h out.  Limits: 0.5 to 30 mm, share 0.5 to 0.99; heat and a hard or soft pith move it several times.
    Source: Crank, first term of the plane sheet; D from published fruit flesh.
    Contested: 1.24e-10 m2/s (cherry) and 2.3e-10 (sapodilla) are used here; litchi is thirty times slower.
    """
    half = within(thickness_mm, 0.5, 30, "The thickness", "mm") / 2000.0
    share = within(done_share, 0.5, 0.99, "The share")
    fourier = 4.0 / math.pi**2 * math.log(8.0 / (math.pi**2 * (1.0 - share)))
    slow, fast = (half**2 * fourier / diffusivity / 3600.0 for diffusivity in DIFFUSIVITY)
    return {"hours_low_h": fast, "hours_high_h": slow}


@kitchen_function
def dried_weight(drained_g: float, loss_percent: float = 10.0) -> Mapping[str, float]:
    """Return what drained peel should weigh when it is dry enough: D (1 - loss / 100).

    Units: g and % in, g out.  Limits: 1 to 30 %.  Source: common practice (5 to 15 % from drained is enough).
    """
    drained = positive(drained_g, "The drained peel", "g")
    water = drained * within(loss_percent, 1, 30, "The loss", "%") / 100.0
    return {"dried_g": drained - water, "water_g": water}


@kitchen_function
def sugar_when_dried(sugar_percent: float, loss_percent: float) -> Mapping[str, float]:
    """Return the strength of peel after it lost water: b / (1 - loss / 100).

    Units: %.  Errors: more loss than there is water.  Source: worked (mass balance).
    """
    sugar = within(sugar_percent, 1, 99, "The sugar", "%")
    loss = within(loss_percent, 0, 99, "The loss", "%")
    if loss > 100.0 - sugar:
        raise AmountError(
            f"Peel of {sugar:.0f} % sugar holds at most {100 - sugar:.0f} % water. It cannot lose {loss:.0f} %."
        )
    return {"sugar_percent": sugar / (1.0 - loss / 100.0)}


def _strengths(syrup_g: float, now: float, wanted: float) -> tuple[float, float, float]:
    return (
        positive(syrup_g, "The syrup", "g"),
        within(now, 1, 99, "The strength", "%"),
        within(wanted, 1, 99, "The wanted strength", "%"),
    )
