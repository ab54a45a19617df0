"""Choux: all the water of the paste, what the oven has to drive off, and a recipe scaled to a number of shells.

Weights in grams, shares in per cent of weight.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

from troubleshoot.errors import AmountError
from troubleshoot.kitchen.amounts import not_negative, positive, within
from troubleshoot.kitchen.chocolate import WATER_IN_MILK
from troubleshoot.kitchen.choux import LEFT_IN_BOWLS, USUAL_LOSS_PERCENT, paste_weight
from troubleshoot.kitchen.eggs import WATER_IN_WHOLE_EGG
from troubleshoot.kitchen.registry import kitchen_function
from troubleshoot.kitchen.shortbread import WATER_IN_BUTTER_PERCENT, WATER_IN_FLOUR

#: Water of a shell that is crisp, per cent (worked; a shell of 40 % is moist, as in USDA Release 28, NDB 18237).
CRISP_SHELL_WATER_PERCENT = 10.0

#: Weight of choux paste, g to the ml (worked from its parts, with little air).
PASTE_G_PER_ML = 1.1

#: Water of the seven published formulas, g to each gram of flour, without the flour's own (worked).
WATER_SPAN = (2.80, 3.72)


@kitchen_function
def total_water(
    flour_g: float,
    liquid_g: float,
    butter_g: float,
    egg_g: float,
    milk_g: float = 0.0,
    butter_water_percent: float = WATER_IN_BUTTER_PERCENT,
) -> Mapping[str, float]:
    """Return all the water of a choux recipe, its own and what butter, egg and flour bring, before anything boils off.

    Formula: L - 0.119 milk + w B + 0.7615 E + 0.1192 F, in per cent of the whole; by the flour, without its own water;
    that less the nearer end of the published span.
    Units: g and % in (``milk_g`` is the part of the liquid that is milk); g, g per g and % out.
    Limits: butter water 0 to 60 %.  Errors: more milk than liquid.
    Source: USDA National Nutrient Database, Release 28; seven published formulas give 2.80 to 3.72 g to each gram
    of flour.
    """
    flour = positive(flour_g, "The flour", "g")
    liquid = positive(liquid_g, "The liquid", "g")
    butter, egg = not_negative(butter_g, "The butter", "g"), not_negative(egg_g, "The egg", "g")
    milk = not_negative(milk_g, "The milk", "g")
    if milk > liquid:
        raise AmountError("The milk is a part of the liquid and cannot be more than all of it.")
    water = liquid - (1.0 - WATER_IN_MILK) * milk + WATER_IN_WHOLE_EGG * egg + WATER_IN_FLOUR * flour
    water += butter * within(butter_water_percent, 0, 60, "The water of the butter", "%") / 100.0
    ratio = water / flour - WATER_IN_FLOUR
    low, high = WATER_SPAN
    return {
        "water_g": water,
        "water_to_flour_ratio": ratio,
        "water_off_ratio": min(0.0, ratio - low) + max(0.0, ratio - high),
        "paste_water_percent": 100.0 * water / (flour + liquid + butter + egg),
    }


@kitchen_function
def panade_target(
    flour_g: float, liquid_g: float, butter_g: float, wanted_loss_percent: float = USUAL_LOSS_PERCENT
) -> Mapping[str, float]:
    """Return what a panade should weigh when it comes off the heat: (F + L + B) (1 - loss / 100).

    Units: g and % in; g out, without the pan, and the water to boil off.  Limits: 0 to 30 %.
    Source: worked from the power of a ring; 4 to 12 % is usual, 7 % aimed at.
    """
    whole = positive(flour_g, "The flour", "g") + positive(liquid_g, "The liquid", "g")
    whole += not_negative(butter_g, "The butter", "g")
    off = whole * within(wanted_loss_percent, 0, 30, "The wanted loss", "%") / 100.0
    return {"panade_target_g": whole - off, "boil_off_g": off}


@kitchen_function
def piece_size(flour_g: float, liquid_g: float, butter_g: float, egg_g: float, shells: float) -> Mapping[str, float]:
    """Return what one piece weighs when a batch is piped into so many, and about how wide to pipe it as a round.

    Formula: piece = 0.96 paste / shells; width of a half ball of paste of 1.1 g to the ml: (12 m / (1.1 pi))^(1/3).
    Units: g and pieces in; g and mm out.  Source: worked (4 % stays in bowls and bag); the half ball is an
    idealised shape, true to about a fifth.
    """
    paste = paste_weight(flour_g, liquid_g, butter_g, egg_g) * (1.0 - LEFT_IN_BOWLS)
    piece = paste / positive(shells, "The pieces")
    return {"piece_g": piece, "piped_mm": 10.0 * (12.0 * piece / (PASTE_G_PER_ML * math.pi)) ** (1.0 / 3.0)}


@kitchen_function
def water_to_drive_off(
    piped_g: float, paste_water_percent: float, shell_water_percent: float = CRISP_SHELL_WATER_PERCENT
) -> Mapping[str, float]:
    """Return the water that the oven has to drive off from one piped piece, and what the shell then weighs.

    Formula: shell = piped (100 - paste water) / (100 - shell water); water = piped - shell.
    Units: g and % in; g, % of the piped weight, and g per g out.  Limits: paste 40 to 80 %, shell 0 to 60 %.
    Errors: a shell wetter than its paste.  Source: worked (mass balance).
    """
    piped = positive(piped_g, "One raw piece", "g")
    paste = within(paste_water_percent, 40, 80, "The water of the paste", "%")
    shell = within(shell_water_percent, 0, 60, "The water of the shell", "%")
    if shell > paste:
        raise AmountError("A baked shell cannot hold more water than its paste.")
    ratio = (100.0 - paste) / (100.0 - shell)
    return {
        "drive_off_g": (1.0 - ratio) * piped,
        "shell_g": ratio * piped,
        "loss_percent": 100.0 * (1.0 - ratio),
        "shell_ratio": ratio,
    }


@kitchen_function
def scale_to_shells(
    shells: float, piece_g: float, flour_g: float, liquid_g: float, butter_g: float, egg_g: float
) -> Mapping[str, float]:
    """Return a choux recipe scaled so that it pipes a number of pieces, with what stays in bowls and bag.

    Formula: factor = shells x piece / (0.96 x paste); each weight times the factor.
    Units: pieces and g in; g and times out.  Source: worked; 4 % stays in bowls and bag (a school formula's yield).
    """
    wanted = positive(shells, "The pieces") * positive(piece_g, "The weight of one piece", "g")
    factor = wanted / (paste_weight(flour_g, liquid_g, butter_g, egg_g) * (1.0 - LEFT_IN_BOWLS))
    return {
        "flour_g": factor * flour_g,
        "liquid_g": factor * liquid_g,
        "butter_g": factor * butter_g,
        "egg_g": factor * egg_g,
        "scale_times": factor,
    }
