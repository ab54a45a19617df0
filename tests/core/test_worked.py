"""From what is typed to figures in words: units, bounds, rounding and plain refusals."""

from __future__ import annotations

import pytest

from troubleshoot import worked
from troubleshoot.advice.wording import Wording
from troubleshoot.errors import AmountError
from troubleshoot.kitchen.card import card

C, F = Wording(), Wording(fahrenheit=True)


def one(calculation: str, name: str):
    return next(given for given in card(calculation).inputs if given.name == name)


@pytest.mark.parametrize(
    ("calculation", "name", "text", "value"),
    [
        ("egg_to_flour", "flour_g", "2 oz", 56.69904625),
        ("bowl_cooling", "chocolate_c", "113 F", 45),
        ("boiling_point_at_altitude", "altitude_m", "4500 ft", 1371.6),
        ("oven_correction", "dial_c", "gas mark 4", 1590 / 9),
        ("bake_time", "known_min", "1 h 5 min", 65),
        ("portions", "cutter_mm", "2 in", 50.8),
        ("time_constant", "surface_cm2", "130", 130),
        ("tempering_curve", "coating", " Milk ", "milk"),
        ("hold_back_egg", "share", "15 %", 0.15),
        ("probe_corrected", "ice_error_k", "-0.5", -0.5),
    ],
)
def test_units_are_read(calculation, name, text, value):
    """A quantity in another unit becomes one in the input's own."""
    assert worked.read_input(one(calculation, name), text) == (
        value if isinstance(value, str) else pytest.approx(value, rel=1e-9)
    )


def test_a_bare_temperature_is_in_the_scale_of_the_kitchen():
    """Where degrees are Fahrenheit a bare number is one, and a difference is scaled without its offset."""
    assert worked.read_input(one("bowl_cooling", "room_c"), "68", fahrenheit=True) == pytest.approx(20)
    assert worked.read_input(one("probe_corrected", "ice_error_k"), "1.8", fahrenheit=True) == pytest.approx(1)


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"cream_g": "500", "percent": "400"}, "from 0 % to 300 %"),
        ({"cream_g": "500 degC", "percent": "4"}, "weight"),
        ({"cream_g": "500"}, "also needs percent"),
        ({"cream_g": "500", "precent": "4"}, "did you mean 'percent'"),
        ({"cream_g": "much", "percent": "4"}, "not a quantity"),
        ({"cream_g": "0", "percent": "4"}, "more than 0 g"),
    ],
)
def test_what_cannot_be_is_refused_in_a_plain_sentence(typed, said):
    """The sentence says what is possible."""
    with pytest.raises(AmountError) as refused:
        worked.work_out(card("share_of_cream"), typed)
    assert said in str(refused.value)
    assert "\n" not in str(refused.value)


@pytest.mark.parametrize(
    ("value", "unit", "wording", "shown"),
    [
        (40.07, "g", C, "40.1 g"),
        (412.4, "g", C, "412 g"),
        (20, "degC", F, "68 °F"),
        (10, "K", F, "18 degrees Fahrenheit"),
        (1, "min", C, "1 minute"),
        (297, "min", C, "4 hours 57 minutes"),
        (-0.001, "%", C, "0 %"),
        (0.283, "share", C, "28.3 %"),
        (1.6667, "ratio", C, "1.67"),
        (2, "times", C, "2 times"),
        (1234.5678, "kg/m³", C, "1234.6 kg/m³"),
    ],
)
def test_figures_are_shown_as_they_are_weighed_and_read(value, unit, wording, shown):
    """Each unit is written out and rounded to what a kitchen can use."""
    assert worked.shown(value, unit, wording) == shown


def test_figures_keep_their_full_value():
    """Rounding is for showing only."""
    _, result = worked.work_out(card("egg_to_flour"), {"egg_g": "250", "flour_g": "150"})
    (figure,) = worked.figures(result, C)
    assert figure.value == pytest.approx(5 / 3, rel=1e-12)
    assert (figure.words, figure.shown) == ("Egg for each gram of flour", "1.67")


def test_the_usual_values_read_back_as_themselves():
    """What stands in a field at first is what the field means, in both scales."""
    for wording in (C, F):
        given = one("bowl_cooling", "chocolate_c")
        text = worked.usual_text(given, wording)
        assert worked.read_input(given, text, wording.fahrenheit) == pytest.approx(45)
