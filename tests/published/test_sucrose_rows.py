"""The rows of the sucrose tables between those in test_sucrose, and recipes that state their syrup."""

from __future__ import annotations

import pytest

from troubleshoot.kitchen import cream, oven, sucrose, syrup


# Browne, Handbook of Sugar Analysis, 1912 (read second-hand): the rows that are read between the kept points
@pytest.mark.parametrize(
    ("sugar", "rise"),
    [(12, 0.4), (16, 0.5), (18, 0.5), (22, 0.7), (34, 1.2), (38, 1.4), (42, 1.6), (46, 1.8), (48, 1.9)],
)
def test_boiling_point_by_the_handbook_between_its_points(sugar, rise):
    """Read between the kept points, the older figure is within its own last digit of the print."""
    found = sucrose.syrup_boiling_point(sugar)
    assert found["older_c"] - 99.974 == pytest.approx(rise, abs=0.11)


# Browne 1912 and Starzak and Peacock 1997 part most here; both are given, and the graph of On Food and Cooking lies near
@pytest.mark.parametrize(("sugar", "modern", "older"), [(70, 4.99, 6.5), (74, 6.33, 8.4), (80, 9.46, 12.0)])
def test_the_contested_boiling_points_are_given_as_a_range(sugar, modern, older):
    """The two sources' figures are both there, so that the range between them can be shown."""
    found = sucrose.syrup_boiling_point(sugar)
    assert found["over_water_k"] == pytest.approx(modern, abs=0.05)
    assert found["older_c"] - found["boils_c"] == pytest.approx(older - modern, abs=0.1)
    turned = sucrose.strength_at_boil(found["older_c"])
    assert turned["lowest_percent"] == pytest.approx(sugar, abs=0.1)
    assert turned["sugar_percent"] > sugar


# Ideal solution (Raoult), worked: the rows between
@pytest.mark.parametrize(("sugar", "rise"), [(20, 0.37), (40, 0.97), (60, 2.14)])
def test_no_syrup_rises_less_than_an_ideal_one(sugar, rise):
    """The rise is never under that of an ideal solution."""
    assert sucrose.syrup_boiling_point(sugar)["over_water_k"] >= rise - 0.005


# Mohos, Confectionery and Chocolate Engineering, 2010, Table A2.2: the rows between
@pytest.mark.parametrize(
    ("celsius", "grams"),
    [(35, 228.4), (45, 248.7), (55, 273.1), (65, 302.9), (75, 339.9), (85, 386.8), (95, 448.6)],
)
def test_solubility_between(celsius, grams):
    """Each printed row is met, and turned round gives its temperature."""
    found = sucrose.solubility(celsius)
    assert found["g_per_100_g_water"] == pytest.approx(grams, rel=1e-6)
    assert sucrose.saturation_temperature(found["sugar_percent"])["saturated_c"] == pytest.approx(celsius, abs=1e-6)


# The newer line (Vavrinecz 1962, coefficients from memory): the rows between
@pytest.mark.parametrize(
    ("celsius", "grams"), [(0, 181.3), (30, 215.4), (50, 258.6), (70, 325.2), (90, 420.0), (100, 476.4)]
)
def test_solubility_of_the_newer_line_between(celsius, grams):
    """The newer line (values from memory) parts from the table by no more than 2.5 %."""
    assert sucrose.solubility(celsius)["g_per_100_g_water"] == pytest.approx(grams, rel=0.025)


# Mohos 2010, Table A2.1: the rows between
@pytest.mark.parametrize(("sugar", "baume"), [(5, 2.8), (15, 8.3), (25, 13.8), (35, 19.3), (45, 24.6), (55, 30.2)])
def test_degrees_baume_between(sugar, baume):
    """Degrees Baumé agree to 0.35, and turned round give the strength within 0.7 %."""
    assert sucrose.baume_from_percent(sugar)["baume"] == pytest.approx(baume, abs=0.35)
    assert sucrose.percent_from_baume(baume)["sugar_percent"] == pytest.approx(sugar, abs=0.7)


# ICUMSA SPS-4 polynomial at 20 °C (coefficients from memory): kg/m3
@pytest.mark.parametrize(
    ("sugar", "density"),
    [(0, 998.2), (10, 1038.1), (20, 1081.0), (30, 1127.0), (40, 1176.5), (50, 1229.7), (60, 1286.6), (65, 1316.6),
     (70, 1347.5), (75, 1379.4), (80, 1412.2), (85, 1445.9)],
)  # fmt: skip
def test_density(sugar, density):
    """Density (rows from memory) agrees to its last digit."""
    assert sucrose.syrup_density(sugar)["density_kg_m3"] == pytest.approx(density, abs=0.06)


# Magazine recipes: 1 1/2 cups sugar to 1 cup water; cups alike; a process of 1400 g sugar to 1000 g water in all
@pytest.mark.parametrize(
    ("sugar", "water", "ratio", "percent"),
    [(300, 236.6, 1.27, 55.9), (200, 236.6, 0.85, 45.8), (1400, 1000, 1.4, 58.3), (100, 100, 1.0, 50.0)],
)
def test_syrups_of_printed_recipes(sugar, water, ratio, percent):
    """Sugar to water and strength of the printed recipes."""
    found = syrup.syrup_from(sugar, water)
    assert found["sugar_to_water_ratio"] == pytest.approx(ratio, abs=0.005)
    assert found["sugar_percent"] == pytest.approx(percent, abs=0.1)


# Candying ends at 70 to 74 % (On Food and Cooking, 2nd ed.) or at 75 % (course text): contested
def test_where_candying_ends_is_contested():
    """The last step lies at the upper of the two published ends; the lower ones are steps before it."""
    strengths = [15.0]
    while strengths[-1] < 75:
        strengths.append(syrup.step_up(1000, strengths[-1])["next_percent"])
    assert strengths[-1] == 75
    assert any(70 <= strength <= 74 for strength in strengths)


# UK charts that part: gas mark 1/2 at 120 or 130 °C, mark 3 at 160 or 170 °C
@pytest.mark.parametrize(("mark", "low", "high"), [(0.5, 120, 130), (3, 160, 170)])
def test_gas_marks_that_charts_round_apart(mark, low, high):
    """The exact value lies in the contested range."""
    assert low <= oven.gas_mark_to_celsius(mark)["conventional_c"] <= high


# A baking magazine: 40 g of sugar to 500 g of cream is 8 %; a web page: 1 g of gelatine to 100 ml of cream
def test_sugar_and_gelatine_of_printed_recipes():
    """The printed shares come out, and the gelatine lies at the upper end of the usual span."""
    assert cream.sugar_share(500, 40)["sugar_percent"] == pytest.approx(8)
    assert cream.sugar_to_add(500, 0, 8)["sugar_g"] == pytest.approx(40)
    assert cream.gelatine_share(100 * cream.CREAM_G_PER_ML, 1)["gelatine_percent"] == pytest.approx(1.0, abs=0.01)
