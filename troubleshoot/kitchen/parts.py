"""Plain sums with weights: a part of a weight, a ratio, what went missing.

Weights in grams, shares in per cent.  They serve every family, so their messages name no product.
"""

from __future__ import annotations

from collections.abc import Mapping

from troubleshoot.errors import AmountError
from troubleshoot.kitchen.amounts import not_negative, positive, within
from troubleshoot.kitchen.registry import kitchen_function

#: The largest part of a weight that is still called a part of it, in per cent.
MOST_PERCENT = 1000.0


@kitchen_function
def part_of_weight(weight_g: float, percent: float) -> Mapping[str, float]:
    """Return so many per cent of a weight: W p / 100.

    Units: g and % in, g out.  Limits: 0 to 1000 % (100 % is the same weight again).  Source: worked.
    """
    weight = positive(weight_g, "The weight", "g")
    return {"part_g": weight * within(percent, 0, MOST_PERCENT, "The part", "%") / 100.0}


@kitchen_function
def span_of_weight(weight_g: float, low_percent: float, high_percent: float) -> Mapping[str, float]:
    """Return the least and the most of a span given in per cent of a weight: W p / 100 for both ends.

    Units: g and % in, g out.  Limits: 0 to 1000 %.  Errors: the most is under the least.  Source: worked.
    """
    low = within(low_percent, 0, MOST_PERCENT, "The least", "%")
    high = within(high_percent, 0, MOST_PERCENT, "The most", "%")
    if high < low:
        raise AmountError("The most must not be under the least.")
    weight = positive(weight_g, "The weight", "g")
    return {"part_low_g": weight * low / 100.0, "part_high_g": weight * high / 100.0}


@kitchen_function
def weight_ratio(before_g: float, after_g: float) -> Mapping[str, float]:
    """Return the weight afterwards for each gram before: after / before; over 1 when it took something up.

    Units: g in, g per g out.  Limits: the weight before above nothing.  Source: worked.
    """
    return {
        "weight_ratio": not_negative(after_g, "The weight afterwards", "g")
        / positive(before_g, "The weight before", "g")
    }


@kitchen_function
def weight_loss_percent(before_g: float, after_g: float) -> Mapping[str, float]:
    """Return the weight lost in cooking, baking or drying: 100 (before - after) / before.

    Units: g in, % out.  Limits: both weights above nothing, without pan, tray or paper.
    Errors: it weighs more afterwards than before.  Source: worked (mass balance).
    """
    before = positive(before_g, "The weight before", "g")
    after = positive(after_g, "The weight afterwards", "g")
    if after > before:
        raise AmountError(
            "It cannot weigh more afterwards than before. Take the weight of pan, tray and paper off both times."
        )
    return {"loss_percent": 100.0 * (before - after) / before}
