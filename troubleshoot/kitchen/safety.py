"""Time and temperature limits of the US and the UK as data with their source, and the sums that go with them.

The local food code and the house's written plan come before these figures.  °C, minutes and hours.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from troubleshoot.errors import AmountError
from troubleshoot.kitchen.amounts import not_negative, within
from troubleshoot.kitchen.heat import minutes_to_reach, time_constant_from_readings
from troubleshoot.kitchen.registry import kitchen_function


@dataclass(frozen=True, slots=True)
class Limit:
    """A published limit: a least or greatest value with its unit, and where it stands."""

    value: float
    unit: str
    kind: str
    source: str


_FOOD_CODE = "US FDA Food Code 2022 (figures read in state codes that adopt it)"
_FDA_EGGS = "US FDA, Key Temperatures for Egg Safety in Food Service Operations and Retail Food Stores"
_SI_2013 = "Food Safety and Hygiene (England) Regulations 2013, SI 2013/2996, Schedule 4"
_SR_2006 = "Food Hygiene Regulations (Northern Ireland) 2006, SR 2006/3, Schedule 4"
_WSI_2006 = "Food Hygiene (Wales) Regulations 2006, SI 2006/31, Schedule 4"

LIMITS: Mapping[str, Limit] = {
    "us_cold_hold": Limit(5.0, "degC", "maximum", f"{_FOOD_CODE}, 3-501.16(A)(2): 41 °F"),
    "us_hot_hold": Limit(57.0, "degC", "minimum", f"{_FOOD_CODE}, 3-501.16(A)(1): 135 °F"),
    "us_shell_eggs": Limit(7.0, "degC", "maximum", f"{_FDA_EGGS}: 45 °F"),
    "us_cool_first": Limit(2.0, "h", "maximum", f"{_FOOD_CODE}, 3-501.14(A)(1): 135 to 70 °F"),
    "us_cool_whole": Limit(6.0, "h", "maximum", f"{_FOOD_CODE}, 3-501.14(A)(2): 135 to 41 °F"),
    "us_cool_mixed_cold": Limit(4.0, "h", "maximum", f"{_FOOD_CODE}, 3-501.14(B): from room temperature to 41 °F"),
    "us_out": Limit(4.0, "h", "maximum", f"{_FOOD_CODE}, 3-501.19(B)"),
    "us_out_cool": Limit(6.0, "h", "maximum", f"{_FOOD_CODE}, 3-501.19(C)"),
    "us_out_cool_ceiling": Limit(21.0, "degC", "maximum", f"{_FOOD_CODE}, 3-501.19(C)(1): 70 °F"),
    "us_egg_served_at_once": Limit(63.0, "degC", "minimum", f"{_FDA_EGGS}: 145 °F for 15 s"),
    "us_egg_held": Limit(68.0, "degC", "minimum", f"{_FDA_EGGS}: 155 °F for 17 s"),
    "uk_cold_hold": Limit(8.0, "degC", "maximum", f"{_SI_2013}, para 2(1)"),
    "uk_out": Limit(4.0, "h", "maximum", f"{_SR_2006}, para 5(1): less than four hours, once"),
    "uk_hot_hold": Limit(63.0, "degC", "minimum", f"{_WSI_2006}, para 6"),
    "uk_hot_out": Limit(2.0, "h", "maximum", f"{_WSI_2006}, para 7(2)"),
    "burn_under_water": Limit(20.0, "min", "minimum", "First-aid advice of a UK fire service and ambulance charity"),
    "sulphite_declared": Limit(10.0, "mg/kg", "maximum", "Regulation (EU) No 1169/2011, Annex II, point 12"),
}

#: Regulation (EU) No 1169/2011, Annex II (also UK law).
ALLERGENS_EU_UK = (
    "cereals containing gluten",
    "crustaceans",
    "eggs",
    "fish",
    "peanuts",
    "soybeans",
    "milk",
    "nuts",
    "celery",
    "mustard",
    "sesame",
    "sulphur dioxide and sulphites",
    "lupin",
    "molluscs",
)

#: FALCPA 2004 and FASTER Act 2021.
ALLERGENS_US = (
    "milk",
    "egg",
    "fish",
    "crustacean shellfish",
    "tree nuts",
    "wheat",
    "peanuts",
    "soybeans",
    "sesame",
)

COUNTRIES = ("uk", "us")

#: Seconds that egg must stay at its temperature: served at once, and held (US FDA).
EGG_SECONDS = {"us_egg_served_at_once": 15.0, "us_egg_held": 17.0}


@kitchen_function
def time_out_left(minutes_out: float, warmest_c: float, country: str = "uk") -> Mapping[str, float]:
    """Return how many minutes chilled food may still stay out before it is thrown away.

    Formula: time allowed - time out.  UK: less than 4 h above 8 °C, once.
    US: 4 h above 5 °C, or 6 h if it never passed 21 °C.  At or below the cold
    limit the clock does not run.  Units: min and °C in; min out; ``left_min`` of 0 means throw it away.
    Limits: -40 to 100 °C.  Errors: a country without rules here.
    Source: SR 2006/3 Schedule 4; Food Code 2022, 3-501.19.
    """
    out = not_negative(minutes_out, "The time out of the cold", "min")
    warmest = within(warmest_c, -40, 100, "The warmest reading", "°C")
    _known(country)
    if warmest <= LIMITS[f"{country}_cold_hold"].value:
        out = 0.0
    limit = 60.0 * LIMITS[f"{country}_out"].value
    if country == "us" and warmest <= LIMITS["us_out_cool_ceiling"].value:
        limit = 60.0 * LIMITS["us_out_cool"].value
    return {"limit_min": limit, "left_min": max(0.0, limit - out)}


@kitchen_function
def time_out_own(minutes_out: float, warmest_c: float, cold_limit_c: float, out_limit_h: float) -> Mapping[str, float]:
    """Return how many minutes chilled food may still stay out under the house's own limits.

    Formula: time allowed - time out; at or below the cold limit the clock does not run.
    Units: min, °C and h in; min out; ``left_min`` of 0 means throw it away.  Limits: cold limit -5 to 15 °C, 0 to 12 h.
    Source: the house's written food-safety plan, which must not allow more than the local law.
    """
    out = not_negative(minutes_out, "The time out of the cold", "min")
    if within(warmest_c, -40, 100, "The warmest reading", "°C") <= within(
        cold_limit_c, -5, 15, "The cold limit of the house", "°C"
    ):
        out = 0.0
    limit = 60.0 * within(out_limit_h, 0, 12, "The time allowed by the house", "h")
    return {"limit_min": limit, "left_min": max(0.0, limit - out)}


def must_be_thrown_away(minutes_out: float, warmest_c: float, country: str = "uk") -> bool:
    """Tell whether chilled food has been out too long; see :func:`time_out_left`."""
    return time_out_left(minutes_out, warmest_c, country)["left_min"] <= 0.0


@kitchen_function
def cooling_check(minutes_to_21: float, minutes_to_5: float) -> Mapping[str, float]:
    """Return the minutes left in each step of cooling a cooked filling: 57 to 21 °C in 2 h, to 5 °C in 6 h in all.

    Units: min from 57 °C in; min out, below nothing means too late.  Errors: 5 °C reached before 21 °C.
    Source: US FDA Food Code 2022, 3-501.14(A).  Contested: older codes begin at 60 °C (140 °F) instead of 57.
    """
    first = not_negative(minutes_to_21, "The time to 21 °C", "min")
    whole = not_negative(minutes_to_5, "The time to 5 °C", "min")
    if whole < first:
        raise AmountError("Food passes 21 °C before it reaches 5 °C. The second time must be the longer one.")
    return {
        "first_left_min": 60.0 * LIMITS["us_cool_first"].value - first,
        "whole_left_min": 60.0 * LIMITS["us_cool_whole"].value - whole,
    }


def cooled_in_time(minutes_to_21: float, minutes_to_5: float) -> bool:
    """Tell whether a cooked filling was cooled within both steps; see :func:`cooling_check`."""
    return min(cooling_check(minutes_to_21, minutes_to_5).values()) >= 0.0


@kitchen_function
def cooling_forecast(start_c: float, now_c: float, minutes: float, around_c: float) -> Mapping[str, float]:
    """Return when a filling that is cooling will pass 21 and 5 °C, from two readings, in minutes since the first.

    Formula: time constant from the two readings, then Newton's law; the real pan slows down as it thickens, so this is
    the earliest it can be.  Units: °C and min.  Limits: start above 21 °C, surroundings under 5 °C.
    Errors: surroundings that are too warm to reach 5 °C; readings that do not fall.  Source: worked.
    """
    start = within(start_c, 21.5, 120, "The first reading", "°C")
    around = within(around_c, -40, 100, "The air or bath around", "°C")
    if around >= LIMITS["us_cold_hold"].value:
        raise AmountError(
            "Nothing gets down to 5 °C in surroundings that are not colder than that. Use ice or a fridge."
        )
    constant = time_constant_from_readings(start, now_c, minutes, around)
    return {
        "to_21_min": minutes_to_reach(start, 21.0, around, constant),
        "to_5_min": minutes_to_reach(start, 5.0, around, constant),
    }


@kitchen_function
def egg_cooking(reached_c: float, seconds: float) -> Mapping[str, float]:
    """Return how far an egg dish is over the heat it needs, and the seconds it still has to stay there.

    Formula: temperature - least; seconds - time stayed.  To be served at once: 63 °C for 15 s.
    To be held: 68 °C for 17 s.  Margins below nothing are not hot enough yet.
    Units: °C and s in; K and s out.  Limits: 0 to 120 °C.  Source: US FDA, Key Temperatures for Egg Safety.
    Contested: held egg wants 17 s today, 15 s in codes before 2017.
    """
    reached = within(reached_c, 0, 120, "The temperature", "°C")
    stayed = not_negative(seconds, "The time at that heat", "s")
    return {
        "at_once_margin_k": reached - LIMITS["us_egg_served_at_once"].value,
        "at_once_left_s": max(0.0, EGG_SECONDS["us_egg_served_at_once"] - stayed),
        "held_margin_k": reached - LIMITS["us_egg_held"].value,
        "held_left_s": max(0.0, EGG_SECONDS["us_egg_held"] - stayed),
    }


def egg_safe(reached_c: float, seconds: float, *, held: bool) -> bool:
    """Tell whether an egg dish was hot for long enough to be held, or served at once; see :func:`egg_cooking`."""
    found = egg_cooking(reached_c, seconds)
    which = "held" if held else "at_once"
    return found[f"{which}_margin_k"] >= 0.0 and found[f"{which}_left_s"] <= 0.0


def _known(country: str) -> None:
    if country not in COUNTRIES:
        raise AmountError(f"The rules known here are those of {' and '.join(COUNTRIES)}.")
