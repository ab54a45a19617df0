"""Tempering, heat, seized chocolate, ganache and labels against published figures."""

from __future__ import annotations

import pytest

from troubleshoot.kitchen import chocolate, labels

#: kind, step, least, most in °C.  Sources: On Food and Cooking, 2nd ed., ch. 12; a tempering chart in a book on
#: chocolate work; a guide to tempering methods of a chocolate school.
TEMPERING = [
    ("dark", "melt", 45, 50), ("dark", "cool", 28, 29), ("dark", "work", 31, 32),
    ("milk", "melt", 40, 45), ("milk", "cool", 27, 28), ("milk", "work", 30, 31),
    ("white", "melt", 40, 40), ("white", "cool", 24, 25), ("white", "work", 27, 28),
    ("dark", "melt", 50, 55), ("milk", "melt", 45, 50), ("white", "melt", 45, 50),
    ("white", "cool", 26, 27), ("white", "work", 29, 30),
    ("dark", "cool", 27, 27), ("milk", "melt", 45, 45), ("milk", "cool", 27, 27), ("milk", "work", 29, 30),
    ("white", "melt", 45, 45), ("white", "cool", 27, 27), ("white", "work", 28, 29),
]  # fmt: skip


@pytest.mark.parametrize(("coating", "step", "low", "high"), TEMPERING)
def test_published_tempering_spans_are_inside(coating, step, low, high):
    """Every published span lies inside the curve kept for its kind."""
    curve = chocolate.tempering_curve(coating)
    assert curve[f"{step}_low_c"] <= low <= high <= curve[f"{step}_high_c"]


@pytest.mark.parametrize("coating", chocolate.COATINGS)
@pytest.mark.parametrize("step", ["melt", "cool", "work"])
def test_the_curves_are_no_wider_than_the_sources(coating, step):
    """Each end of each span is a published figure."""
    curve = chocolate.tempering_curve(coating)
    rows = [row for row in TEMPERING if row[:2] == (coating, step)]
    assert curve[f"{step}_low_c"] == min(row[2] for row in rows)
    assert curve[f"{step}_high_c"] == max(row[3] for row in rows)


# The guide of the chocolate school: highest working temperatures
@pytest.mark.parametrize(("coating", "most"), [("dark", 34.5), ("milk", 32.5), ("white", 31.5)])
def test_where_temper_is_lost(coating, most):
    """Temper is lost above the published figure."""
    assert chocolate.off_working_heat(coating, most)["to_lost_k"] == pytest.approx(0)


# Wille and Lutton, J. Am. Oil Chem. Soc. 43: 491, 1966 (read second-hand); rounded table of general encyclopaedias
@pytest.mark.parametrize(
    ("form", "sharp", "rounded"),
    [("I", 17.3, 17), ("II", 23.3, 21), ("III", 25.5, 26), ("IV", 27.3, 28), ("V", 33.8, 34), ("VI", 36.3, 36)],
)
def test_crystal_forms(form, sharp, rounded):
    """Melting points are the published ones, within 2.5 K of the rounded table."""
    assert chocolate.FORMS[form] == sharp
    assert chocolate.FORMS[form] == pytest.approx(rounded, abs=2.5)


# Industrial Chocolate Manufacture and Use, 4th ed., pp. 667-668: 1590 J/(kg K) at 15 to 40 °C, 1670 at 40 to 60 °C
@pytest.mark.parametrize(("low", "high", "kj"), [(15, 40, 39.75), (40, 60, 33.4)])
def test_specific_heats(low, high, kj):
    """A kilogram takes the published heat over the published span."""
    assert chocolate.heat_to_warm(1000, low, high)["heat_kj"] == pytest.approx(kj)


# The same, after Chevalley et al. 1970: heat of melting 46 J/g dark, 44 milk
@pytest.mark.parametrize(("coating", "latent"), [("dark", 46), ("milk", 44)])
def test_heat_of_melting(coating, latent):
    """Melting takes the published heat beside the warming."""
    melt = chocolate.heat_to_melt(1000, 20, 45, coating)["heat_kj"]
    assert melt - chocolate.heat_to_warm(1000, 20, 45)["heat_kj"] == pytest.approx(latent)


# Worked: a gram of dark chocolate from 20 to 45 °C takes about 86 J, so 86 s for each kilogram at 1000 W
def test_seconds_in_a_microwave():
    """The floor for melting in a microwave is about 86 s for each kilogram and kilowatt."""
    assert chocolate.heat_to_melt(1000, 20, 45)["seconds_at_1000_w"] == pytest.approx(86, abs=1)


@pytest.mark.parametrize(
    ("percent", "enough"),
    [
        (10, False),
        (20, True),  # chocolate science text, read second-hand: 20 % of all water
        (26, True),  # one US tablespoon to two ounces (web page and a newspaper; common practice)
        (33, True),  # a cookbook of 2021 (common practice)
    ],
)
def test_water_for_seized_chocolate(percent, enough):
    """Published shares reach the least for a smooth sauce, a tenth does not."""
    assert (percent * 2 >= chocolate.liquid_for_seized(200)["least_water_g"]) is enough


