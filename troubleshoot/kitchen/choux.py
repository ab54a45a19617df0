"""Choux: balance of the recipe, water lost on the heat, panade and egg to add, weight of paste and of shells.

All weights are in grams, all shares of weight lost in per cent, all ratios in grams per gram.
"Panade" is the cooked paste of liquid, butter and flour; "paste" is the panade with the egg beaten in.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

from troubleshoot.errors import AmountError
from troubleshoot.kitchen.amounts import not_negative, positive, within
from troubleshoot.kitchen.eggs import MEDIUM_EGG_G, WATER_IN_WHOLE_EGG, eggs_needed
from troubleshoot.kitchen.parts import weight_loss_percent
from troubleshoot.kitchen.registry import kitchen_function

#: Weight a right panade loses on the heat, per cent of what went into the pan.
#: Worked from the power of a ring; 4 to 12 is usual.
USUAL_LOSS_PERCENT = 7.0

#: Heat of a still oven when choux goes in, °C (published formulas).
BAKING_SPAN_C = (180.0, 220.0)

#: Amounts below this are rounding noise, not an amount to weigh.
NOTHING_G = 1e-9

#: Share of the paste that stays in the pan, the bowl and the bag.  Worked from a published school formula:
#: 1260 g of ingredients, 7 % lost from the panade, printed yield 1150 g.
LEFT_IN_BOWLS = 0.04

#: Water that one gram of flour in fresh panade can take out of a wet paste (derived in :func:`stiffen_wet_paste`).
SPARE_WATER_PER_FLOUR = 1.3

#: Grams of water a minute that leave one set piece of 25 g in a drying oven.
#: An order of magnitude, see :func:`drying_after_bake`.
DRYING_RATE_25_G = 0.2


@kitchen_function
def egg_to_flour(egg_g: float, flour_g: float) -> Mapping[str, float]:
    """Return the grams of egg for each gram of flour: shelled egg divided by flour.

    Units: g in, g per g out.  Limits: flour above nothing, egg not below nothing.
    Source: published formulas give 1.33 to 2.01 (seven formulas).
    Contested: 1.33, 1.60, 1.67, 1.77, 1.80 and 2.01 are all printed; go by how the paste hangs.
    """
    flour = positive(flour_g, "The flour", "g")
    return {"egg_ratio": not_negative(egg_g, "The egg", "g") / flour}


@kitchen_function
def baked_to_piped(piped_g: float, baked_g: float) -> Mapping[str, float]:
    """Return what is left of the piped weight after baking: weight of one baked piece divided by its piped weight.

    Units: g in, g per g out.  Limits: both above nothing.  Errors: the baked piece is heavier than the piped one.
    Source: worked (mass balance; paste of 60 % water: 0.44 is a shell of 10 % water, 0.50 one of 20 %).
    """
    piped = positive(piped_g, "The piped weight", "g")
    baked = positive(baked_g, "The baked weight", "g")
    if baked > piped:
        raise AmountError(
            "A baked piece cannot weigh more than the piped one. Weigh an empty shell without paper or tray."
        )
    return {"shell_ratio": baked / piped}


@kitchen_function
def stiffen_with_panade(
    flour_g: float, liquid_g: float, butter_g: float, egg_g: float, wanted_egg_ratio: float
) -> Mapping[str, float]:
    """Return the fresh panade without egg that brings a paste with too much egg back to the wanted egg ratio.

    Formula: f = E / e - F, with E egg, F flour and e the wanted ratio; liquid and butter follow the batch's own recipe.
    Units: g in and out; ``extra_share`` is f / F: above 0.5 a fresh batch is less work.
    Errors: the egg ratio is already at or below the wanted one.  Source: worked (mass balance).
    """
    batch = _panade(flour_g, liquid_g, butter_g)
    egg = not_negative(egg_g, "The egg", "g")
    wanted = positive(wanted_egg_ratio, "The wanted egg ratio")
    extra = egg / wanted - batch[0]
    if extra <= NOTHING_G:
        raise AmountError(
            f"This paste holds {egg / batch[0]:.2f} g of egg to each gram of flour, which is not above {wanted:.2f}. "
            "It needs no extra panade."
        )
    return _extra_panade(batch, extra)


@kitchen_function
def stiffen_wet_paste(
    flour_g: float,
    liquid_g: float,
    butter_g: float,
    panade_before_g: float,
    panade_after_g: float,
    wanted_loss_percent: float = USUAL_LOSS_PERCENT,
) -> Mapping[str, float]:
    """Return the fresh panade that takes up the water an undried panade kept.

    Formula: W = after - before (1 - loss / 100); f = W / 1.3.
    Where 1.3 comes from: in the usual batch one gram of flour holds about 2.65 g of water when the paste is right and
    dried by 7 % (liquid, water of the butter, water of the egg, less what boiled off).  Fresh panade, dried alike,
    already brings about 1.4 g with each gram of flour.  Liquid, butter and drying are the same on both sides, so what
    is left is the water of the egg that this flour would have carried: 0.76 x 250 / 150 = 1.27, used as 1.3.  Only the
    egg ratio moves it.
    Units: g and % in, g out.  Errors: the panade lost enough; it weighs more than its ingredients.  Source: worked.
    """
    batch = _panade(flour_g, liquid_g, butter_g)
    lost = weight_loss_percent(panade_before_g, panade_after_g)["loss_percent"]
    wanted = within(wanted_loss_percent, 0, 30, "The wanted loss", "%")
    excess = (wanted - lost) / 100.0 * panade_before_g
    if excess <= NOTHING_G:
        raise AmountError(f"This panade lost {lost:.1f} %, which is enough. It needs no extra panade.")
    return {"excess_water_g": excess, **_extra_panade(batch, excess / SPARE_WATER_PER_FLOUR)}


def spare_water_per_flour(flour_g: float, egg_g: float) -> float:
    """Return the water, in grams, that each gram of flour in fresh panade can still take: that of its share of egg.

    Formula: 0.7615 E / F.  Limits: flour above nothing.
    Source: USDA National Nutrient Database, Release 28 (water in whole egg); worked.
    """
    return WATER_IN_WHOLE_EGG * not_negative(egg_g, "The egg", "g") / positive(flour_g, "The flour", "g")


@kitchen_function
def panade_for_share(flour_g: float, liquid_g: float, butter_g: float, share: float) -> Mapping[str, float]:
    """Return the fresh panade for a share of the batch's flour (0.3 is three tenths): f = share x F.

    Units: g in and out.  Limits: share above 0, at most 1.  Source: worked; the shares are common practice.
    """
    batch = _panade(flour_g, liquid_g, butter_g)
    if positive(share, "The share") > 1:
        raise AmountError("The share of the flour must be at most 1. For more than that, cook a fresh batch.")
    return _extra_panade(batch, share * batch[0])


@kitchen_function
def panade_without_butter(
    flour_g: float, liquid_g: float, butter_g: float, wanted_fat_ratio: float
) -> Mapping[str, float]:
    """Return the butterless panade that brings too much butter back to the wanted butter to flour: f = B / r - F.

    Units: g in and out.  Errors: the butter ratio is already at or below the wanted one.
    Source: worked (mass balance).
    """
    flour, liquid, butter = _panade(flour_g, liquid_g, butter_g)
    wanted = positive(wanted_fat_ratio, "The wanted butter ratio")
    extra = butter / wanted - flour
    if extra <= NOTHING_G:
        raise AmountError(
            f"This batch holds {butter / flour:.2f} g of butter to each gram of flour, "
            f"which is not above {wanted:.2f}. It needs no extra panade."
        )
    return {"extra_flour_g": extra, "extra_liquid_g": extra * liquid / flour, "extra_share": extra / flour}


@kitchen_function
def water_to_give_back(
    panade_before_g: float, panade_after_g: float, wanted_loss_percent: float = USUAL_LOSS_PERCENT
) -> Mapping[str, float]:
    """Return the boiling water that a panade dried too far has to get back: before (1 - loss / 100) - after.

    Units: g and % in; g and % out.  Errors: the panade lost no more than wanted; it weighs more than its ingredients.
    Source: worked (mass balance).
    """
    lost = weight_loss_percent(panade_before_g, panade_after_g)["loss_percent"]
    wanted = within(wanted_loss_percent, 0, 30, "The wanted loss", "%")
    water = (lost - wanted) / 100.0 * panade_before_g
    if water <= NOTHING_G:
        raise AmountError(f"This panade lost {lost:.1f} %, which is not above {wanted:.1f} %. It needs no water.")
    return {"water_g": water, "lost_percent": lost}


@kitchen_function
def pan_back_to_start(liquid_g: float, butter_g: float) -> Mapping[str, float]:
    """Return what the liquid and the butter should still weigh together before the flour goes in: L + B.

    Units: g in and out, without the pan.  Source: worked (mass balance).
    """
    return {"start_g": positive(liquid_g, "The liquid", "g") + not_negative(butter_g, "The butter", "g")}


@kitchen_function
def egg_still_to_add(flour_g: float, egg_g: float, wanted_egg_ratio: float) -> Mapping[str, float]:
    """Return the egg that a stiff paste can still take up to the wanted egg ratio: e F - E.

    Units: g in and out.  Errors: the paste already holds that much egg.  Source: worked (mass balance).
    """
    flour = positive(flour_g, "The flour", "g")
    egg = not_negative(egg_g, "The egg", "g")
    wanted = positive(wanted_egg_ratio, "The wanted egg ratio") * flour
    if egg >= wanted:
        raise AmountError(
            f"This paste already holds {egg / flour:.2f} g of egg to each gram of flour. Go by the look from here."
        )
    return {"egg_to_add_g": wanted - egg, "egg_wanted_g": wanted}


@kitchen_function
def eggs_to_weigh(flour_g: float, egg_ratio: float) -> Mapping[str, float]:
    """Return the shelled egg for the flour, and how many medium eggs to crack for it (a whole number, rounded up).

    Formula: e F; eggs = e F / 51.  Units: g in; g and eggs out.
    Source: medium eggs of EC 589/2008, class M, without shell; worked.
    """
    wanted = positive(flour_g, "The flour", "g") * positive(egg_ratio, "The egg ratio")
    return {"egg_wanted_g": wanted, "medium_eggs": eggs_needed(wanted, MEDIUM_EGG_G)["eggs"]}


@kitchen_function
def hold_back_egg(egg_g: float, share: float) -> Mapping[str, float]:
    """Return the egg kept for the end, to be added by look, and the egg that goes in first.

    Formula: held back = share x E.  Units: g.  Limits: share from 0 to 1.
    Source: common practice (the last 10 to 15 % by look, or the last of four eggs).
    """
    egg = positive(egg_g, "The egg", "g")
    held = egg * within(share, 0, 1, "The share held back")
    return {"held_back_g": held, "first_egg_g": egg - held}


@kitchen_function
def part_of_paste(
    flour_g: float, liquid_g: float, butter_g: float, egg_g: float, percent: float
) -> Mapping[str, float]:
    """Return so many per cent of the paste's weight, for egg or liquid given by look, and the weight of the paste.

    Formula: paste = 0.93 (F + L + B) + E; part = paste x p / 100.  Units: g and % in, g out.  Limits: 0 to 100 %.
    Source: worked (the panade loses 7 %).
    """
    paste = paste_weight(flour_g, liquid_g, butter_g, egg_g)
    return {"part_g": paste * within(percent, 0, 100, "The part of the paste", "%") / 100.0, "paste_g": paste}


@kitchen_function
def paste_in_half(flour_g: float, liquid_g: float, butter_g: float, egg_g: float) -> Mapping[str, float]:
    """Return the weight of the paste and of the plain paste to fold into it, one to one.

    Formula: 0.93 (F + L + B) + E.  Units: g.  Source: common practice for a paste loaded with too much cheese or
    cocoa; worked.
    """
    paste = paste_weight(flour_g, liquid_g, butter_g, egg_g)
    return {"paste_g": paste, "plain_paste_g": paste}


@kitchen_function
def shells_from_paste(
    flour_g: float, liquid_g: float, butter_g: float, egg_g: float, piece_g: float
) -> Mapping[str, float]:
    """Return how many whole pieces a batch pipes: paste less 4 % left in bowls and bag, divided by the piped weight.

    Units: g in, pieces out (rounded down).  Source: worked; guide weights are common practice (profiterole 8 to 12 g,
    bun 20 to 30 g, small eclair 30 to 35 g, eclair of 13 cm 35 to 45 g, large eclair 60 to 75 g).
    """
    paste = paste_weight(flour_g, liquid_g, butter_g, egg_g) * (1.0 - LEFT_IN_BOWLS)
    return {"shells": float(math.floor(paste / positive(piece_g, "The weight of one piece", "g") + 1e-9))}


@kitchen_function
def drying_after_bake(piped_g: float, baked_g: float, wanted_shell_ratio: float) -> Mapping[str, float]:
    """Return the water one shell still has to lose, and about how long that takes pierced at 150 to 160 °C.

    Formula: water = baked - ratio x piped.
    The minutes are an order of magnitude only; rigid sides tell when it is done.  A set piece of 25 g has about
    0.015 m2 of crust.  Still air at 155 °C brings it some 15 W, enough for 0.4 g of water a minute, and a dry crust
    halves that to 0.2 g.  Larger pieces are taken to dry with their surface, so with weight to the power 2/3.
    Units: g in; g for each piece and min out.  Errors: the shell is already dry enough.  Source: worked.
    """
    piped = positive(piped_g, "The piped weight", "g")
    wanted = within(wanted_shell_ratio, 0.35, 0.9, "The wanted shell ratio")
    now = baked_to_piped(piped, baked_g)["shell_ratio"]
    if now <= wanted:
        raise AmountError(
            f"This shell weighs {now:.2f} of its piped weight, which is dry enough. It needs no more drying."
        )
    water = (now - wanted) * piped
    rate = DRYING_RATE_25_G * (piped / 25.0) ** (2.0 / 3.0)
    return {"water_left_g": water, "dry_min": water / rate}


@kitchen_function
def liquid_for_cocoa(cocoa_g: float) -> Mapping[str, float]:
    """Return the liquid to add to the boil for cocoa: its own weight.

    Units: g.  Source: common practice (cocoa takes up about its own weight of water).
    """
    return {"extra_liquid_g": not_negative(cocoa_g, "The cocoa", "g")}


def paste_weight(flour_g: float, liquid_g: float, butter_g: float, egg_g: float) -> float:
    """Return the weight of the paste: ingredients less 7 % of the panade, in grams.  Source: worked."""
    panade = sum(_panade(flour_g, liquid_g, butter_g)) * (1.0 - USUAL_LOSS_PERCENT / 100.0)
    return panade + not_negative(egg_g, "The egg", "g")


def _panade(flour_g: float, liquid_g: float, butter_g: float) -> tuple[float, float, float]:
    return (
        positive(flour_g, "The flour", "g"),
        positive(liquid_g, "The liquid", "g"),
        not_negative(butter_g, "The butter", "g"),
    )


def _extra_panade(batch: tuple[float, float, float], extra_flour: float) -> dict[str, float]:
    flour, liquid, butter = batch
    share = extra_flour / flour
    return {
        "extra_flour_g": extra_flour,
        "extra_liquid_g": liquid * share,
        "extra_butter_g": butter * share,
        "extra_share": share,
    }
