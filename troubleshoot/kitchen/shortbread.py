"""Shortbread: balance and water of the dough, missing or surplus ingredients, butter and flour, portions and the bake.

The dough meant holds flour, butter and sugar only, near 3 : 2 : 1 by weight.  Weights in grams, sizes in millimetres.
"""

from __future__ import annotations

from collections.abc import Mapping
from enum import Enum

from troubleshoot.errors import AmountError
from troubleshoot.kitchen.amounts import not_negative, positive, within
from troubleshoot.kitchen.registry import kitchen_function

#: Butter and sugar to flour in the 3 : 2 : 1 dough, and the spans that still work (common practice).
BUTTER_TO_FLOUR = 2.0 / 3.0
SUGAR_TO_FLOUR = 1.0 / 3.0
BUTTER_SPAN = (0.55, 0.75)
SUGAR_SPAN = (0.25, 0.45)

#: Water, g per g (USDA National Nutrient Database, Release 28: NDB 20081 plain flour, 01145 unsalted butter,
#: 19335 sugar).  EU and UK law lets butter hold 16 % at most.
WATER_IN_FLOUR = 0.1192
WATER_IN_BUTTER_PERCENT = 17.94
WATER_IN_SUGAR = 0.0002

#: Water of sold shortbread, per cent (USDA Release 28, NDB 18192).
BAKED_WATER_PERCENT = 3.6

#: Salt to flour when the butter is unsalted (common practice).
SALT_TO_FLOUR = 0.007

#: Butter temperatures in °C, common practice (for creaming most write 18 to 19).
BUTTER_WINDOWS: Mapping[str, tuple[float, float]] = {
    "creaming": (16.0, 20.0),
    "rubbing": (12.0, 16.0),
    "rolling": (10.0, 18.0),
}

#: Protein of flour by name, per cent (a baking reference on flour strength).
FLOUR_PROTEIN: Mapping[str, tuple[float, float]] = {
    "cake": (7.0, 9.0),
    "pastry": (9.0, 10.0),
    "plain": (10.0, 12.0),
    "bread": (12.5, 13.5),
}

#: Protein that short doughs want at most, per cent (Encyclopaedia of Food Science, biscuits: under 9.5).
SHORT_DOUGH_PROTEIN_PERCENT = 9.5

#: Most starch that can stand for flour, as a share of all cereal (common practice: a quarter to a third).
MOST_STARCH_SHARE = 1.0 / 3.0

#: Bake of a piece of 8 mm at 160 °C, in minutes (common practice: 18 to 25).
BAKE_8_MM_MIN = 21.0


class ButterState(Enum):
    """Butter against the window for the work."""

    TOO_COLD = "too cold"
    RIGHT = "right"
    TOO_WARM = "too warm"


@kitchen_function
def dough_balance(flour_g: float, butter_g: float, sugar_g: float) -> Mapping[str, float]:
    """Return butter and sugar to flour, and how far each lies outside its working span (0 inside, negative below).

    Formula: B / F and S / F, less the nearer end of 0.55 to 0.75 and 0.25 to 0.45.  Units: g in; g per g out.
    Limits: flour above nothing.
    Source: 3 : 2 : 1 (a book of ratios, 2009); spans 0.55 to 0.75 and 0.25 to 0.45 are common practice.
    """
    flour = positive(flour_g, "The flour", "g")
    butter = not_negative(butter_g, "The butter", "g") / flour
    sugar = not_negative(sugar_g, "The sugar", "g") / flour
    return {
        "butter_ratio": butter,
        "sugar_ratio": sugar,
        "butter_off_ratio": _outside(butter, BUTTER_SPAN),
        "sugar_off_ratio": _outside(sugar, SUGAR_SPAN),
    }


@kitchen_function
def dough_water(
    flour_g: float,
    butter_g: float,
    sugar_g: float,
    butter_water_percent: float = WATER_IN_BUTTER_PERCENT,
    liquid_g: float = 0.0,
) -> Mapping[str, float]:
    """Return the water of the raw dough, from flour, butter and any liquid, and the wet part for each gram of flour.

    Formula: (0.1192 F + w B + L) / whole; wet part = (w B + L) / F.  Units: g and % in; %, g and g per g out.
    Limits: butter water 0 to 60 % (a spread of 40 % fat holds 60).  Source: USDA Release 28; worked.
    Contested: butter holds 15.87 % (USDA, salted) or 17.94 % (USDA, unsalted); EU, UK and Codex allow 16 % at most.
    """
    flour = positive(flour_g, "The flour", "g")
    butter = not_negative(butter_g, "The butter", "g")
    sugar = not_negative(sugar_g, "The sugar", "g")
    liquid = not_negative(liquid_g, "The liquid", "g")
    wet = butter * within(butter_water_percent, 0, 60, "The water of the butter", "%") / 100.0 + liquid
    water = WATER_IN_FLOUR * flour + WATER_IN_SUGAR * sugar + wet
    return {
        "water_percent": 100.0 * water / (flour + butter + sugar + liquid),
        "water_g": water,
        "free_water_ratio": wet / flour,
    }