# Cookbooks and web pages (common practice): chocolate for each gram of cream
@pytest.mark.parametrize(
    ("coating", "use", "ratio"),
    [
        ("dark", "glaze", 0.5),
        ("dark", "glaze", 1.0),
        ("dark", "filling", 1.0),
        ("dark", "truffle", 2.0),
        ("milk", "glaze", 1.5),
        ("milk", "truffle", 3.0),
        ("white", "glaze", 2.0),
        ("white", "filling", 3.0),
    ],
)
def test_ganache_ratios(coating, use, ratio):
    """Each printed ratio lies in the span for its use."""
    low, high = chocolate.ganache_span(coating, use)
    assert low <= ratio <= high


#: Name, shares.  Directive 2000/36/EC Annex I A.3 to A.6; 21 CFR 163.123, .124, .130; Codex 87-1981 2.1.1, 2.1.3, 2.1.6
STANDARDS = {
    "eu_chocolate": {"cocoa_solids": 35, "cocoa_butter": 18, "fat_free_cocoa": 14},
    "eu_couverture": {"cocoa_solids": 35, "cocoa_butter": 31, "fat_free_cocoa": 2.5},
    "eu_vermicelli": {"cocoa_solids": 32, "cocoa_butter": 12, "fat_free_cocoa": 14},
    "eu_quality_dark": {"cocoa_solids": 43, "cocoa_butter": 26},
    "eu_quality_milk": {"cocoa_solids": 30, "milk_solids": 18, "milk_fat": 4.5},
    "codex_sweet": {"cocoa_solids": 30, "cocoa_butter": 18, "fat_free_cocoa": 12},
    "codex_family_milk": {"cocoa_solids": 20, "fat_free_cocoa": 2.5, "milk_solids": 20, "milk_fat": 5},
    "eu_milk_chocolate": {
        "cocoa_solids": 25, "milk_solids": 14, "fat_free_cocoa": 2.5, "milk_fat": 3.5, "total_fat": 25,
    },
    "eu_family_milk_chocolate": {
        "cocoa_solids": 20, "milk_solids": 20, "fat_free_cocoa": 2.5, "milk_fat": 5, "total_fat": 25,
    },
    "eu_white_chocolate": {"cocoa_butter": 20, "milk_solids": 14},
    "us_sweet_chocolate": {"chocolate_liquor": 15},
    "us_semisweet": {"chocolate_liquor": 35},
    "us_milk_chocolate": {"chocolate_liquor": 10, "milk_fat": 3.39, "milk_solids": 12},
    "us_white_chocolate": {"cocoa_butter": 20, "milk_fat": 3.5, "milk_solids": 14},
    "codex_chocolate": {"cocoa_solids": 35, "cocoa_butter": 18, "fat_free_cocoa": 14},
    "codex_couverture": {"cocoa_solids": 35, "cocoa_butter": 31, "fat_free_cocoa": 2.5},
    "codex_milk_couverture": {
        "cocoa_solids": 25, "fat_free_cocoa": 2.5, "milk_solids": 14, "milk_fat": 3.5, "total_fat": 31,
    },
}  # fmt: skip


def test_no_standard_goes_unchecked():
    """Every standard kept is one of the published ones here."""
    assert set(labels.STANDARDS) == set(STANDARDS)


@pytest.mark.parametrize("name", STANDARDS)
def test_a_label_at_the_limit_bears_its_name(name):
    """At the published shares a label bears the name, and with any one of them a tenth lower it does not."""
    label = STANDARDS[name]
    roomy = {**label, **({"cocoa_solids": 60} if {"cocoa_solids", "cocoa_butter"} <= set(label) else {})}
    assert labels.bears_name(name, roomy)
    for part, least in label.items():
        parts = roomy.get("cocoa_butter", 0) + roomy.get("fat_free_cocoa", 0)
        if part == "cocoa_solids" and least - 0.1 < parts:
            continue  # the parts alone already make up the least of all cocoa
        assert [s.part for s in labels.shortfalls(name, {**roomy, part: least - 0.1})] == [part]


# Directive 2000/36/EC, Article 2, and Codex 87, 2: 5 % of the finished product; 21 CFR 163.113: 10 to under 22 %
def test_vegetable_fat_and_fat_of_cocoa():
    """The most vegetable fat and the span of fat in US cocoa are the published ones."""
    assert labels.VEGETABLE_FAT_MOST == 5
    assert labels.US_COCOA_FAT == (10, 22)


# USDA National Nutrient Database, Release 28, NDB 19904: dark chocolate of 70 to 85 % cocoa holds 42.63 % fat
def test_a_dark_chocolate_of_the_usda_tables_is_couverture():
    """Chocolate of 70 % cocoa, 42.63 % of it fat, is couverture in the EU and in Codex."""
    label = {"cocoa_solids": 70, "cocoa_butter": 42.63, "fat_free_cocoa": 70 - 42.63}
    assert labels.bears_name("eu_couverture", label)
    assert labels.bears_name("codex_couverture", label)
