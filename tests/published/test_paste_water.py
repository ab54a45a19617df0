"""Choux: all the water of seven published formulas, and what the oven drives off, against the worked spans."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from troubleshoot.errors import AmountError
from troubleshoot.kitchen import choux, paste_water

#: Flour, liquid, fat, egg, milk in the liquid, water of the fat in % (sources: see test_choux_formulas).
FORMULAS = {
    "ratio_2009": (113, 227, 113, 227, 0, 17.94),
    "how_baking_works": (125, 225, 85, 225, 0, 0),  # shortening holds no water
    "on_baking": (150, 240, 105, 250, 120, 17.94),
    "school_handout": (250, 400, 200, 400, 200, 17.94),
    "ibiblio_exhibit": (150, 250, 100, 200, 0, 17.94),
    "handbook_1867": (113, 237, 57, 200, 0, 17.94),
    "joy_1952": (62.5, 118, 57, 100, 0, 17.94),
}

WATERS = {name: paste_water.total_water(*formula) for name, formula in FORMULAS.items()}


# Worked from the seven formulas with USDA water contents: 2.80 to 3.72 g to each gram of flour, 59.2 to 68.0 % of weight
def test_water_of_the_seven_formulas():
    """The driest and the wettest formula are where the worked spans end, within what bread flour and milk move."""
    ratios = [water["water_to_flour_ratio"] for water in WATERS.values()]
    assert (min(ratios), max(ratios)) == (pytest.approx(2.80, abs=0.04), pytest.approx(3.72, abs=0.04))
    shares = [water["paste_water_percent"] for water in WATERS.values()]
    assert (min(shares), max(shares)) == (pytest.approx(59.2, abs=0.6), pytest.approx(68.0, abs=0.6))


# Worked by mass balance: to 40.5 % water (USDA Release 28, NDB 18237) and to a crisp 10 %
@pytest.mark.parametrize(
    ("paste", "shell", "loss"), [(59.2, 40.5, 31.4), (68.0, 40.5, 46.2), (59.2, 10, 54.7), (68.0, 10, 64.4)]
)
def test_what_the_oven_drives_off(paste, shell, loss):
    """The loss from piped to baked is the worked one to a tenth of a per cent."""
    found = paste_water.water_to_drive_off(100, paste, shell)
    assert found["loss_percent"] == pytest.approx(loss, abs=0.1)
    assert found["drive_off_g"] + found["shell_g"] == pytest.approx(100, abs=1e-9)


@given(st.floats(1, 2000), st.floats(5, 100))
def test_a_scaled_recipe_pipes_what_was_wanted(shells, piece):
    """Scaled to a number of pieces, the recipe keeps its ratios and pipes them, less what stays in the bowls."""
    found = paste_water.scale_to_shells(shells, piece, 150, 250, 105, 250)
    made = choux.paste_weight(found["flour_g"], found["liquid_g"], found["butter_g"], found["egg_g"]) * 0.96
    assert made == pytest.approx(shells * piece, rel=1e-9)
    assert found["egg_g"] / found["flour_g"] == pytest.approx(250 / 150, rel=1e-9)


def test_a_whole_number_of_pieces_is_counted_back():
    """The count of a scaled batch is the number it was scaled to."""
    found = paste_water.scale_to_shells(40, 25, 150, 250, 105, 250)
    scaled = (found["flour_g"], found["liquid_g"], found["butter_g"], found["egg_g"])
    assert choux.shells_from_paste(*scaled, 25)["shells"] == 40


@pytest.mark.parametrize(
    "call",
    [
        lambda: paste_water.total_water(150, 250, 105, 250, 300),
        lambda: paste_water.water_to_drive_off(25, 45, 50),
        lambda: paste_water.scale_to_shells(0, 25, 150, 250, 105, 250),
    ],
)
def test_what_cannot_be_is_refused(call):
    """More milk than liquid, a shell wetter than its paste, and no pieces are refused in a sentence."""
    with pytest.raises(AmountError, match=r"\.$"):
        call()
