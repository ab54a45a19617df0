"""Texts as a person reads them: temperatures, oven settings, amounts and probabilities."""

from __future__ import annotations

import pytest

from troubleshoot.advice.wording import UNKNOWN_AMOUNT, Wording, percent, placeholders


@pytest.mark.parametrize(
    ("wording", "expected"),
    [
        (Wording(), "Bake at 180 °C (160 °C with the fan), probe 50 °C."),
        (Wording(fan=False), "Bake at 180 °C, probe 50 °C."),
        (Wording(fan=True), "Bake at 160 °C with the fan, probe 50 °C."),
        (Wording(fahrenheit=True, fan=False), "Bake at 356 °F, probe 122 °F."),
    ],
)
def test_temperatures_follow_the_kitchens_units_and_oven(wording: Wording, expected: str):
    """One text is shown in Celsius or Fahrenheit, with the fan's setting where there is a fan."""
    assert wording.text("Bake at {oven:180}, probe {c:50}.") == expected


@pytest.mark.parametrize(
    ("name", "value", "expected"),
    [
        ("extra_flour_g", 49.6, "50 g"),
        ("salt_g", 0.13, "0.1 g"),
        ("egg_g", 7.3, "7.5 g"),
        ("egg_g", 617.0, "615 g"),
        ("dry_min", 0.2, "1 minute"),
        ("dry_min", 11.5, "12 minutes"),
        ("shells", 9.5, "10"),
        ("egg_ratio", 1.654, "1.65 to 1"),
        ("wanted_ratio", 1.0, "1 to 1"),
        ("wanted_ratio", 1.5, "1½ to 1"),
        ("wanted_ratio", 0.5, "½ to 1"),
        ("wanted_ratio", 1.999, "2 to 1"),
        ("fat_ratio", 0.667, "0.67 to 1"),
        ("sugar_ratio", 0.02, "0.02 to 1"),
        ("loss_percent", 7.04, "7.0 %"),
    ],
)
def test_amounts_are_rounded_as_a_scale_or_clock_shows_them(name: str, value: float, expected: str):
    """An amount has the unit its name ends in and no more figures than a bench scale."""
    assert Wording().text(f"{{{name}}}", {name: value}) == expected


def test_an_amount_that_is_not_known_says_so():
    """A missing figure never shows as a placeholder."""
    assert Wording().text("Weigh {egg_g} of egg.") == f"Weigh {UNKNOWN_AMOUNT} of egg."
    assert placeholders("Weigh {egg_g} at {c:50} in {oven:180}") == {"egg_g"}


@pytest.mark.parametrize(
    ("p", "expected"),
    [(0.0, "ruled out"), (0.001, "under 1 %"), (0.504, "50 %"), (0.999, "over 99 %"), (1.0, "over 99 %")],
)
def test_no_percentage_claims_certainty(p: float, expected: str):
    """Only a rule-out is nought, and nothing is a hundred."""
    assert percent(p) == expected


@pytest.mark.parametrize(
    ("value", "unit", "expected"),
    [(20.0, "degC", "20 °C"), (38.4, "pieces", "38 pieces"), (36.0, "%", "36 %"), (249.6, "g", "250 g")],
)
def test_figures_are_written_with_their_units(value: float, unit: str, expected: str):
    """A figure that was assumed is shown as a person would write it."""
    assert Wording().quantity(value, unit) == expected
