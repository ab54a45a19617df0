"""Syrup: boiling point, solubility, density and water activity against published tables."""

from __future__ import annotations

import pytest

from troubleshoot.kitchen import sucrose, syrup

#: % of weight and K over water (Starzak and Peacock, Zuckerindustrie 122, 1997, worked from the printed coefficients).
MODERN = [
    (10, 0.17), (20, 0.39), (30, 0.7), (40, 1.15), (50, 1.82), (60, 2.94), (65, 3.79), (70, 4.99), (75, 6.74),
    (80, 9.46), (82, 10.99), (85, 14.02), (88, 18.39), (90, 22.43), (92, 27.81), (95, 39.4),
]  # fmt: skip

#: % of weight and K over water (Browne, Handbook of Sugar Analysis, 1912, read second-hand).
HANDBOOK = [
    (10, 0.4), (14, 0.5), (20, 0.6), (32, 1.1), (36, 1.3), (40, 1.5), (44, 1.7), (50, 2.0), (52, 2.1), (62, 3.4),
    (64, 4.0), (66, 4.8), (68, 5.6), (70, 6.5), (72, 7.4), (74, 8.4), (76, 9.4), (78, 10.6), (80, 12.0), (82, 13.9),
]  # fmt: skip

#: °C at the boil and % of weight (the modern equation turned round).
STRENGTH = [
    (102, 52.3), (104, 66.1), (106, 73.2), (108, 77.7), (110, 80.8), (112, 83.1), (113, 84.1), (115, 85.8), (116, 86.5),
    (118, 87.8), (120, 88.9), (121, 89.4), (125, 91.0), (130, 92.7), (132, 93.2), (143, 95.7), (149, 96.9),
]  # fmt: skip


@pytest.mark.parametrize(("sugar", "rise"), MODERN)
def test_boiling_point_by_the_modern_equation(sugar, rise):
    """The rise over water is the worked one to 0.02 K."""
    assert sucrose.syrup_boiling_point(sugar)["over_water_k"] == pytest.approx(rise, abs=0.02)


@pytest.mark.parametrize(("sugar", "rise"), HANDBOOK)
def test_boiling_point_by_the_handbook(sugar, rise):
    """The older figure is the handbook's, and the two part by no more than 3 K."""
    found = sucrose.syrup_boiling_point(sugar)
    assert found["older_c"] - 99.974 == pytest.approx(rise, abs=0.11)
    assert abs(found["older_c"] - found["boils_c"]) <= 3


@pytest.mark.parametrize(("boiling", "sugar"), STRENGTH)
def test_strength_from_the_boil(boiling, sugar):
    """The strength is the worked one to a tenth of a per cent."""
    assert sucrose.strength_at_boil(boiling)["sugar_percent"] == pytest.approx(sugar, abs=0.1)


# The same equation: 50 % by weight boils at 101.8 °C; one US cup of each (45.9 %) at 101.48 °C
@pytest.mark.parametrize(("sugar", "water", "boils"), [(100, 100, 101.8), (200, 236.2, 101.48)])
def test_equal_parts_by_weight_and_by_volume(sugar, water, boils):
    """Syrup of equal parts boils where worked, by weight and by cups."""
    percent = syrup.syrup_from(sugar, water)["sugar_percent"]
    assert sucrose.syrup_boiling_point(percent)["boils_c"] == pytest.approx(boils, abs=0.02)


# Ideal solution (Raoult), worked: the least that any syrup must rise
@pytest.mark.parametrize(("sugar", "rise"), [(10, 0.16), (30, 0.63), (50, 1.44), (70, 3.28), (80, 5.44), (90, 11.24)])
def test_no_syrup_rises_less_than_an_ideal_one(sugar, rise):
    """The rise is never under that of an ideal solution."""
    assert sucrose.syrup_boiling_point(sugar)["over_water_k"] >= rise - 0.005


# On Food and Cooking, 2nd ed., ch. 12, graph: a syrup of 90 % boils at about 125 °C (band of 4 K)
def test_ninety_per_cent_on_the_published_graph():
    """A 90 % syrup boils within 4 K of the graph."""
    assert sucrose.syrup_boiling_point(90)["boils_c"] == pytest.approx(125, abs=4)


# Stages by a chart of confectioners' web pages (common practice): % of sugar and °F
@pytest.mark.parametrize(
    ("percent", "low_f", "high_f"), [(80, 223, 234), (85, 235, 244), (87, 245, 250), (92, 251, 265), (95, 266, 290)]
)
def test_candy_stages_fit_their_strength(percent, low_f, high_f):
    """A syrup of the printed strength boils in the printed span, to within 3 K."""
    boils = sucrose.syrup_boiling_point(percent)["boils_c"]
    assert (low_f - 32) * 5 / 9 - 3 <= boils <= (high_f - 32) * 5 / 9 + 3


