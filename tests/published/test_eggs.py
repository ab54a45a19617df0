"""Egg weights and setting temperatures against published classes and tables."""

from __future__ import annotations

import pytest

from troubleshoot.kitchen import eggs


# Commission Regulation (EC) No 589/2008, Article 4
@pytest.mark.parametrize(
    ("weight", "name"),
    [(40, "S"), (52.99, "S"), (53, "M"), (62.99, "M"), (63, "L"), (72.99, "L"), (73, "XL"), (90, "XL")],
)
def test_eu_and_uk_classes(weight, name):
    """Each class begins at its published limit and ends just under the next."""
    assert eggs.eu_class(weight) == name


# United States Standards, Grades, and Weight Classes for Shell Eggs (AMS 56): ounces for a dozen, grams for one
@pytest.mark.parametrize(
    ("name", "ounces", "grams"),
    [
        ("jumbo", 30, 70.9),
        ("extra large", 27, 63.8),
        ("large", 24, 56.7),
        ("medium", 21, 49.6),
        ("small", 18, 42.5),
        ("peewee", 15, 35.4),
    ],
)
def test_us_class_minimums(name, ounces, grams):
    """The least weight for a dozen is the published one, and one egg is its twelfth in grams."""
    assert eggs.US_OUNCES_PER_DOZEN[name] == ounces
    assert eggs.us_minimum_g(name) == pytest.approx(grams, abs=0.05)


# USDA National Nutrient Database for Standard Reference, Release 28, NDB 01123 weight table
@pytest.mark.parametrize(
    ("name", "contents", "share"),
    [
        ("jumbo", 63, 0.889),
        ("extra large", 56, 0.878),
        ("large", 50, 0.882),
        ("medium", 44, 0.887),
        ("small", 38, 0.894),
    ],
)
def test_us_contents(name, contents, share):
    """Contents by class are the table's, and 0.88 of the class minimum comes within 2 % of them."""
    assert eggs.US_CONTENTS_G[name] == contents
    assert contents / eggs.us_minimum_g(name) == pytest.approx(share, abs=0.001)
    assert eggs.egg_without_shell(eggs.us_minimum_g(name))["contents_g"] == pytest.approx(contents, rel=0.02)


# The same tables, NDB 01124 and 01125
def test_white_and_yolk_make_a_large_egg():
    """White 33 g and yolk 17 g make the 50 g of a large egg."""
    assert eggs.US_CONTENTS_G["large"] == eggs.US_LARGE_WHITE_G + eggs.US_LARGE_YOLK_G


# The same tables, NDB 01123: one cup is 243 g, "4.86 large eggs"
def test_a_cup_of_egg():
    """A cup of 243 g takes five large eggs, the fifth nearly whole."""
    need = eggs.eggs_needed(243, 50)
    assert need["eggs"] == 5
    assert pytest.approx(4.86) == 243 / 50


# Class limits of EC 589/2008 times 0.88 (worked)
@pytest.mark.parametrize(("name", "low", "high"), [("M", 46.6, 55.4), ("L", 55.4, 64.2)])
def test_eu_contents(name, low, high):
    """Contents of the middle classes are the class limits times the share without shell."""
    assert eggs.eu_contents_g(name) == (pytest.approx(low, abs=0.05), pytest.approx(high, abs=0.05))


# The same tables, NDB 01123, 01124 and 01125: water in whole egg, white and yolk, g in 100 g
def test_water_in_whole_egg():
    """Water of white and yolk in the share of a large egg makes that of whole egg, and the constant is the table's."""
    assert pytest.approx(0.7615) == eggs.WATER_IN_WHOLE_EGG
    assert pytest.approx(76.15, abs=0.7) == (33 * 87.57 + 17 * 52.31) / 50


# On Food and Cooking, 2nd ed., ch. 2, and a course text on egg white (61 and 62 °C)
@pytest.mark.parametrize(
    ("constant", "published"),
    [
        (eggs.FIRST_PROTEIN_SETS_C, 61),
        (eggs.WHITE_THICKENS_C, 63),
        (eggs.WHITE_SETS_C, 65),
        (eggs.YOLK_THICKENS_C, 65),
        (eggs.YOLK_SETS_C, 70),
        (eggs.WHOLE_EGG_SETS_C, 73),
    ],
)
def test_setting_temperatures(constant, published):
    """Each setting temperature is the published one."""
    assert constant == published


# J. Home Econ. Japan 46(6): 549, 1995: mixed at 15 to 60 °C puffs rose; at 70 °C egg set, oil parted, none rose
def test_egg_meets_panade_below_where_it_failed():
    """The limit for panade meeting egg is the warmest that worked, ten degrees under the one that failed."""
    assert eggs.CHOUX_EGG_LIMIT_C == 60
    assert eggs.CHOUX_EGG_FAILS_C == 70
    assert eggs.CHOUX_EGG_LIMIT_C < eggs.FIRST_PROTEIN_SETS_C
