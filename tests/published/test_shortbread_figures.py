"""Shortbread: ratio, water, flour and butter against published figures."""

from __future__ import annotations

import pytest

from troubleshoot.kitchen import portions, shortbread
from troubleshoot.kitchen.shortbread import ButterState


# Ratio: The Simple Codes Behind the Craft of Everyday Cooking, 2009: 1 sugar, 2 butter, 3 flour; baker's % 33.3, 66.7
def test_one_two_three():
    """The published ratio is the plain dough, in baker's per cent too."""
    found = shortbread.dough_balance(3, 2, 1)
    assert 100 * found["butter_ratio"] == pytest.approx(66.7, abs=0.05)
    assert 100 * found["sugar_ratio"] == pytest.approx(33.3, abs=0.05)
    made = portions.dough_for_pieces(30, 7, 50)
    assert made["flour_g"] / made["sugar_g"] == pytest.approx(3)
    assert made["butter_g"] / made["sugar_g"] == pytest.approx(2)


# US Armed Forces Recipe Service, card H-5: butter 72.7 and sugar 40.9 % of flour
def test_a_published_richer_card_is_inside():
    """A service recipe card lies inside both spans."""
    found = shortbread.dough_balance(100, 72.7, 40.9)
    assert found["butter_off_ratio"] == 0
    assert found["sugar_off_ratio"] == 0


# USDA National Nutrient Database, Release 28 (NDB 20081, 01145, 01001): worked water of the raw dough
@pytest.mark.parametrize(("butter_water", "water"), [(17.94, 11.9), (15.87, 11.3)])
def test_water_of_the_raw_dough(butter_water, water):
    """Unsalted butter gives 11.9 %, salted 11.3 %."""
    assert shortbread.dough_water(300, 200, 100, butter_water)["water_percent"] == pytest.approx(water, abs=0.06)


# Spreads of 60 and 40 % fat in the place of butter (classes of Regulation (EU) 1308/2013), worked
@pytest.mark.parametrize(("fat", "water"), [(60, 18.8), (40, 25.5)])
def test_water_with_a_spread(fat, water):
    """A spread of less fat brings its water into the dough."""
    assert shortbread.dough_water(300, 200, 100, 100 - fat)["water_percent"] == pytest.approx(water, abs=0.7)


# USDA Release 28, NDB 18192: commercial shortbread holds 3.6 % water; worked losses from 11.9 %
@pytest.mark.parametrize(("left", "loss"), [(3.6, 8.6), (2, 10.1), (6, 6.3)])
def test_weight_lost_in_the_bake(left, loss):
    """The losses to 2, 3.6 and 6 % water are the worked ones, and lie in the usual 7 to 10.5 % down to 3.6 %."""
    assert shortbread.loss_to_water(11.9, left)["loss_percent"] == pytest.approx(loss, abs=0.1)
    assert shortbread.BAKED_WATER_PERCENT == 3.6


# A baking reference on flour strength: protein in %
@pytest.mark.parametrize(
    ("name", "low", "high"), [("cake", 7, 9), ("pastry", 9, 10), ("plain", 10, 12), ("bread", 12.5, 13.5)]
)
def test_protein_of_flours(name, low, high):
    """Protein spans are the published ones; a bread flour is brought down by swapping starch."""
    assert shortbread.FLOUR_PROTEIN[name] == (low, high)
    if low > shortbread.SHORT_DOUGH_PROTEIN_PERCENT:
        assert shortbread.soften_flour(100, high)["protein_after_percent"] < low


# USDA Release 28: all-purpose 10.33, bread 11.98, cake 8.2 % protein
@pytest.mark.parametrize(("protein", "share"), [(10.33, 0.080), (11.98, 0.207)])
def test_swap_for_the_flours_of_the_usda_tables(protein, share):
    """The share swapped is that which brings protein to 9.5 %."""
    assert shortbread.soften_flour(100, protein)["starch_share"] == pytest.approx(share, abs=0.001)


@pytest.mark.parametrize(
    ("degrees", "state"),
    [
        (2, ButterState.TOO_COLD),  # chilled butter, a test kitchen's note (common practice)
        (18, ButterState.RIGHT),  # softened, the same
        (19, ButterState.RIGHT),
        (30, ButterState.TOO_WARM),  # melted and cooled, the same
    ],
)
def test_butter_for_creaming(degrees, state):
    """Chilled is too cold, softened right, melted too warm."""
    assert shortbread.butter_state(degrees, "creaming") is state
