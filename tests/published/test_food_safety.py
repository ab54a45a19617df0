"""Limits of time and temperature against the published codes."""

from __future__ import annotations

import pytest

from troubleshoot.kitchen import safety
from troubleshoot.units import convert


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("us_cool_first", 2),  # US FDA Food Code 2022, 3-501.14(A)(1), as adopted by states
        ("us_cool_whole", 6),  # the same, (A)(2)
        ("us_cool_mixed_cold", 4),  # the same, 3-501.14(B)
        ("us_out", 4),  # the same, 3-501.19(B)
        ("us_out_cool", 6),  # the same, 3-501.19(C)
        ("uk_cold_hold", 8),  # SI 2013/2996, Schedule 4 para 2(1)
        ("uk_out", 4),  # SR 2006/3, Schedule 4 para 5(1)
        ("uk_hot_hold", 63),  # SI 2006/31 (Wales), Schedule 4 para 6
        ("uk_hot_out", 2),  # the same, para 7(2)
        ("burn_under_water", 20),  # first-aid advice, Kent Fire and Rescue Service and St John Ambulance Cymru
        ("sulphite_declared", 10),  # Regulation (EU) No 1169/2011, Annex II point 12
    ],
)
def test_limits_are_those_published(name, value):
    """Each limit is the published figure, with its source beside it."""
    assert safety.LIMITS[name].value == value
    assert len(safety.LIMITS[name].source) > 20


@pytest.mark.parametrize(
    ("name", "fahrenheit"),
    [
        ("us_cold_hold", 41),  # Food Code 2022, 3-501.16(A)(2)
        ("us_hot_hold", 135),  # the same, (A)(1)
        ("us_out_cool_ceiling", 70),  # the same, 3-501.19(C)(1)
        ("us_shell_eggs", 45),  # FDA, Key Temperatures for Egg Safety
        ("us_egg_served_at_once", 145),  # the same
        ("us_egg_held", 155),  # the same
    ],
)
def test_us_limits_in_fahrenheit(name, fahrenheit):
    """Each US limit is its printed °F, rounded to the whole °C."""
    assert safety.LIMITS[name].value == round(convert(fahrenheit, "F", "degC"))


# FDA page on egg safety: 145 °F for 15 s, 155 °F for 17 s
def test_egg_times():
    """The seconds for egg are the published ones."""
    assert safety.EGG_SECONDS == {"us_egg_served_at_once": 15, "us_egg_held": 17}


# Regulation (EU) No 1169/2011 Annex II; FALCPA 2004 with the FASTER Act 2021
def test_allergens_are_complete():
    """Fourteen allergens in the EU and UK, nine in the US, none twice; choux, cream and chocolate are covered."""
    assert len(set(safety.ALLERGENS_EU_UK)) == len(safety.ALLERGENS_EU_UK) == 14
    assert len(set(safety.ALLERGENS_US)) == len(safety.ALLERGENS_US) == 9
    assert {"cereals containing gluten", "eggs", "milk", "soybeans", "sulphur dioxide and sulphites"} <= set(
        safety.ALLERGENS_EU_UK
    )
    assert {"wheat", "egg", "milk", "soybeans", "sesame"} <= set(safety.ALLERGENS_US)
