"""Limits of time and temperature against the published codes."""

from __future__ import annotations

from troubleshoot.kitchen import safety


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
