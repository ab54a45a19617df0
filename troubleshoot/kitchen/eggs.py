"""Eggs: weight classes as published, contents without the shell, eggs to crack, and setting temperatures."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from troubleshoot.errors import AmountError
from troubleshoot.kitchen.amounts import not_negative, positive, within
from troubleshoot.kitchen.registry import kitchen_function

GRAMS_PER_OUNCE = 28.349523125

#: Share of an egg's weight that is left without the shell (worked from US class minimums and contents; mean 0.886).
SHARE_WITHOUT_SHELL = 0.88

#: Shelled contents of an egg from the middle of EU and UK class M, in grams: 58 x 0.88.
MEDIUM_EGG_G = 58.0 * SHARE_WITHOUT_SHELL

#: Water in whole egg, g per g (USDA National Nutrient Database, Release 28, NDB 01123).
WATER_IN_WHOLE_EGG = 0.7615


@dataclass(frozen=True, slots=True)
class EggClass:
    """A weight class: grams in the shell from ``low_g`` to under ``high_g`` (None: no upper limit)."""

    name: str
    low_g: float
    high_g: float | None


#: Commission Regulation (EC) No 589/2008, Article 4: weight of one egg in its shell.
EU_CLASSES: tuple[EggClass, ...] = (
    EggClass("S", 0.0, 53.0),
    EggClass("M", 53.0, 63.0),
    EggClass("L", 63.0, 73.0),
    EggClass("XL", 73.0, None),
)

#: United States Standards, Grades, and Weight Classes for Shell Eggs (AMS 56): least net ounces for a dozen.
US_OUNCES_PER_DOZEN: Mapping[str, float] = {
    "peewee": 15.0,
    "small": 18.0,
    "medium": 21.0,
    "large": 24.0,
    "extra large": 27.0,
    "jumbo": 30.0,
}

#: Grams of whole egg without shell by US class (USDA National Nutrient Database, Release 28, NDB 01123).
US_CONTENTS_G: Mapping[str, float] = {"small": 38.0, "medium": 44.0, "large": 50.0, "extra large": 56.0, "jumbo": 63.0}

#: White and yolk of one large US egg, in grams (the same tables, NDB 01124 and 01125).
US_LARGE_WHITE_G = 33.0
US_LARGE_YOLK_G = 17.0

#: Where egg sets, in °C (On Food and Cooking, 2nd ed., ch. 2; ovotransferrin from a course text on egg white).
FIRST_PROTEIN_SETS_C = 61.0
WHITE_THICKENS_C = 63.0
WHITE_SETS_C = 65.0
YOLK_THICKENS_C = 65.0
YOLK_SETS_C = 70.0
WHOLE_EGG_SETS_C = 73.0
#: Mixing temperature at which egg set and the fat ran out in a choux trial (J. Home Econ. Japan 46(6): 549).
CHOUX_EGG_FAILS_C = 70.0
#: Warmest panade that egg should meet (common practice).
CHOUX_EGG_LIMIT_C = 60.0


def eu_class(egg_in_shell_g: float) -> str:
    """Return the EU and UK weight class of an egg from its weight in the shell, in grams.

    Errors: no weight.  Source: EC 589/2008, Article 4.
    """
    weight = positive(egg_in_shell_g, "The weight of the egg", "g")
    return next(c.name for c in EU_CLASSES if c.high_g is None or weight < c.high_g)


def us_minimum_g(name: str) -> float:
    """Return the least weight in grams of one egg in its shell for a US class (ounces for a dozen x 28.35 / 12).

    Errors: a class of another name.  Source: AMS 56.
    """
    if name not in US_OUNCES_PER_DOZEN:
        raise AmountError(f"There is no US egg class '{name}'. The classes are {', '.join(US_OUNCES_PER_DOZEN)}.")
    return US_OUNCES_PER_DOZEN[name] * GRAMS_PER_OUNCE / 12.0


def eu_contents_g(name: str) -> tuple[float, float]:
    """Return the least and greatest grams without shell in an EU and UK class: class limits x 0.88.

    The open classes S and XL are taken as ten grams wide.  Errors: a class of another name.  Source: worked.
    """
    for found in EU_CLASSES:
        if found.name == name:
            low = found.low_g or 43.0
            high = found.high_g or 83.0
            return low * SHARE_WITHOUT_SHELL, high * SHARE_WITHOUT_SHELL
    raise AmountError(f"There is no egg class '{name}'. The classes are {', '.join(c.name for c in EU_CLASSES)}.")


@kitchen_function
def egg_without_shell(egg_in_shell_g: float) -> Mapping[str, float]:
    """Return the contents and the shell of an egg weighed in its shell: contents = 0.88 x weight.

    Units: g.  Errors: no weight.  Source: worked from AMS 56 and USDA Release 28.
    """
    weight = positive(egg_in_shell_g, "The weight of the egg", "g")
    contents = weight * SHARE_WITHOUT_SHELL
    return {"contents_g": contents, "shell_g": weight - contents}


@kitchen_function
def eggs_needed(egg_g: float, contents_g: float) -> Mapping[str, float]:
    """Return how many eggs to crack for a weight of shelled egg, and what is left over.

    Formula: eggs = weight / contents of one, rounded up.  Units: g in; eggs and g out.  Errors: no weight.
    Source: worked.  A medium egg of EU and UK class M holds 47 to 55 g, 51 in the middle.
    """
    wanted = positive(egg_g, "The egg wanted", "g")
    each = positive(contents_g, "The contents of one egg", "g")
    eggs = math.ceil(wanted / each - 1e-9)
    return {"eggs": float(eggs), "left_over_g": max(0.0, eggs * each - wanted)}


@kitchen_function
def egg_counted(eggs: float, lightest_g: float, heaviest_g: float) -> Mapping[str, float]:
    """Return the least and the most shelled egg that a count of eggs can bring, and the spread between them.

    Formula: count x contents.  Units: eggs and g of contents in; g and % of the least out.
    Errors: no eggs; the heaviest egg is lighter than the lightest.  Source: worked.
    """
    count = positive(eggs, "The number of eggs")
    low = positive(lightest_g, "The lightest egg", "g")
    high = positive(heaviest_g, "The heaviest egg", "g")
    if high < low:
        raise AmountError("The heaviest egg must not be lighter than the lightest one.")
    return {"least_g": count * low, "most_g": count * high, "spread_percent": 100.0 * (high - low) / low}


@kitchen_function
def egg_by_difference(before_g: float, after_g: float, flour_g: float) -> Mapping[str, float]:
    """Return the egg that went in from two weighings, and its ratio to the flour: the difference, and that by F.

    Weigh the jug of beaten egg before and after, or the bowl with its panade before and after the egg.
    Units: g in; g and g per g out.  Errors: two weights that are the same.  Source: worked (mass balance).
    """
    before = not_negative(before_g, "The weight before", "g")
    after = not_negative(after_g, "The weight afterwards", "g")
    egg = abs(before - after)
    if egg <= 0:
        raise AmountError("Both weights are the same, so no egg went in. Weigh the jug again.")
    return {"egg_g": egg, "egg_ratio": egg / positive(flour_g, "The flour", "g")}


@kitchen_function
def egg_into_panade(panade_c: float) -> Mapping[str, float]:
    """Return how far a panade is under the warmest that egg should meet, and under the heat at which egg failed.

    Formula: 60 - T and 70 - T; below nothing it is too hot.  Units: °C in, K out.  Limits: 0 to 120 °C.
    Source: common practice (60 °C at most); J. Home Econ. Japan 46(6): 549, 1995 (at 70 °C egg set and fat ran out).
    Contested: 60 °C at most, 24 to 41 °C by a bakery text, the cooler the better from 15 to 60 °C by that study, warm
    rather than cold by an older book.
    """
    panade = within(panade_c, 0, 120, "The panade", "°C")
    return {"to_limit_k": CHOUX_EGG_LIMIT_C - panade, "to_failure_k": CHOUX_EGG_FAILS_C - panade}
