"""The balance of a choux recipe against the spans of seven published formulas.

Three ratios go by the flour.  The fourth, egg to liquid, catches what the others miss: a formula with little egg can
take half as much again and still lie inside the egg to flour span, but then its egg outweighs its liquid.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum

from troubleshoot.kitchen.amounts import not_negative, positive
from troubleshoot.kitchen.registry import kitchen_function

#: Spans of the seven published formulas listed in tests/published/test_choux_formulas.py, in grams per gram.
SPANS: Mapping[str, tuple[float, float]] = {
    "liquid_ratio": (1.60, 2.10),
    "egg_ratio": (1.33, 2.01),
    "fat_ratio": (0.50, 1.00),
    "egg_to_liquid_ratio": (0.80, 1.05),
}


class Standing(Enum):
    """Where a ratio lies against the published span."""

    LOW = "low"
    INSIDE = "inside"
    HIGH = "high"


@dataclass(frozen=True, slots=True)
class RecipeBalance:
    """Where each ratio of a recipe stands."""

    liquid: Standing
    egg: Standing
    fat: Standing
    egg_to_liquid: Standing

    @property
    def inside(self) -> bool:
        """Whether every ratio lies inside its span."""
        return all(standing is Standing.INSIDE for standing in (self.liquid, self.egg, self.fat, self.egg_to_liquid))

    @property
    def egg_standing(self) -> Standing:
        """The egg as a whole: low or high as soon as either of its two ratios is; a ratio by flour speaks first."""
        return self.egg if self.egg is not Standing.INSIDE else self.egg_to_liquid


@kitchen_function
def egg_to_liquid(egg_g: float, liquid_g: float) -> Mapping[str, float]:
    """Return how many grams of egg there are for each gram of water and milk.

    Formula: egg / liquid.
    Units: g in, g per g out.
    Limits: liquid above nothing, egg not negative.
    Source: seven published formulas hold 0.80 to 1.05 (worked).
    """
    return {
        "egg_to_liquid_ratio": not_negative(egg_g, "The egg", "g") / positive(liquid_g, "The liquid", "g"),
    }


@kitchen_function
def recipe_balance(flour_g: float, liquid_g: float, butter_g: float, egg_g: float) -> Mapping[str, float]:
    """Return the four ratios of a choux recipe, and how many of them lie outside the published spans.

    Formula: liquid / flour, egg / flour, butter / flour, egg / liquid.
    Units: g in, g per g out; ``outside_spans`` is a count.
    Limits: flour and liquid above nothing.  Source: spans worked from seven published formulas.
    """
    flour = positive(flour_g, "The flour", "g")
    liquid = positive(liquid_g, "The liquid", "g")
    butter = not_negative(butter_g, "The butter", "g")
    egg = not_negative(egg_g, "The egg", "g")
    ratios = {
        "liquid_ratio": liquid / flour,
        "egg_ratio": egg / flour,
        "fat_ratio": butter / flour,
        "egg_to_liquid_ratio": egg / liquid,
    }
    outside = sum(standing(name, value) is not Standing.INSIDE for name, value in ratios.items())
    return {**ratios, "outside_spans": float(outside)}


def judge_balance(flour_g: float, liquid_g: float, butter_g: float, egg_g: float) -> RecipeBalance:
    """Return where each ratio of the recipe stands; see :func:`recipe_balance` for units, limits and source."""
    ratios = recipe_balance(flour_g, liquid_g, butter_g, egg_g)
    return RecipeBalance(
        liquid=standing("liquid_ratio", ratios["liquid_ratio"]),
        egg=standing("egg_ratio", ratios["egg_ratio"]),
        fat=standing("fat_ratio", ratios["fat_ratio"]),
        egg_to_liquid=standing("egg_to_liquid_ratio", ratios["egg_to_liquid_ratio"]),
    )


def standing(ratio: str, value: float) -> Standing:
    """Return where ``value`` lies against the span of ``ratio``; the ends of a span count as inside."""
    low, high = SPANS[ratio]
    if value < low:
        return Standing.LOW
    return Standing.HIGH if value > high else Standing.INSIDE