# Mohos, Confectionery and Chocolate Engineering, 2010, Table A2.2: °C, g to 100 g of water, % of weight
@pytest.mark.parametrize(
    ("celsius", "grams", "percent"),
    [
        (0, 179.2, 64.18),
        (5, 184.7, 64.88),
        (10, 190.5, 65.58),
        (15, 197, 66.33),
        (20, 203.9, 67.09),
        (25, 211.4, 67.89),
        (30, 219.9, 68.74),
        (40, 238.1, 70.42),
        (50, 260.4, 72.25),
        (60, 287.3, 74.18),
        (70, 320.5, 76.22),
        (80, 362.1, 78.36),
        (90, 415.7, 80.61),
        (100, 487.2, 82.97),
    ],
)
def test_solubility(celsius, grams, percent):
    """Both printed columns are met."""
    found = sucrose.solubility(celsius)
    assert found["g_per_100_g_water"] == pytest.approx(grams, rel=1e-6)
    assert found["sugar_percent"] == pytest.approx(percent, abs=0.01)


# The newer solubility polynomial (Vavrinecz 1962), coefficients from memory
@pytest.mark.parametrize(("celsius", "grams"), [(10, 189.3), (20, 200.5), (40, 234.5), (60, 288.6), (80, 369.0)])
def test_solubility_of_the_newer_line(celsius, grams):
    """The newer line (values from memory) parts from the table by no more than 2.5 %."""
    assert sucrose.solubility(celsius)["g_per_100_g_water"] == pytest.approx(grams, rel=0.025)


# Starzak and Peacock 1997 at 25 °C
@pytest.mark.parametrize(
    ("sugar", "activity"),
    [
        (10, 0.9939),
        (20, 0.9858),
        (30, 0.9746),
        (40, 0.9585),
        (50, 0.9341),
        (60, 0.8947),
        (65, 0.8654),
        (67, 0.8511),
        (70, 0.8258),
        (75, 0.7709),
    ],
)
def test_water_activity(sugar, activity):
    """Water activity at 25 °C is the worked value to four figures."""
    assert sucrose.water_activity(sugar)["water_activity"] == pytest.approx(activity, abs=0.0001)


# Norrish equation with K = -6.47 (constant from memory)
@pytest.mark.parametrize(("sugar", "activity"), [(50, 0.9348), (60, 0.8953), (67, 0.8506), (75, 0.7657)])
def test_water_activity_of_norrish(sugar, activity):
    """The Norrish equation (constant from memory) gives the same to 0.006."""
    assert sucrose.water_activity(sugar)["water_activity"] == pytest.approx(activity, abs=0.006)


# NBS Circular C440, 1942 (cubic fit to specific gravity 20/20); Beet-Sugar Handbook, 2006, Table A.1, at 10, 15 and 20
@pytest.mark.parametrize(
    ("sugar", "gravity"),
    [
        (5, 1.0197),
        (10, 1.04),
        (15, 1.0611),
        (20, 1.083),
        (25, 1.1056),
        (30, 1.1291),
        (35, 1.1535),
        (40, 1.1787),
        (10, 1.03998),
        (15, 1.06104),
        (20, 1.08287),
    ],
)
def test_specific_gravity(sugar, gravity):
    """Specific gravity agrees to 0.0003."""
    assert sucrose.syrup_density(sugar)["specific_gravity"] == pytest.approx(gravity, abs=0.0003)


# Mohos 2010, Table A2.1: % and degrees Baumé
@pytest.mark.parametrize(
    ("sugar", "baume"),
    [
        (10, 5.6),
        (20, 11.1),
        (30, 16.6),
        (40, 22),
        (50, 27.5),
        (60, 32.5),
        (65, 35),
        (70, 37.6),
        (75, 40.3),
        (80, 42.5),
        (85, 44.9),
    ],
)
def test_degrees_baume(sugar, baume):
    """Degrees Baumé agree to 0.35, within the scatter of the printed table."""
    assert sucrose.baume_from_percent(sugar)["baume"] == pytest.approx(baume, abs=0.35)


# Course text on glazed and crystallised fruit: 30 °Brix, steps of 10 to 65, then 5, end at 75
def test_steps_of_the_course_text():
    """Candying starts at 30 and ends at 75 with the printed steps."""
    assert syrup.step_up(1000, 30)["next_percent"] == 40
    assert syrup.step_up(1000, 65)["next_percent"] == 70
    assert syrup.step_up(1000, 70)["next_percent"] == 75


# A magazine's recipe: syrup boiled to 220, 226 and 228 °F over three days (common practice)
def test_printed_end_points_of_peel():
    """The last printed end point, 228 °F, lies within 1 K of the span for the last boil, the first is below it."""
    end = syrup.peel_end_point(0)
    assert end["end_low_c"] - 1 <= (228 - 32) * 5 / 9 <= end["end_high_c"] + 1
    assert end["end_low_c"] > (220 - 32) * 5 / 9


# USDA National Nutrient Database, Release 28, NDB 19350: light corn syrup holds 22.81 % water
def test_dry_sugars_of_glucose_syrup():
    """100 g of glucose syrup stands for 77.19 g of dry sugars."""
    assert syrup.doctor_share(77.19, 100)["doctor_percent"] == pytest.approx(50, abs=1e-9)
