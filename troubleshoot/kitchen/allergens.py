"""Allergens that ordinary ingredients bring into each family, by the lists of the EU and UK and of the US.

Labels of what was bought come first: these are what plain recipes hold, and what often comes with them.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from troubleshoot.errors import AmountError
from troubleshoot.kitchen.safety import ALLERGENS_EU_UK, ALLERGENS_US

_LISTS = "Regulation (EU) No 1169/2011, Annex II; FALCPA 2004 and FASTER Act 2021"


@dataclass(frozen=True, slots=True)
class Allergens:
    """What a component always holds, and what to look for on labels; names of the EU and UK list."""

    component: str
    family: str
    always: tuple[str, ...]
    look_for: tuple[str, ...]
    mind: str
    source: str = f"{_LISTS}; by ordinary ingredients (worked)"


#: Allergens by component.
ALLERGENS: tuple[Allergens, ...] = (
    Allergens(
        "Choux",
        "choux",
        ("cereals containing gluten", "eggs", "milk"),
        ("soybeans",),
        "Soya is in many release sprays. No swap for the egg is safe to guess.",
    ),
    Allergens(
        "Shortbread",
        "shortbread",
        ("cereals containing gluten", "milk"),
        ("nuts", "soybeans", "lupin", "sesame"),
        "Flour blends, spreads and almond meal add to the list.",
    ),
    Allergens(
        "Whipped cream",
        "whipped-cream",
        ("milk",),
        ("fish", "soybeans", "sulphur dioxide and sulphites"),
        "Gelatine can be of fish. Fruit and wine can hold sulphites.",
    ),
    Allergens(
        "Dark chocolate",
        "melted-chocolate",
        (),
        ("soybeans", "milk", "nuts", "peanuts"),
        "It often holds milk without naming it large. The bowl takes crumbs of all that is dipped.",
    ),
    Allergens(
        "Milk or white chocolate",
        "melted-chocolate",
        ("milk",),
        ("soybeans", "nuts", "peanuts"),
        "The bowl takes crumbs of all that is dipped.",
    ),
    Allergens(
        "Candied peel",
        "candied-peel",
        (),
        ("sulphur dioxide and sulphites",),
        "Bought peel often holds sulphites, to be declared above 10 mg in 1 kg. Peel made here has none.",
    ),
)

#: Names of the US list for those of the EU and UK list; None where the US list has no such name.
US_NAMES: Mapping[str, str | None] = {
    "cereals containing gluten": "wheat",
    "crustaceans": "crustacean shellfish",
    "eggs": "egg",
    "fish": "fish",
    "peanuts": "peanuts",
    "soybeans": "soybeans",
    "milk": "milk",
    "nuts": "tree nuts",
    "celery": None,
    "mustard": None,
    "sesame": "sesame",
    "sulphur dioxide and sulphites": None,
    "lupin": None,
    "molluscs": None,
}


def allergens_of(component: str) -> Allergens:
    """Return the allergens of a component.  Errors: an unknown component."""
    for found in ALLERGENS:
        if found.component == component:
            return found
    raise AmountError(f"The components known here are {', '.join(found.component for found in ALLERGENS)}.")


def by_us_names(names: tuple[str, ...]) -> tuple[str, ...]:
    """Return the names of the US list for names of the EU and UK list; what the US list does not hold is left out."""
    unknown = [name for name in names if name not in ALLERGENS_EU_UK]
    if unknown:
        raise AmountError(f"'{unknown[0]}' is no name of the EU and UK list. It holds {', '.join(ALLERGENS_EU_UK)}.")
    found = (US_NAMES[name] for name in names)
    return tuple(name for name in found if name in ALLERGENS_US)
