"""Cream before the whisk: is it rich enough, cold enough, and what may it be called.

Fat in per cent of weight, temperatures in °C.
"""

from __future__ import annotations

from collections.abc import Mapping

from troubleshoot.errors import AmountError
from troubleshoot.kitchen.amounts import within
from troubleshoot.kitchen.cream import NAMES, PIPING_FAT_PERCENT, WHIPS_FROM_PERCENT
from troubleshoot.kitchen.registry import kitchen_function

#: Least fat that whips by the cautious figure.
WHIPS_SURELY_PERCENT = 35.0

#: Where whipping begins, in °C (On Food and Cooking, 2nd ed., ch. 1).
WHIPPING_SPAN_C = (5.0, 10.0)


@kitchen_function
def whipping_fat(fat_percent: float) -> Mapping[str, float]:
    """Return how far the fat of a cream is over the least that whips, by both published figures, and off for piping.

    Formula: F - 30, F - 35, and F less the nearer end of 36 to 40 %.  Below nothing there is too little.
    Units: % in and out.  Limits: 0 to 70 %.
    Source: On Food and Cooking, 2nd ed., ch. 1, and culinary textbooks (30 %); a newspaper's test (35 %).
    Contested: cream whips from 30 % or from 35 % fat; between the two it may stay soft.
    """
    fat = within(fat_percent, 0, 70, "The fat", "%")
    low, high = PIPING_FAT_PERCENT
    return {
        "over_least_percent": fat - WHIPS_FROM_PERCENT,
        "over_sure_percent": fat - WHIPS_SURELY_PERCENT,
        "off_piping_percent": min(0.0, fat - low) + max(0.0, fat - high),
    }


@kitchen_function
def cream_off_cold(cream_c: float) -> Mapping[str, float]:
    """Return how far cream is from the heat at which whipping begins well: below nothing colder, above too warm.

    Formula: T less the nearer end of 5 to 10 °C; the low end is best.  Units: °C in; K and °C out.
    Limits: -5 to 40 °C.  Source: On Food and Cooking, 2nd ed., ch. 1.
    """
    cream = within(cream_c, -5, 40, "The cream", "°C")
    low, high = WHIPPING_SPAN_C
    return {
        "off_k": min(0.0, cream - low) + max(0.0, cream - high),
        "whip_from_c": low,
        "whip_to_c": high,
    }


@kitchen_function
def cream_by_name(fat_percent: float, cream_name: str) -> Mapping[str, float]:
    """Return how far a cream is over the least fat for its name: F less that fat; below nothing it may not bear it.

    Units: % in and out.  Limits: 0 to 100 %.  Errors: an unknown name.
    Source: UK code of practice for cream; US 21 CFR 131; Australia and New Zealand, Standard 2.5.2.
    Contested: the UK figures stood in law until the regulations of 1996 were revoked; now they are a trade code.
    """
    if cream_name not in NAMES:
        raise AmountError(f"The names of cream known here are {', '.join(NAMES)}.")
    least = NAMES[cream_name]
    return {"over_least_percent": within(fat_percent, 0, 100, "The fat", "%") - least, "least_percent": least}
