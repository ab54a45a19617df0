"""What the sums for syrup and peel promise."""

from __future__ import annotations

import math

import pytest

from troubleshoot.errors import AmountError
from troubleshoot.kitchen import syrup
from troubleshoot.kitchen.registry import FUNCTIONS


@pytest.mark.parametrize(("now", "wanted"), [(84, 75), (70, 35), (60.5, 60)])
def test_thinning_and_boiling_down_undo_each_other(now, wanted):
    """Water added and boiled off again leaves the syrup as it was, and no sugar is lost."""
    thin = syrup.water_to_add(1000, now, wanted)
    back = syrup.water_to_boil_off(thin["syrup_g"], wanted, now)
    assert thin["water_g"] == pytest.approx(back["water_g"], abs=1e-9)
    assert back["syrup_g"] == pytest.approx(1000, abs=1e-9)
    assert thin["syrup_g"] * wanted == pytest.approx(1000 * now, abs=1e-6)


def test_the_worked_example_of_the_trade():
    """From 84 to 75 % takes 120 g of water for each kilogram."""
    assert syrup.water_to_add(1000, 84, 75)["water_g"] == pytest.approx(120)


@pytest.mark.parametrize(("now", "wanted"), [(30, 40), (50, 66), (65, 70)])
def test_sugar_brings_a_syrup_to_its_strength(now, wanted):
    """Sugar in the syrup and sugar added are the wanted share of the whole."""
    add = syrup.sugar_to_strengthen(800, now, wanted)
    assert 800 * now / 100 + add["sugar_g"] == pytest.approx(add["syrup_g"] * wanted / 100, abs=1e-9)
    assert add["syrup_g"] == pytest.approx(800 + add["sugar_g"])


@pytest.mark.parametrize(
    "call",
    [
        lambda: syrup.water_to_add(1000, 60, 60),
        lambda: syrup.water_to_boil_off(1000, 70, 66),
        lambda: syrup.sugar_to_strengthen(1000, 70, 66),
        lambda: syrup.peel_water_to_boil_off(1000, 100, 0),
    ],
)
def test_a_syrup_that_is_right_needs_nothing(call):
    """A syrup already on the right side is told that it needs none."""
    with pytest.raises(AmountError, match="needs no"):
        call()


def test_a_fresh_syrup_is_what_was_weighed():
    """Sugar and water for a strength give that strength."""
    parts = syrup.syrup_to_make(1500, 66)
    assert sum(parts.values()) == pytest.approx(1500, abs=1e-9)
    assert syrup.syrup_from(parts["sugar_g"], parts["water_g"])["sugar_percent"] == pytest.approx(66, abs=1e-9)


def test_a_pan_of_peel_ends_at_its_strength():
    """After the water is boiled off, sugar is the wanted share of sugar and water in pan and peel."""
    off = syrup.peel_water_to_boil_off(1000, 1000, 1000)["water_g"]
    assert off == pytest.approx(1000 + 900 - 1000 / 3)
    assert 1000 / (1000 + 1900 - off) == pytest.approx(0.75, abs=1e-9)


def test_steps_climb_to_the_end_and_stop():
    """Candying by steps goes 10 % at a time to 65, then 5 to 75, and then says that it is done."""
    strengths = [30.0]
    while strengths[-1] < 75:
        strengths.append(syrup.step_up(1000, strengths[-1])["next_percent"])
    assert strengths == [30, 40, 50, 60, 65, 70, 75]
    with pytest.raises(AmountError, match="last step"):
        syrup.step_up(1000, 75)


@pytest.mark.parametrize("share", [5, 15, 25, 50])
def test_glucose_ends_at_the_wanted_share(share):
    """Glucose syrup added gives the share of dry sugar that was wanted."""
    add = syrup.glucose_to_add(1000, share, 20)["glucose_syrup_g"]
    assert syrup.doctor_share(1000, 20 + add)["doctor_percent"] == pytest.approx(share, abs=1e-9)
    with pytest.raises(AmountError, match="Add none"):
        syrup.glucose_to_add(1000, 5, 200)


def test_twice_as_thick_soaks_four_times_as_long():
    """Time goes with the square of the thickness and rises with how even it must be."""
    thin, thick = syrup.soaking_time(2), syrup.soaking_time(4)
    assert thick["hours_low_h"] == pytest.approx(4 * thin["hours_low_h"])
    assert thick["hours_high_h"] == pytest.approx(4 * thin["hours_high_h"])
    assert thin["hours_low_h"] < thin["hours_high_h"]
    assert syrup.soaking_time(4, 0.95)["hours_high_h"] > thick["hours_high_h"]


def test_a_strip_takes_hours_as_the_trade_knows():
    """Common practice: strips of 3 to 4 mm stand overnight in their syrup."""
    for thickness in (3, 4):
        found = syrup.soaking_time(thickness)
        assert 1 <= found["hours_low_h"] <= found["hours_high_h"] <= 14


def test_drying_keeps_the_sugar():
    """Dried peel holds the sugar of the drained, and no more water leaves than was there."""
    dried = syrup.dried_weight(500, 10)
    assert dried["dried_g"] + dried["water_g"] == pytest.approx(500, abs=1e-9)
    assert syrup.sugar_when_dried(70, 10)["sugar_percent"] * dried["dried_g"] == pytest.approx(70 * 500, abs=1e-6)
    assert syrup.sugar_when_dried(70, 30)["sugar_percent"] == pytest.approx(100)
    with pytest.raises(AmountError, match="cannot lose"):
        syrup.sugar_when_dried(70, 31)


def test_the_end_point_follows_the_boiling_point_of_water():
    """Common practice: at the sea peel ends at 106 to 108 degrees, and higher up by as much less as water boils."""
    sea, high = syrup.peel_end_point(0), syrup.peel_end_point(1500)
    assert sea["end_low_c"] == pytest.approx(106, abs=0.05)
    assert sea["end_high_c"] == pytest.approx(108, abs=0.05)
    assert sea["end_low_c"] - high["end_low_c"] == pytest.approx(sea["water_boils_c"] - high["water_boils_c"])


def test_small_sums():
    """A grained pan and a covering syrup are plain shares."""
    assert syrup.grained_pan(1000) == {"water_g": 250, "glucose_syrup_g": 120, "lemon_juice_ml": 10}
    assert syrup.syrup_to_cover(300) == {"sugar_g": 300, "water_g": 300}


NAMES = sorted(name for name, function in FUNCTIONS.items() if function.call.__module__.endswith(".syrup"))


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf])
def test_what_is_no_amount_is_refused(name, bad):
    """Every sum for syrup refuses what is no amount, at each of its inputs."""
    good = {"sugar_percent": 60, "wanted_percent": 70, "done_share": 0.9, "thickness_mm": 3}
    for parameter in FUNCTIONS[name].parameters:
        given = {key: good.get(key, 20) for key in FUNCTIONS[name].required} | {parameter: bad}
        with pytest.raises(AmountError):
            FUNCTIONS[name].call(**given)


@pytest.mark.parametrize(("now", "following"), [(20, 30), (55, 65), (57, 65), (59, 65), (62, 67), (72, 75)])
def test_a_step_of_ten_stops_at_sixty_five(now, following):
    """From below 65 a step goes no further than 65 or five more, whichever is higher; the last stops at 75."""
    assert syrup.step_up(1000, now)["next_percent"] == following
