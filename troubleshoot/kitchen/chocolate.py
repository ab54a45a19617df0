"""Chocolate: tempering curve, seed and heat, cooling, seized chocolate, ganache, and thinning with cocoa butter.

Weights in grams, temperatures in °C.  The kinds of chocolate are dark, milk and white.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from troubleshoot.errors import AmountError
from troubleshoot.kitchen.amounts import not_negative, positive, within
from troubleshoot.kitchen.heat import minutes_to_reach
from troubleshoot.kitchen.registry import kitchen_function

COATINGS = ("dark", "milk", "white")

#: Answers that leave the kind open: milk and white together are worked as milk, a ganache as dark, the usual one.
ANSWERED_AS: Mapping[str, str] = {"milk_white": "milk", "ganache_glaze": "dark"}

#: Specific heat in J/(g K), below 40 °C and from there on.
#: Industrial Chocolate Manufacture and Use, 4th ed., pp. 667-668.
CP_BELOW_40 = 1.59
CP_ABOVE_40 = 1.67

#: Heat of melting in J/g (the same, after Chevalley et al. 1970); white is not given there and taken as milk.
LATENT: Mapping[str, float] = {"dark": 46.0, "milk": 44.0, "white": 44.0}

#: Melting point of cocoa butter forms in °C (Wille and Lutton 1966, figures read second-hand).
FORMS: Mapping[str, float] = {"I": 17.3, "II": 23.3, "III": 25.5, "IV": 27.3, "V": 33.8, "VI": 36.3}

#: Shiny solid chocolate to melted chocolate when it is given by share (common practice: 0.15 to 0.33).
SEED_SHARE = 0.2

#: Water needed to bring seized chocolate to a smooth sauce, g for each g: least, and the safe span.
#: Published: 20 % (a chocolate science text, second-hand), 26 % (a spoon for two ounces), 33 % (a cookbook).
SEIZED_LEAST = 0.20
SEIZED_SAFE = (0.26, 0.33)

#: Water in heavy cream and in whole milk (USDA National Nutrient Database, Release 28, NDB 01053 and 01077).
WATER_IN_CREAM = 0.5781
WATER_IN_MILK = 0.8813

#: Specific heat of whipping cream in J/(g K), from its water and fat (4.18 and 2.0; worked).
CP_CREAM = 3.25

#: Chocolate for each gram of cream, least and most, by kind and use (common practice, tied to use).
GANACHE: Mapping[tuple[str, str], tuple[float, float]] = {
    ("dark", "glaze"): (0.5, 1.0),
    ("dark", "filling"): (1.0, 1.0),
    ("dark", "truffle"): (2.0, 2.0),
    ("milk", "glaze"): (1.5, 1.5),
    ("milk", "filling"): (1.5, 2.0),
    ("milk", "truffle"): (3.0, 3.0),
    ("white", "glaze"): (2.0, 2.0),
    ("white", "filling"): (2.0, 3.0),
    ("white", "truffle"): (3.0, 3.0),
}


@dataclass(frozen=True, slots=True)
class Curve:
    """A tempering curve: spans of the melt, the cooling point and the working heat, and where temper is lost, in °C."""

    melt: tuple[float, float]
    cool: tuple[float, float]
    work: tuple[float, float]
    lost_above: float


#: Spans over three published tables (On Food and Cooking, 2nd ed., ch. 12, and two chocolate schools' charts).
CURVES: Mapping[str, Curve] = {
    "dark": Curve((45.0, 55.0), (27.0, 29.0), (31.0, 32.0), 34.5),
    "milk": Curve((40.0, 50.0), (27.0, 28.0), (29.0, 31.0), 32.5),
    "white": Curve((40.0, 50.0), (24.0, 27.0), (27.0, 30.0), 31.5),
}


@kitchen_function
def tempering_curve(coating: str) -> Mapping[str, float]:
    """Return the tempering curve of dark, milk or white chocolate: melt, cooling point, working heat, temper lost.

    Units: °C.  Errors: an unknown kind.
    Source: spans over three published tables (On Food and Cooking, 2nd ed., ch. 12, and two chocolate schools' charts).
    Contested: the working heat of white is 27 to 28, 28 to 29 or 29 to 30 °C.  The cooling point of dark is 27 or 28 to
    29, that of white 24 to 25, 26 to 27 or 27.
    """
    curve = CURVES[_kind(coating)]
    return {
        "melt_low_c": curve.melt[0],
        "melt_high_c": curve.melt[1],
        "cool_low_c": curve.cool[0],
        "cool_high_c": curve.cool[1],
        "work_low_c": curve.work[0],
        "work_high_c": curve.work[1],
        "lost_above_c": curve.lost_above,
    }


@kitchen_function
def off_working_heat(coating: str, chocolate_c: float) -> Mapping[str, float]:
    """Return how far chocolate is from its working span: below nothing too cool, above too warm, 0 inside.

    Units: °C in, K out; ``to_lost_k`` is what is left before temper is lost.  Limits: 0 to 120 °C.
    Errors: an unknown kind.  Source: as for tempering curve.  Contested: as for tempering curve.
    """
    curve = CURVES[_kind(coating)]
    now = within(chocolate_c, 0, 120, "The chocolate", "°C")
    low, high = curve.work
    return {"off_k": min(0.0, now - low) + max(0.0, now - high), "to_lost_k": curve.lost_above - now}


@kitchen_function
def heat_to_warm(chocolate_g: float, from_c: float, to_c: float) -> Mapping[str, float]:
    """Return the heat to warm chocolate without melting: 1.59 J/(g K) below 40 °C and 1.67 above (negative: given off).

    Units: g and °C in, kJ out.  Limits: 0 to 120 °C.
    Source: Industrial Chocolate Manufacture and Use, 4th ed., pp. 667-668.
    """
    weight = positive(chocolate_g, "The chocolate", "g")
    low = within(from_c, 0, 120, "The first temperature", "°C")
    high = within(to_c, 0, 120, "The second temperature", "°C")
    return {"heat_kj": weight * (_enthalpy(high) - _enthalpy(low)) / 1000.0}


@kitchen_function
def heat_to_melt(chocolate_g: float, from_c: float, to_c: float, coating: str = "dark") -> Mapping[str, float]:
    """Return the heat to melt solid chocolate and bring it to a temperature: sensible heat plus heat of melting.

    Units: g and °C in; kJ out, and seconds at 1000 W that all go into it (a floor: bowl and losses are left out).
    Limits: from below 33 °C to 34 °C or above.  Source: as for :func:`heat_to_warm`.
    """
    start = within(from_c, 0, 33, "The solid chocolate", "°C")
    end = within(to_c, 34, 120, "The melted chocolate", "°C")
    heat = heat_to_warm(chocolate_g, start, end)["heat_kj"] + chocolate_g * LATENT[_kind(coating)] / 1000.0
    return {"heat_kj": heat, "seconds_at_1000_w": heat}


@kitchen_function
def seed_for_temper(
    chocolate_g: float,
    chocolate_c: float,
    seed_c: float,
    wanted_c: float,
    coating: str = "dark",
    melted_share: float = 1.0,
) -> Mapping[str, float]:
    """Return the solid seed whose warming and melting cools the bowl to a temperature, by heat balance.

    Formula: m = M (h(T) - h(W)) / (h(W) - h(s) + share x latent); h is sensible heat, the bowl is left out.
    Units: g and °C in; g and % of the chocolate out.  Limits: seed colder than the wanted heat, share 0.2 to 1.
    Errors: the bowl is not warmer than wanted.
    Source: worked from published thermal data; common practice gives 15 to 33 %, more from a hotter bowl.
    """
    weight = positive(chocolate_g, "The melted chocolate", "g")
    bowl = within(chocolate_c, 20, 120, "The melted chocolate", "°C")
    wanted = within(wanted_c, 20, 60, "The wanted temperature", "°C")
    seed = within(seed_c, 0, 33, "The seed", "°C")
    share = within(melted_share, 0.2, 1, "The share of the seed that melts")
    if bowl <= wanted:
        raise AmountError(f"The bowl is at {bowl:.1f} °C, which is not above {wanted:.1f} °C. Seed can only cool it.")
    if seed >= wanted:
        raise AmountError("The seed must be colder than the chocolate is to become.")
    taken_up = _enthalpy(wanted) - _enthalpy(seed) + share * LATENT[_kind(coating)]
    mass = weight * (_enthalpy(bowl) - _enthalpy(wanted)) / taken_up
    return {"seed_g": mass, "seed_percent": 100.0 * mass / weight}


@kitchen_function
def seed_by_share(chocolate_g: float, share: float = SEED_SHARE) -> Mapping[str, float]:
    """Return the seed as a share of the melted chocolate: share x M.

    Units: g.  Limits: 0.01 to 0.5.  Source: common practice (0.15 to 0.33 of chopped chocolate, 0.01 of powder).
    """
    return {"seed_g": positive(chocolate_g, "The chocolate", "g") * within(share, 0.01, 0.5, "The share of seed")}


@kitchen_function
def bowl_cooling(
    chocolate_c: float, wanted_c: float, room_c: float, time_constant_min: float = 45.0
) -> Mapping[str, float]:
    """Return how long a stirred bowl takes to cool to a temperature: k ln((T - room) / (W - room)).

    Units: °C and min.  Limits: no setting heat; a stirred metal bowl of 1 kg has a time constant of about 45 min
    (worked: 1590 J/K over 0.06 m2 at 10 W/(m2 K)).  Errors: a temperature that the room never gives.
    Source: Newton's law of cooling.
    """
    return {"minutes_min": minutes_to_reach(chocolate_c, wanted_c, room_c, time_constant_min)}


@kitchen_function
def bowl_rewarming(
    chocolate_c: float, wanted_c: float, bath_c: float, coating: str = "dark", time_constant_min: float = 45.0
) -> Mapping[str, float]:
    """Return how long a stirred bowl takes to come back to its working heat over a bath, by one temperature for all.

    Formula: k ln((bath - T) / (bath - W)).  Units: °C and min in; min out, and K left before temper is lost.
    Limits: bath up to 60 °C; the time constant of 45 min is that of air, over steam or in water it is a third and less.
    Errors: a heat at which temper is lost; a bath that is not warmer than wanted.
    Source: Newton's law of cooling; where temper is lost as in the tempering curve.
    """
    lost = CURVES[_kind(coating)].lost_above
    wanted = within(wanted_c, 20, 60, "The wanted temperature", "°C")
    if wanted > lost:
        raise AmountError(f"Above {lost:.1f} °C this chocolate loses its temper. Melt it and temper afresh instead.")
    bath = within(bath_c, 0, 60, "The bath", "°C")
    minutes = minutes_to_reach(within(chocolate_c, 0, wanted, "The chocolate", "°C"), wanted, bath, time_constant_min)
    return {"minutes_min": minutes, "to_lost_k": lost - wanted}


@kitchen_function
def liquid_for_seized(chocolate_g: float, water_in_g: float = 0.0) -> Mapping[str, float]:
    """Return the liquid that brings seized chocolate to a smooth sauce, less the water already in it.

    Formula: water = share x W - water in, share 0.20 at least and 0.26 to 0.33 safe; cream counts by its 57.8 % of
    water, milk by its 88.1 %.  Units: g.  Errors: no chocolate.  It never coats again.
    Source: a chocolate science text (20 %, read second-hand), a spoon to two ounces (26 %), a cookbook (33 %); USDA
    Release 28 for cream and milk.
    Contested: 20, 26 or 33 % of the chocolate's weight.  One cookbook gives fat by the teaspoon instead, which loosens
    only slightly tightened chocolate.
    """
    chocolate = positive(chocolate_g, "The chocolate", "g")
    inside = not_negative(water_in_g, "The water already in", "g")
    least, low, high = (max(0.0, share * chocolate - inside) for share in (SEIZED_LEAST, *SEIZED_SAFE))
    return {
        "least_water_g": least,
        "water_low_g": low,
        "water_high_g": high,
        "cream_low_g": low / WATER_IN_CREAM,
        "cream_high_g": high / WATER_IN_CREAM,
        "milk_low_g": low / WATER_IN_MILK,
        "milk_high_g": high / WATER_IN_MILK,
    }


@kitchen_function
def ganache_chocolate(cream_g: float, coating: str = "dark", use: str = "glaze") -> Mapping[str, float]:
    """Return the chocolate for a weight of cream, least and most, by kind and use: ratio x cream.

    Units: g.  Errors: an unknown kind or use.  Source: common practice (dark 0.5 to 2, milk 1.5 to 3, white 2 to 3).
    Contested: for all uses one page has milk 1.5 and white 2, others milk 3 and white 3; it depends on the use.
    """
    low, high = ganache_span(coating, use)
    cream = positive(cream_g, "The cream", "g")
    return {"chocolate_low_g": low * cream, "chocolate_high_g": high * cream}


def ganache_span(coating: str, use: str) -> tuple[float, float]:
    """Return chocolate for each gram of cream, least and most.  Errors and source: see :func:`ganache_chocolate`."""
    uses = sorted({name for _, name in GANACHE})
    if use not in uses:
        raise AmountError(f"The uses of ganache known here are {', '.join(uses)}.")
    return GANACHE[_kind(coating), use]


@kitchen_function
def ganache_firmer(chocolate_g: float, cream_g: float, wanted_ratio: float) -> Mapping[str, float]:
    """Return the chocolate to melt into a ganache that is too soft: (r2 - r1) L.

    Units: g; ratio is chocolate to cream.  Errors: the ganache is already as firm.  Source: worked (mass balance).
    """
    chocolate, cream, wanted = _ganache(chocolate_g, cream_g, wanted_ratio)
    if chocolate >= wanted * cream:
        raise AmountError(f"This ganache holds {chocolate / cream:.2f} g of chocolate to each gram of cream. Add none.")
    return {"chocolate_g": wanted * cream - chocolate}


@kitchen_function
def ganache_softer(chocolate_g: float, cream_g: float, wanted_ratio: float) -> Mapping[str, float]:
    """Return the warm cream or milk to stir into a ganache that is too hard: C / r2 - L.

    Units: g; ratio is chocolate to cream.  Errors: the ganache is already as soft.  Source: worked (mass balance).
    """
    chocolate, cream, wanted = _ganache(chocolate_g, cream_g, wanted_ratio)
    if chocolate <= wanted * cream:
        raise AmountError(f"This ganache holds {chocolate / cream:.2f} g of chocolate to each gram of cream. Add none.")
    return {"cream_g": chocolate / wanted - cream}


@kitchen_function
def milk_for_split(ganache_g: float) -> Mapping[str, float]:
    """Return the warm skimmed milk for a split, fat-heavy ganache, for each lot and at most: 5 and 15 % of its weight.

    Units: g.  Source: common practice (water and protein come in, no more fat).
    """
    ganache = positive(ganache_g, "The ganache", "g")
    return {"lot_g": 0.05 * ganache, "most_g": 0.15 * ganache}


@kitchen_function
def cream_to_melt(
    chocolate_g: float, chocolate_c: float, cream_c: float, wanted_c: float = 40.0, coating: str = "dark"
) -> Mapping[str, float]:
    """Return the least hot cream that melts chopped chocolate and leaves both at a temperature, by heat balance.

    Formula: cream = C (h(W) - h(c) + latent) / (3.25 (Tc - W)); the bowl is left out.  Units: g and °C in, g out.
    Limits: chocolate below 33 °C, wanted 34 to 60 °C.  Errors: cream that is not hotter than wanted.  Source: worked.
    """
    hot = within(cream_c, 20, 100, "The cream", "°C")
    wanted = within(wanted_c, 34, 60, "The wanted temperature", "°C")
    if hot <= wanted:
        raise AmountError("The cream must be hotter than the ganache is to become.")
    heat = 1000.0 * heat_to_melt(chocolate_g, chocolate_c, wanted, coating)["heat_kj"]
    return {"cream_g": heat / (CP_CREAM * (hot - wanted))}


@kitchen_function
def cocoa_butter_to_thin(chocolate_g: float, percent: float = 5.0) -> Mapping[str, float]:
    """Return the cocoa butter to melt in for thinning, a first lot of 1 % and the whole: p W / 100.

    Units: g and % in, g out.  Limits: 1 to 15 %.  Source: common practice (1 % at a time, 10 to 15 % at most).
    """
    chocolate = positive(chocolate_g, "The chocolate", "g")
    most = within(percent, 1, 15, "The cocoa butter", "%") / 100.0 * chocolate
    return {"first_lot_g": 0.01 * chocolate, "cocoa_butter_g": most}


@kitchen_function
def coat_for_pieces(pieces: float, coat_g: float, left_percent: float = 30.0) -> Mapping[str, float]:
    """Return the chocolate to have in the bowl for dipping pieces, and a fifth of it as seed.

    Formula: n c / (1 - left); seed 0.2 of that.  Units: pieces, g and % in, g out.
    Limits: 0 to 80 % left in the bowl, which goes back to stock.
    Source: common practice (a third of the bowl is left when dipping stops); worked.
    """
    net = not_negative(pieces, "The pieces") * positive(coat_g, "The coat of one piece", "g")
    bowl = net / (1.0 - within(left_percent, 0, 80, "What is left in the bowl", "%") / 100.0)
    return {"chocolate_g": bowl, "seed_g": SEED_SHARE * bowl}


def _kind(coating: str) -> str:
    coating = ANSWERED_AS.get(coating, coating)
    if coating == "compound":
        raise AmountError("This holds for real chocolate. Compound coating sets without tempering: go by its label.")
    if coating not in COATINGS:
        raise AmountError(f"The kind of chocolate must be one of {', '.join(COATINGS)}.")
    return coating


def _enthalpy(celsius: float) -> float:
    return CP_BELOW_40 * min(celsius, 40.0) + CP_ABOVE_40 * max(0.0, celsius - 40.0)


def _ganache(chocolate_g: float, cream_g: float, ratio: float) -> tuple[float, float, float]:
    return (
        positive(chocolate_g, "The chocolate", "g"),
        positive(cream_g, "The cream", "g"),
        within(ratio, 0.2, 5, "The wanted ratio"),
    )