@kitchen_function
def butter_to_add(flour_g: float, butter_g: float, wanted_ratio: float = BUTTER_TO_FLOUR) -> Mapping[str, float]:
    """Return the butter missing in a dry dough and the salt that goes with it: r F - B.

    Units: g.  Errors: the dough holds that much butter.  Source: worked (mass balance); salt common practice.
    """
    flour = positive(flour_g, "The flour", "g")
    missing = within(wanted_ratio, 0.3, 1.0, "The wanted butter ratio") * flour - not_negative(
        butter_g, "The butter", "g"
    )
    if missing <= 0:
        raise AmountError("This dough already holds that much butter to its flour. Add none.")
    return {"butter_g": missing, "salt_g": SALT_TO_FLOUR * missing}


@kitchen_function
def sugar_missing(flour_g: float, sugar_g: float, wanted_ratio: float = SUGAR_TO_FLOUR) -> Mapping[str, float]:
    """Return the sugar missing in a dough: r F - S.

    Units: g.  Errors: the dough holds that much sugar.  Source: worked (mass balance).
    """
    flour = positive(flour_g, "The flour", "g")
    missing = within(wanted_ratio, 0.1, 0.6, "The wanted sugar ratio") * flour - not_negative(sugar_g, "The sugar", "g")
    if missing <= 0:
        raise AmountError("This dough already holds that much sugar to its flour. Add none.")
    return {"sugar_g": missing}


@kitchen_function
def after_too_much_butter(flour_g: float, butter_g: float) -> Mapping[str, float]:
    """Return flour and sugar that bring surplus butter back to 3 : 2 : 1: 1.5 b and 0.5 b, b = B - 0.667 F.

    Units: g.  Errors: there is no surplus.  Source: worked (mass balance).
    """
    surplus = _surplus(butter_g, BUTTER_TO_FLOUR * positive(flour_g, "The flour", "g"), "butter")
    return {"surplus_g": surplus, "flour_g": 1.5 * surplus, "sugar_g": 0.5 * surplus}


@kitchen_function
def after_too_much_sugar(flour_g: float, sugar_g: float) -> Mapping[str, float]:
    """Return flour and butter that bring surplus sugar back to 3 : 2 : 1: 3 x and 2 x, x = S - 0.333 F.

    Units: g.  Errors: there is no surplus.  Source: worked (mass balance).
    """
    surplus = _surplus(sugar_g, SUGAR_TO_FLOUR * positive(flour_g, "The flour", "g"), "sugar")
    return {"surplus_g": surplus, "flour_g": 3.0 * surplus, "butter_g": 2.0 * surplus}


@kitchen_function
def after_too_much_flour(dough_g: float, recipe_g: float) -> Mapping[str, float]:
    """Return butter and sugar for flour that was over-measured, found by weighing the dough: 0.667 x and 0.333 x.

    Formula: x = dough weighed - sum of the recipe.  Units: g.  Errors: the dough is not heavier than the recipe.
    Source: worked (mass balance).
    """
    surplus = _surplus(dough_g, positive(recipe_g, "The recipe", "g"), "flour")
    return {"surplus_g": surplus, "butter_g": BUTTER_TO_FLOUR * surplus, "sugar_g": SUGAR_TO_FLOUR * surplus}


@kitchen_function
def after_too_much_starch(flour_g: float, starch_g: float) -> Mapping[str, float]:
    """Return the plain flour that makes starch a third of the cereal, with its butter and sugar: y = 2 starch - flour.

    Units: g.  Errors: the starch is a third or less.  Source: worked; a third at most is common practice.
    """
    flour = not_negative(flour_g, "The wheat flour", "g")
    add = 2.0 * positive(starch_g, "The starch", "g") - flour
    if add <= 0:
        raise AmountError("Starch is a third of the cereal or less here. It needs no more flour.")
    return {"flour_g": add, "butter_g": BUTTER_TO_FLOUR * add, "sugar_g": SUGAR_TO_FLOUR * add}


@kitchen_function
def soften_flour(flour_g: float, protein_percent: float) -> Mapping[str, float]:
    """Return the part of strong flour to swap for cornflour or rice flour: share 1 - 9.5 / protein, a third at most.

    Units: g and % in; g and share out; ``protein_after_percent`` tells what is left.  Limits: 6 to 18 %.
    Errors: the flour is soft enough.  Source: Encyclopaedia of Food Science (under 9.5 % for short doughs); worked.
    """
    flour = positive(flour_g, "The flour", "g")
    protein = within(protein_percent, 6, 18, "The protein of the flour", "%")
    if protein <= SHORT_DOUGH_PROTEIN_PERCENT:
        raise AmountError(f"Flour of {protein:.1f} % protein is soft enough for a short dough. Swap none.")
    share = min(MOST_STARCH_SHARE, 1.0 - SHORT_DOUGH_PROTEIN_PERCENT / protein)
    return {
        "starch_g": share * flour,
        "flour_g": (1.0 - share) * flour,
        "starch_share": share,
        "protein_after_percent": (1.0 - share) * protein,
    }


