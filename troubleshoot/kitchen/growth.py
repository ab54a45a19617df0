"""What can still grow in syrup or in candied peel: its water activity against published growth limits.

A piece of peel that has evened out holds the water activity of its own syrup.  Strengths in per cent of weight.
"""

from __future__ import annotations

from collections.abc import Mapping

from troubleshoot.kitchen.amounts import within
from troubleshoot.kitchen.registry import kitchen_function
from troubleshoot.kitchen.sucrose import water_activity

#: Least water activity at which each grows (Beuchat, Cereal Foods World 26, 1981); yeasts 0.87 to 0.91, sugar-loving
#: yeasts 0.60 to 0.65, and the low end is taken.
GROWS_FROM: Mapping[str, float] = {"yeast": 0.87, "mould": 0.80, "dry_mould": 0.65, "sugar_yeast": 0.60}

#: Water activity from which a coat of dry sugar dissolves (technical note 0.82 to 0.85), and from which it cakes
#: (J. Food Eng. 77: 887, 2006).
COAT_DISSOLVES_FROM = 0.82
COAT_CAKES_FROM = 0.80


@kitchen_function
def growth_margins(activity: float) -> Mapping[str, float]:
    """Return how far a measured water activity is over the limit of each kind of growth, and over that of a sugar coat.

    Formula: activity less the least that each wants; below nothing it does not grow, or the coat stays dry.
    Units: 0 to 1 in and out.  Limits: 0.2 to 1.
    Source: Beuchat, Cereal Foods World 26, 1981 (yeasts 0.87, moulds 0.80, dry-loving moulds 0.65, sugar-loving yeasts
    0.60); coat by J. Food Eng. 77: 887, 2006 and a technical note.
    Contested: yeasts 0.87 to 0.91, sugar-loving yeasts 0.60 to 0.65, sugar dissolves from 0.82 to 0.85; the low ends
    are used.  A wet spot lets anything grow.
    """
    activity = within(activity, 0.2, 1, "The water activity")
    return {
        **{f"{name}_margin": activity - least for name, least in GROWS_FROM.items()},
        "coat_cakes_margin": activity - COAT_CAKES_FROM,
        "coat_dissolves_margin": activity - COAT_DISSOLVES_FROM,
    }


@kitchen_function
def growth_in_syrup(sugar_percent: float, celsius: float = 25.0) -> Mapping[str, float]:
    """Return the water activity of a syrup, or of peel that holds it, and how far it is over each limit of growth.

    Formula: water activity of sucrose syrup, less the least that each kind wants.
    Units: % of weight and °C in, 0 to 1 out.  Limits: 0 to 90 %, 0 to 60 °C.
    Source: as for growth margins.  Contested: as for growth margins.
    """
    sugar = within(sugar_percent, 0, 90, "The sugar", "%")
    activity = water_activity(sugar, within(celsius, 0, 60, "The syrup", "°C"))["water_activity"]
    return {"water_activity": activity, **growth_margins(activity)}
