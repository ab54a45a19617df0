"""Cream blends, air and names against published worked examples and standards."""

from __future__ import annotations

import pytest

from troubleshoot.kitchen import cream


# The same: 500 kg of 4 % milk to 10 % with 35 % cream takes 120 kg; parts 6 to 25
def test_milk_brought_up_with_cream():
    """The worked example of enriching milk comes out, with its parts and its check of 620 kg."""
    mix = cream.blend_up(500, 4, 35, 10)
    assert mix["rich_cream_g"] == pytest.approx(120)
    assert mix["mix_g"] == pytest.approx(620)
    shares = cream.pearson_square(35, 4, 10)
    assert shares["rich_share"] / shares["lean_share"] == pytest.approx(6 / 25)


# USDA National Nutrient Database, Release 28, NDB 01053: one cup 238 g fluid, 120 g whipped, yields two cups
def test_overrun_of_the_usda_weights():
    """The cups of fluid and whipped cream give 98.3 % overrun."""
    found = cream.overrun(238, 120)
    assert found["overrun_percent"] == pytest.approx(98.3, abs=0.05)
    assert found["volume_times"] == pytest.approx(2, abs=0.02)
    assert cream.whipped_volume(238, 100)["whipped_ml"] == pytest.approx(2 * 236.6, abs=0.1)
