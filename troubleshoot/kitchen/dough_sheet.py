"""Figures read off a short dough: ratios to the flour, starch, salt, dough against recipe, heat of the butter.

Weights in grams.  "Flour" counts rice flour, cornflour and semolina with it unless a name says wheat.
"""

from __future__ import annotations

from collections.abc import Mapping

from troubleshoot.kitchen.amounts import not_negative, positive, within
from troubleshoot.kitchen.registry import kitchen_function
from troubleshoot.kitchen.shortbread import BUTTER_WINDOWS, butter_state

#: Fine salt to flour when the butter is unsalted, per cent (common practice: 5 to 7 g to the kilogram).
SALT_SPAN_PERCENT = (0.5, 0.7)


@kitchen_function
def fat_ratio(flour_g: float, butter_g: float) -> Mapping[str, float]:
    """Return the butter for each gram of flour: B / F.

    Units: g in, g per g out.  Limits: flour above nothing.
    Source: worked; 0.67 is the 3 : 2 : 1 dough, 0.55 to 0.75 works (common practice).
    """
    return {"fat_ratio": not_negative(butter_g, "The butter", "g") / positive(flour_g, "The flour", "g")}


@kitchen_function
def sugar_ratio(flour_g: float, sugar_g: float) -> Mapping[str, float]:
    """Return the sugar for each gram of flour: S / F.

    Units: g in, g per g out.  Limits: flour above nothing.
    Source: worked; 0.33 is the 3 : 2 : 1 dough, 0.25 to 0.45 works (common practice).
    """
    return {"sugar_ratio": not_negative(sugar_g, "The sugar", "g") / positive(flour_g, "The flour", "g")}


@kitchen_function
def starch_percent(wheat_g: float, starch_g: float) -> Mapping[str, float]:
    """Return the starch (rice flour, cornflour, semolina) in per cent of all cereal: 100 starch / (wheat + starch).

    Units: g in, % out.  Errors: no cereal at all.  Source: worked; a third at most is common practice.
    """
    starch = not_negative(starch_g, "The starch", "g")
    whole = positive(not_negative(wheat_g, "The wheat flour", "g") + starch, "Wheat flour and starch together", "g")
    return {"starch_percent": 100.0 * starch / whole}


@kitchen_function
def dough_over_recipe(dough_g: float, recipe_g: float) -> Mapping[str, float]:
    """Return how much heavier the dough is than its recipe: 100 (dough - recipe) / recipe, negative when lighter.

    Units: g in, % out.  Limits: both above nothing, without the bowl.
    Source: worked; up to 3 % stays on bowl and hands (common practice).
    """
    recipe = positive(recipe_g, "The recipe", "g")
    return {"over_percent": 100.0 * (positive(dough_g, "The dough", "g") - recipe) / recipe}


@kitchen_function
def salt_for_flour(flour_g: float) -> Mapping[str, float]:
    """Return the fine salt for a dough with unsalted butter, least and most: 0.5 and 0.7 % of the flour.

    Units: g.  Source: common practice (5 to 7 g to the kilogram of flour).
    """
    flour = positive(flour_g, "The flour", "g")
    low, high = SALT_SPAN_PERCENT
    return {"salt_low_g": flour * low / 100.0, "salt_high_g": flour * high / 100.0}


@kitchen_function
def part_of_dough(flour_g: float, butter_g: float, sugar_g: float, percent: float) -> Mapping[str, float]:
    """Return so many per cent of the dough's weight, and the weight of the dough: (F + B + S) p / 100.

    Units: g and % in, g out.  Limits: 0 to 100 %.  Source: worked.
    """
    dough = positive(flour_g, "The flour", "g")
    dough += not_negative(butter_g, "The butter", "g") + not_negative(sugar_g, "The sugar", "g")
    return {"dough_part_g": dough * within(percent, 0, 100, "The part of the dough", "%") / 100.0, "dough_g": dough}


@kitchen_function
def butter_off_window(butter_c: float, work: str = "creaming") -> Mapping[str, float]:
    """Return how far butter is from the heat its work wants: below nothing too cold, above too warm, 0 right.

    Formula: T less the nearer end of the window: creaming 16 to 20 °C, rubbing in 12 to 16, rolling 10 to 18.
    Units: °C in; K and °C out.  Limits: -20 to 40 °C.  Errors: an unknown kind of work.
    Source: common practice; a test kitchen's note has 18 to 19 °C for creaming.
    Contested: one magazine wants butter for shortbread straight from the refrigerator.
    """
    butter_state(butter_c, work)
    low, high = BUTTER_WINDOWS[work]
    return {
        "off_k": min(0.0, butter_c - low) + max(0.0, butter_c - high),
        "butter_low_c": low,
        "butter_high_c": high,
    }
