"""Cream: blending by fat, sugar and gelatine shares, air, rescue of grainy cream, and how much to whip for the pieces.

Weights in grams, fat and shares in per cent of weight.
"""

from __future__ import annotations

from collections.abc import Mapping

from troubleshoot.errors import AmountError
from troubleshoot.kitchen.amounts import not_negative, positive, within, written
from troubleshoot.kitchen.registry import kitchen_function

#: Least fat that whips, and the span for piping (On Food and Cooking, 2nd ed., ch. 1; culinary textbooks).
WHIPS_FROM_PERCENT = 30.0
PIPING_FAT_PERCENT = (36.0, 40.0)

#: Whole milk for letting cream down (UK and EU whole milk is sold at 3.5 % and more; common practice 3.6).
WHOLE_MILK_FAT_PERCENT = 3.6

#: Fat of butter made from lost cream: 80 % and the fat of its buttermilk (common practice).
BUTTER_FAT_PERCENT = 82.0

#: Water that gelatine is bloomed in, in parts of its weight (school practice 5 to 6).
BLOOM_WATER_PARTS = 6.0

#: Overrun of whipped cream that pipes, per cent (kitchen textbooks 100; usual 80 to 130).
PIPING_OVERRUN_PERCENT = (80.0, 130.0)

#: Icing sugar to cream: a level tablespoon of 9 g to 100 g (common practice).
ICING_SUGAR_SHARE = 0.09

#: Weight of 1 ml of liquid whipping cream in grams (USDA Release 28: 238 g to the US cup).
CREAM_G_PER_ML = 238.0 / 236.5882365

#: Least milk fat by name, per cent: UK code of practice (not law), US 21 CFR 131, Australia and New Zealand 2.5.2.
NAMES: Mapping[str, float] = {
    "uk_half": 12.0,
    "uk_single": 18.0,
    "uk_whipping": 35.0,
    "uk_double": 48.0,
    "uk_clotted": 55.0,
    "us_half_and_half": 10.5,
    "us_light": 18.0,
    "us_light_whipping": 30.0,
    "us_heavy": 36.0,
    "anz_cream": 35.0,
}


@kitchen_function
def pearson_square(high_percent: float, low_percent: float, wanted_percent: float) -> Mapping[str, float]:
    """Return the shares of a rich and a lean liquid that make the wanted fat: (T - L) / (H - L) and the rest.

    Units: % fat in; shares of the mix out.  Limits: 0 to 100 %.
    Errors: no mixture can reach a fat outside the two; two liquids of the same fat.
    Source: Pearson square (Dairy Science and Technology, University of Guelph).
    """
    high = within(high_percent, 0, 100, "The richer fat", "%")
    low = within(low_percent, 0, 100, "The leaner fat", "%")
    wanted = within(wanted_percent, 0, 100, "The wanted fat", "%")
    if high <= low:
        raise AmountError("The richer cream must have more fat than the leaner one.")
    _between(low, high, wanted)
    rich = (wanted - low) / (high - low)
    return {"rich_share": rich, "lean_share": 1.0 - rich}


@kitchen_function
def blend_up(cream_g: float, fat_percent: float, richer_percent: float, wanted_percent: float) -> Mapping[str, float]:
    """Return the richer cream to add: X = W (T - F) / (R - T).

    Units: g and % in, g out.  Errors: no mixture can reach a fat at or over the richer cream; the cream has it already.
    Source: Pearson square.
    """
    cream, fat, richer, wanted = _blend(cream_g, fat_percent, richer_percent, wanted_percent)
    if wanted <= fat:
        raise AmountError(
            f"This cream has {written(fat, '%')} fat, which is not under {written(wanted, '%')}. Add none."
        )
    if wanted >= richer:
        raise _no_mixture(fat, richer, wanted)
    add = cream * (wanted - fat) / (richer - wanted)
    return {"rich_cream_g": add, "mix_g": cream + add}


