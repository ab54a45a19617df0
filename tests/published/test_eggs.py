"""Egg weights and setting temperatures against published classes and tables."""

from __future__ import annotations

import pytest

from troubleshoot.kitchen import eggs


# The same tables, NDB 01124 and 01125
def test_white_and_yolk_make_a_large_egg():
    """White 33 g and yolk 17 g make the 50 g of a large egg."""
    assert eggs.US_CONTENTS_G["large"] == eggs.US_LARGE_WHITE_G + eggs.US_LARGE_YOLK_G


# The same tables, NDB 01123, 01124 and 01125: water in whole egg, white and yolk, g in 100 g
def test_water_in_whole_egg():
    """Water of white and yolk in the share of a large egg makes that of whole egg, and the constant is the table's."""
    assert pytest.approx(0.7615) == eggs.WATER_IN_WHOLE_EGG
    assert pytest.approx(76.15, abs=0.7) == (33 * 87.57 + 17 * 52.31) / 50


# J. Home Econ. Japan 46(6): 549, 1995: mixed at 15 to 60 °C puffs rose; at 70 °C egg set, oil parted, none rose
def test_egg_meets_panade_below_where_it_failed():
    """The limit for panade meeting egg is the warmest that worked, ten degrees under the one that failed."""
    assert eggs.CHOUX_EGG_LIMIT_C == 60
    assert eggs.CHOUX_EGG_FAILS_C == 70
    assert eggs.CHOUX_EGG_LIMIT_C < eggs.FIRST_PROTEIN_SETS_C
