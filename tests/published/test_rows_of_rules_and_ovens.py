"""Every published row on food rules, allergens and ovens that a calculation gives or the kitchen keeps, against it.

The rows, their sources and the tolerance that each source supports stand in rows/.
"""

from __future__ import annotations

import pytest
from published_rows import by_name, compared, near

from troubleshoot.kitchen import oven, safety
from troubleshoot.kitchen.allergens import allergens_of, by_us_names

LISTS = {"eu_uk": safety.ALLERGENS_EU_UK, "us": safety.ALLERGENS_US}


def limit_fahrenheit(row, at):
    """The limit is kept in whole °C, beside the printed °F."""
    near(row, oven.celsius(row["value"]), safety.LIMITS[at["limit"]].value)


def allergens_of_component(row, at):
    """What always is in it, and what to look for, hold what the ordinary ingredients bring."""
    found = allergens_of(at["component"])
    assert set(row["value"]) <= {*found.always, *found.look_for}
    assert set(found.always) <= set(row["value"])
    assert set(by_us_names(found.always)) <= set(safety.ALLERGENS_US)


def gas_mark(row, at):
    """°F as printed, °C exact to the degree, the rounded column within 8 degrees and back to the mark, and the fan."""
    found = oven.gas_mark_to_celsius(at["gas_mark"])
    near(row, found["conventional_f"])
    assert found["conventional_c"] == pytest.approx(at["exact_c"], abs=0.5)
    assert found["conventional_c"] == pytest.approx(at["rounded_c"], abs=8)
    assert oven.celsius_to_gas_mark(at["rounded_c"])["gas_mark"] == at["gas_mark"]
    assert oven.fan_equivalent(at["rounded_c"])["fan_c"] == at["fan_c"]
    assert oven.conventional_equivalent(at["fan_c"], "fan")["conventional_c"] == at["rounded_c"]


def gas_formula(row, at):
    """F = 250 + 25 mark from 1 to 9, and 25 °F less at each halving below."""
    for mark in range(1, 10):
        assert oven.gas_mark_to_celsius(mark)["conventional_f"] == 250 + 25 * mark
    assert oven.gas_mark_to_celsius(0.5)["conventional_f"] == 250
    assert oven.gas_mark_to_celsius(0.25)["conventional_f"] == 225


def fan_drop(row, at):
    """The published reduction lies in the range that is given with each setting."""
    drops = row["value"] if isinstance(row["value"], list) else [at.get("kelvin", row["value"])]
    found = oven.fan_equivalent(200)
    for drop in drops:
        assert found["fan_low_c"] <= 200 - drop <= found["fan_high_c"]
    assert found["fan_low_c"] <= found["fan_c"] <= found["fan_high_c"]


COMPARISONS = {
    "limit": lambda row, at: near(row, safety.LIMITS[at["limit"]].value),
    "limit_fahrenheit": limit_fahrenheit,
    "limit_within": lambda row, at: near(
        row, safety.LIMITS[at["limit"]].value, sorted((*row["value"], safety.LIMITS[at["limit"]].value))[1]
    ),
    "allergen": lambda row, at: near(row, LISTS[at["list"]].count(row["value"]), 1),
    "allergen_count": lambda row, at: near(row, len(set(LISTS[at["list"]]))),
    "allergens_of": allergens_of_component,
    "gas_mark": gas_mark,
    "gas_mark_rounded": lambda row, at: near(row, oven.gas_mark_to_celsius(**at)["conventional_c"]),
    "gas_formula": gas_formula,
    "fahrenheit": lambda row, at: near(row, oven.celsius(**{"fahrenheit_degrees": at["fahrenheit"]})),
    "fan_drop": fan_drop,
    "oven_in_order": lambda row, at: near(row, oven.oven_in_order(180, 180 + at["off_k"]), at["in_order"]),
}


@pytest.mark.parametrize("row", compared("food_safety", "oven"))
def test_a_published_row_is_reproduced(row):
    """The calculation, or the figure that the kitchen keeps, is the published one within what its source supports."""
    by_name(row, COMPARISONS)