def butter_state(butter_c: float, work: str) -> ButterState:
    """Return whether butter is too cold, right or too warm for creaming, rubbing or rolling.

    Limits: -20 to 40 °C; the ends of a window count as right.  Errors: an unknown kind of work.
    Source: see :data:`BUTTER_WINDOWS`.
    """
    if work not in BUTTER_WINDOWS:
        raise AmountError(f"The work must be one of {', '.join(BUTTER_WINDOWS)}.")
    low, high = BUTTER_WINDOWS[work]
    degrees = within(butter_c, -20, 40, "The butter", "°C")
    if degrees < low:
        return ButterState.TOO_COLD
    return ButterState.TOO_WARM if degrees > high else ButterState.RIGHT


@kitchen_function
def spread(cutter_mm: float, baked_mm: float) -> Mapping[str, float]:
    """Return how much wider a biscuit baked than it was cut: 100 (baked - cut) / cut, negative when it drew in.

    Units: mm in, % out.  Limits: both above nothing.  Source: worked; 3 % smaller to 8 % wider is common practice.
    """
    cut = positive(cutter_mm, "The cutter", "mm")
    return {"spread_percent": 100.0 * (positive(baked_mm, "The baked biscuit", "mm") - cut) / cut}


@kitchen_function
def bake_time(thickness_mm: float, known_mm: float = 8.0, known_min: float = BAKE_8_MM_MIN) -> Mapping[str, float]:
    """Return about how long a thickness bakes, from one that is known: t (d2 / d1)^1.5.

    The power lies between 1 (heat and steam held up at the surface) and 2 (held up inside).
    Units: mm and min.  Limits: 3 to 30 mm, within three times the known thickness.
    Source: worked; common practice has 18 to 25 min for 8 mm and 40 to 60 min for a ring of 15 mm, 150 to 170 °C.
    """
    new = within(thickness_mm, 3, 30, "The thickness", "mm")
    known = within(known_mm, 3, 30, "The known thickness", "mm")
    if not known / 3 <= new <= 3 * known:
        raise AmountError("One thickness must not be over three times the other. Bake a test piece instead.")
    return {"bake_min": positive(known_min, "The known time", "min") * (new / known) ** 1.5}


@kitchen_function
def loss_to_water(raw_water_percent: float, baked_water_percent: float = BAKED_WATER_PERCENT) -> Mapping[str, float]:
    """Return the weight that a dough loses to reach a water content: 100 (w - b) / (100 - b).

    Units: %.  Errors: the biscuit is to be wetter than the dough.  Source: worked (mass balance).
    """
    raw = within(raw_water_percent, 0, 60, "The water of the dough", "%")
    baked = within(baked_water_percent, 0, 60, "The water of the biscuit", "%")
    if baked > raw:
        raise AmountError("A baked biscuit cannot hold more water than its dough.")
    return {"loss_percent": 100.0 * (raw - baked) / (100.0 - baked)}


@kitchen_function
def water_left(raw_water_percent: float, raw_g: float, baked_g: float) -> Mapping[str, float]:
    """Return the water a biscuit still holds, from its weights before and after: (water in - loss) / baked.

    Units: % and g in; % of the baked piece, and % of weight lost, out.
    Errors: it got heavier; it lost more than all its water (weigh again, or bits broke off).  Source: worked.
    """
    raw = positive(raw_g, "The raw piece", "g")
    baked = positive(baked_g, "The baked piece", "g")
    water = raw * within(raw_water_percent, 0, 60, "The water of the dough", "%") / 100.0 - (raw - baked)
    if baked > raw:
        raise AmountError("A baked piece cannot weigh more than the raw one. Take tray and paper off.")
    if water < 0:
        raise AmountError("This piece lost more than all its water. Weigh again, or look for pieces broken off.")
    return {"water_percent": 100.0 * water / baked, "loss_percent": 100.0 * (raw - baked) / raw}


def _outside(value: float, span: tuple[float, float]) -> float:
    return min(0.0, value - span[0]) + max(0.0, value - span[1])


def _surplus(found_g: float, right_g: float, what: str) -> float:
    surplus = not_negative(found_g, "The weight found", "g") - right_g
    if surplus <= 0:
        raise AmountError(f"There is no {what} too much here. Add nothing.")
    return surplus