@kitchen_function
def blend_down(
    cream_g: float, fat_percent: float, wanted_percent: float, milk_percent: float = WHOLE_MILK_FAT_PERCENT
) -> Mapping[str, float]:
    """Return the milk or lean cream that lets rich cream down: X = W (F - T) / (T - M).

    Units: g and % in, g out.  Errors: no mixture can reach a fat at or under the milk; the cream is not richer.
    Source: Pearson square.
    """
    cream, fat, lean, wanted = _blend(cream_g, fat_percent, milk_percent, wanted_percent)
    if wanted >= fat:
        raise AmountError(
            f"This cream has {written(fat, '%')} fat, which is not over {written(wanted, '%')}. Add none."
        )
    if wanted <= lean:
        raise _no_mixture(lean, fat, wanted)
    add = cream * (fat - wanted) / (wanted - lean)
    return {"milk_g": add, "mix_g": cream + add}


@kitchen_function
def fat_of_mix(first_g: float, first_percent: float, second_g: float, second_percent: float) -> Mapping[str, float]:
    """Return the fat of two liquids poured together: (W1 F1 + W2 F2) / (W1 + W2).

    Units: g and % in, % and g out.  Errors: nothing to mix.  Source: worked (mass balance).
    """
    first = not_negative(first_g, "The first cream", "g")
    second = not_negative(second_g, "The second cream", "g")
    whole = positive(first + second, "The mix", "g")
    fat = first * within(first_percent, 0, 100, "The first fat", "%")
    fat += second * within(second_percent, 0, 100, "The second fat", "%")
    return {"fat_percent": fat / whole, "mix_g": whole}


@kitchen_function
def restore_fat(
    cream_g: float, fat_percent: float, liquid_g: float, richer_percent: float, wanted_percent: float = 33.0
) -> Mapping[str, float]:
    """Return the richer cream that makes up for a watery addition: X = (T (W + V) - W F) / (R - T).

    Units: g and % in, g out.  Errors: as for :func:`blend_up`.  Source: worked (mass balance).
    """
    thinned = fat_of_mix(cream_g, fat_percent, liquid_g, 0.0)
    return {**blend_up(thinned["mix_g"], thinned["fat_percent"], richer_percent, wanted_percent)}


@kitchen_function
def sugar_share(cream_g: float, sugar_g: float) -> Mapping[str, float]:
    """Return the sugar in per cent of the cream's weight: 100 S / W.

    Units: g in, % out.  Source: worked; 8 to 12 % is common practice, 12 to 15 % with sharp fruit.
    Contested: 8, 10 or 15 %, a matter of taste.
    """
    return {"sugar_percent": 100.0 * not_negative(sugar_g, "The sugar", "g") / positive(cream_g, "The cream", "g")}


@kitchen_function
def share_of_cream(cream_g: float, percent: float) -> Mapping[str, float]:
    """Return so many per cent of the cream's weight, for what is folded in by its share: W p / 100.

    Units: g and % in, g out.  Limits: 0 to 300 %.  Source: worked.
    """
    cream = positive(cream_g, "The cream", "g")
    return {"cream_part_g": cream * within(percent, 0, 300, "The share of the cream", "%") / 100.0}


@kitchen_function
def weep_per_100_g(weep_g: float, cream_g: float) -> Mapping[str, float]:
    """Return the liquid that ran out of each 100 g of cream: 100 V / W.

    Units: g in, g to 100 g out.  Errors: more liquid than cream.  Source: worked; up to 2 g passes (common practice).
    """
    cream = positive(cream_g, "The cream", "g")
    liquid = not_negative(weep_g, "The liquid that ran out", "g")
    if liquid > cream:
        raise AmountError("More liquid cannot run out than there is cream. Weigh the cup empty first.")
    return {"weep_per_100_g": 100.0 * liquid / cream}


@kitchen_function
def gelatine_share(cream_g: float, gelatine_g: float) -> Mapping[str, float]:
    """Return the gelatine in per cent of the cream's weight, which is grams in each 100 g: 100 G / W.

    Units: g in, % out.  Source: worked; 0.5 to 1.0 % is common practice.
    """
    gelatine = not_negative(gelatine_g, "The gelatine", "g")
    return {"gelatine_percent": 100.0 * gelatine / positive(cream_g, "The cream", "g")}


@kitchen_function
def liquid_share(cream_g: float, liquid_g: float) -> Mapping[str, float]:
    """Return the juice, coffee, milk, spirit or syrup in per cent of the cream's weight: 100 V / W.

    Units: g in, % out.  Source: worked; under 3 % does no harm (common practice).
    """
    liquid = not_negative(liquid_g, "The liquid", "g")
    return {"liquid_percent": 100.0 * liquid / positive(cream_g, "The cream", "g")}


