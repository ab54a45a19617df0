"""Choux: all the water of seven published formulas, and what the oven drives off, against the worked spans."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from troubleshoot.errors import AmountError
from troubleshoot.kitchen import choux, paste_water


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
