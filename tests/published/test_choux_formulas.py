"""Seven published choux formulas against the balance of a recipe and the paste it gives.

Weights in grams as printed, or turned from printed ounces and cups; titles beside each.
"""

from __future__ import annotations

import pytest

from troubleshoot.kitchen import choux
from troubleshoot.kitchen.balance import SPANS, Standing, judge_balance, recipe_balance

#: flour, liquid, fat, whole egg.
FORMULAS = {
    # Ratio: The Simple Codes Behind the Craft of Everyday Cooking, 2009 (8, 4, 4 and 8 oz; read in pages that quote it)
    "ratio_2009": (113, 227, 113, 227),
    # How Baking Works, 3rd ed., 2010, choux paste exercise (shortening as the fat)
    "how_baking_works": (125, 225, 85, 225),
    # On Baking, eclair paste (water and milk; read on a page that names the book)
    "on_baking": (150, 240, 105, 250),
    # Choux pastry formula handout of a pastry school (printed yield 1150 g)
    "school_handout": (250, 400, 200, 400),
    # Restaurant exhibit, pate a choux in the style of a cookery school, ibiblio (four eggs at 50 g, "3 to 4")
    "ibiblio_exhibit": (150, 250, 100, 200),
    # Hand-Book of Practical Cookery, D. Appleton, 1867 (2 gills, 4 oz, 2 oz, four eggs at 50 g)
    "handbook_1867": (113, 237, 57, 200),
    # Joy of Cooking, 1952, cream puffs (cups turned with USDA weights; two eggs at 50 g; read on a page that reprints)
    "joy_1952": (62.5, 118, 57, 100),
}


def test_spans_are_no_wider_than_the_formulas():
    """Each end of each span is touched by a formula, to within the two decimals it is written with."""
    found = [recipe_balance(*formula) for formula in FORMULAS.values()]
    for ratio, (low, high) in SPANS.items():
        values = [ratios[ratio] for ratios in found]
        assert min(values) == pytest.approx(low, abs=0.01)
        assert max(values) == pytest.approx(high, abs=0.01)


@pytest.mark.parametrize("name", FORMULAS)
def test_half_as_much_egg_again_is_flagged_high(name):
    """Each formula with 1.5 times its egg is told that the egg is high."""
    flour, liquid, fat, egg = FORMULAS[name]
    assert judge_balance(flour, liquid, fat, 1.5 * egg).egg_standing is Standing.HIGH


@pytest.mark.parametrize("name", FORMULAS)
def test_six_tenths_of_the_egg_is_flagged_low(name):
    """Each formula with 0.6 times its egg is told that the egg is low."""
    flour, liquid, fat, egg = FORMULAS[name]
    assert judge_balance(flour, liquid, fat, 0.6 * egg).egg_standing is Standing.LOW


@pytest.mark.parametrize("name", FORMULAS)
def test_stiffening_an_overdosed_formula_brings_it_back_inside(name):
    """Fresh panade for 1.5 times the egg gives a recipe that is inside again."""
    flour, liquid, fat, egg = FORMULAS[name]
    extra = choux.stiffen_with_panade(flour, liquid, fat, 1.5 * egg, egg / flour)
    again = judge_balance(
        flour + extra["extra_flour_g"], liquid + extra["extra_liquid_g"], fat + extra["extra_butter_g"], 1.5 * egg
    )
    assert again.inside
    assert extra["extra_share"] == pytest.approx(0.5, abs=1e-9)


def test_printed_yield_of_the_school_formula():
    """1250 g of flour, liquid, butter and egg give about the 1150 g of paste that the handout prints (4 % in bowls)."""
    paste = choux.paste_weight(*FORMULAS["school_handout"])
    assert paste * (1 - choux.LEFT_IN_BOWLS) == pytest.approx(1150, rel=0.015)


@pytest.mark.parametrize("name", FORMULAS)
def test_paste_weighs_three_to_nine_per_cent_less_than_its_ingredients(name):
    """The weight of the paste lies where the trade expects it (common practice)."""
    whole = sum(FORMULAS[name])
    assert 3 <= 100 * (whole - choux.paste_weight(*FORMULAS[name])) / whole <= 9


def test_shell_ratios_follow_from_water_left():
    """Paste of 60 % water: shells of 10, 20 and 40.5 % water weigh 0.44, 0.50 and 0.67 of the piped piece.

    40.5 % is the cream puff shell of the USDA National Nutrient Database, Release 28 (NDB 18237).
    """
    for water, ratio in ((10, 0.44), (20, 0.50), (40.5, 0.67)):
        piped = 30.0
        baked = piped * 0.4 / (1 - water / 100)
        assert choux.baked_to_piped(piped, baked)["shell_ratio"] == pytest.approx(ratio, abs=0.006)