@kitchen_function
def sugar_to_add(cream_g: float, sugar_g: float, wanted_percent: float) -> Mapping[str, float]:
    """Return the sugar still to fold in for the wanted share: t W / 100 - S.

    Units: g and % in, g out.  Errors: the cream already holds that much.  Source: worked.
    """
    now = sugar_share(cream_g, sugar_g)["sugar_percent"]
    wanted = within(wanted_percent, 0, 30, "The wanted sugar", "%")
    if now >= wanted:
        raise AmountError(f"This cream already holds {now:.1f} % sugar. Add none.")
    return {"sugar_g": (wanted - now) / 100.0 * cream_g}


@kitchen_function
def plain_cream_for_sugar(cream_g: float, sugar_g: float, wanted_percent: float) -> Mapping[str, float]:
    """Return the plain cream that thins too much sugar out: W (s / t - 1).

    Units: g and % in, g out.  Errors: the sugar is not over the wanted share.  Source: worked (mass balance).
    """
    now = sugar_share(cream_g, sugar_g)["sugar_percent"]
    wanted = within(wanted_percent, 1, 30, "The wanted sugar", "%")
    return {"plain_cream_g": cream_g * _dilution(now, wanted, "sugar")}


@kitchen_function
def gelatine_dose(cream_g: float, dose_percent: float = 0.8) -> Mapping[str, float]:
    """Return gelatine and cold bloom water for cream: d W / 100 and six times its weight of water.

    Units: g and % in, g out.  Limits: 0.1 to 3 %.
    Source: common practice (0.5 to 1.0 g in 100 g of cream; water five to six times the gelatine).
    """
    gelatine = positive(cream_g, "The cream", "g") * within(dose_percent, 0.1, 3, "The gelatine", "%") / 100.0
    return {"gelatine_g": gelatine, "bloom_water_g": BLOOM_WATER_PARTS * gelatine}


@kitchen_function
def gelatine_missing(cream_g: float, gelatine_g: float, wanted_percent: float = 0.8) -> Mapping[str, float]:
    """Return the gelatine still missing and its bloom water: W (t - d) / 100.

    Units: g and % in, g out.  Errors: the dose is already reached.  Source: worked; dose common practice.
    """
    wanted = gelatine_dose(cream_g, wanted_percent)["gelatine_g"]
    missing = wanted - not_negative(gelatine_g, "The gelatine in the cream", "g")
    if missing <= 0:
        raise AmountError("This cream already holds that much gelatine. Add none.")
    return {"gelatine_g": missing, "bloom_water_g": BLOOM_WATER_PARTS * missing}


@kitchen_function
def plain_cream_for_gelatine(cream_g: float, gelatine_g: float, wanted_percent: float = 0.8) -> Mapping[str, float]:
    """Return the plain cream that thins too much gelatine out: W (d / t - 1).

    Units: g and % in, g out.  Errors: the gelatine is not over the wanted dose.  Source: worked (mass balance).
    """
    now = 100.0 * not_negative(gelatine_g, "The gelatine", "g") / positive(cream_g, "The cream", "g")
    wanted = within(wanted_percent, 0.1, 3, "The wanted gelatine", "%")
    return {"plain_cream_g": cream_g * _dilution(now, wanted, "gelatine")}


@kitchen_function
def overrun(liquid_cup_g: float, whipped_cup_g: float) -> Mapping[str, float]:
    """Return the air taken up, from one cup weighed full of liquid and full of whipped cream: 100 (L - P) / P.

    Units: g in, % and times the volume out.  Errors: the whipped cup is heavier.
    Source: dairy textbooks; 100 % in the kitchen, 80 to 130 % pipes well.
    Contested: up to 100 % by a cookery textbook and the USDA weights; 141 to 216 % at most in a dairy study of 1988, by
    machine.
    """
    liquid = positive(liquid_cup_g, "The cup of liquid cream", "g")
    whipped = positive(whipped_cup_g, "The cup of whipped cream", "g")
    if whipped > liquid:
        raise AmountError(
            "A cup of whipped cream cannot weigh more than the same cup of liquid cream. Level both cups."
        )
    return {"overrun_percent": 100.0 * (liquid - whipped) / whipped, "volume_times": liquid / whipped}


@kitchen_function
def whipped_volume(cream_g: float, overrun_percent: float = 100.0) -> Mapping[str, float]:
    """Return the volume of whipped cream: W / 1.006 x (1 + o / 100).

    Units: g and % in, ml out.  Limits: 0 to 400 %.  Source: USDA Release 28 (238 g to the cup of 236.6 ml); worked.
    """
    liquid = positive(cream_g, "The cream", "g") / CREAM_G_PER_ML
    return {"whipped_ml": liquid * (1.0 + within(overrun_percent, 0, 400, "The overrun", "%") / 100.0)}


@kitchen_function
def cream_for_grains(cream_g: float) -> Mapping[str, float]:
    """Return the cold liquid cream to fold into rough or grainy cream, first lot and most: 10 and 15 % of its weight.

    Units: g.  Source: common practice; it fails once milky liquid has run out.
    """
    cream = positive(cream_g, "The whipped cream", "g")
    return {"first_lot_g": 0.10 * cream, "most_g": 0.15 * cream}


@kitchen_function
def butter_from_cream(cream_g: float, fat_percent: float) -> Mapping[str, float]:
    """Return the butter and buttermilk that overwhipped cream gives when churned on: W F / 82 and the rest.

    Units: g and % in, g out.  Limits: 10 to 70 % fat.  Source: worked (fat balance), butter of 82 %.
    """
    cream = positive(cream_g, "The cream", "g")
    butter = cream * within(fat_percent, 10, 70, "The fat", "%") / BUTTER_FAT_PERCENT
    return {"butter_g": butter, "buttermilk_g": cream - butter}


@kitchen_function
def cream_for_pieces(
    pieces: float, piece_g: float, left_percent: float = 8.0, other_percent: float = 10.0
) -> Mapping[str, float]:
    """Return the filling to make for the pieces, the liquid cream in it, and its icing sugar.

    Formula: filling = n m / (1 - left); cream = filling / (1 + other), other = sugar and flavour in % of the cream;
    icing sugar = 9 % of the cream.
    Units: pieces, g and % in, g out.  Limits: left in bowl and bag 0 to 50 %, other 0 to 100 %.
    Source: common practice (25 to 35 g in an eclair of 12 to 14 cm, 12 to 18 g in a bun of 4 cm, 8 to 12 g in a
    biscuit sandwich of 6 cm); whipping changes the volume, not the weight.
    """
    net = not_negative(pieces, "The pieces") * positive(piece_g, "The filling of one piece", "g")
    filling = net / (1.0 - within(left_percent, 0, 50, "What is left in bowl and bag", "%") / 100.0)
    cream = filling / (1.0 + within(other_percent, 0, 100, "Sugar and flavour", "%") / 100.0)
    return {"filling_g": filling, "cream_g": cream, "icing_sugar_g": ICING_SUGAR_SHARE * cream}


def may_be_called(name: str, fat_percent: float) -> bool:
    """Tell whether a fat reaches the least for a name of cream; the UK figures are a trade code, not law.

    Errors: an unknown name.  Source: see :data:`NAMES`.
    """
    if name not in NAMES:
        raise AmountError(f"The names of cream known here are {', '.join(NAMES)}.")
    return within(fat_percent, 0, 100, "The fat", "%") >= NAMES[name]


def _blend(cream_g: float, fat: float, other: float, wanted: float) -> tuple[float, float, float, float]:
    return (
        positive(cream_g, "The cream", "g"),
        within(fat, 0, 100, "The fat of the cream", "%"),
        within(other, 0, 100, "The fat of what is added", "%"),
        within(wanted, 0, 100, "The wanted fat", "%"),
    )


def _between(low: float, high: float, wanted: float) -> None:
    if not low <= wanted <= high:
        raise _no_mixture(low, high, wanted)


def _no_mixture(low: float, high: float, wanted: float) -> AmountError:
    return AmountError(
        f"No mixture can have {written(wanted, '%')} fat: "
        f"it must lie between {written(low, '%')} and {written(high, '%')}."
    )


def _dilution(now: float, wanted: float, what: str) -> float:
    if now <= wanted:
        raise AmountError(
            f"This cream holds {now:.1f} % {what}, which is not over {wanted:.1f} %. It needs no plain cream."
        )
    return now / wanted - 1.0
