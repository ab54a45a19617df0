"""What the shortbread sums promise."""

from __future__ import annotations

import math

import pytest

from troubleshoot.errors import AmountError
from troubleshoot.kitchen import portions, shortbread
from troubleshoot.kitchen.registry import FUNCTIONS
from troubleshoot.kitchen.shortbread import ButterState


def test_the_plain_dough_is_inside_and_off_doughs_are_told_by_how_much():
    """3 : 2 : 1 lies inside both spans; butter of 0.9 is 0.15 over, sugar of 0.1 is 0.15 under."""
    assert shortbread.dough_balance(300, 200, 100)["butter_off_ratio"] == 0
    assert shortbread.dough_balance(300, 200, 100)["sugar_off_ratio"] == 0
    off = shortbread.dough_balance(300, 270, 30)
    assert off["butter_off_ratio"] == pytest.approx(0.15)
    assert off["sugar_off_ratio"] == pytest.approx(-0.15)


@pytest.mark.parametrize("flour", [150, 300, 4000])
def test_every_correction_ends_at_three_two_one(flour):
    """Missing or surplus butter and sugar end at the plain ratio, each in its own way."""
    butter, sugar = flour * 2 / 3, flour / 3
    add = shortbread.butter_to_add(flour, 0.4 * flour)["butter_g"]
    assert 0.4 * flour + add == pytest.approx(butter, abs=1e-9)
    add = shortbread.sugar_missing(flour, 0.2 * flour)["sugar_g"]
    assert 0.2 * flour + add == pytest.approx(sugar, abs=1e-9)
    fix = shortbread.after_too_much_butter(flour, butter + 60)
    assert (butter + 60) / (flour + fix["flour_g"]) == pytest.approx(2 / 3, abs=1e-9)
    assert (sugar + fix["sugar_g"]) / (flour + fix["flour_g"]) == pytest.approx(1 / 3, abs=1e-9)
    fix = shortbread.after_too_much_sugar(flour, sugar + 40)
    assert (sugar + 40) / (flour + fix["flour_g"]) == pytest.approx(1 / 3, abs=1e-9)
    assert (butter + fix["butter_g"]) / (flour + fix["flour_g"]) == pytest.approx(2 / 3, abs=1e-9)
    fix = shortbread.after_too_much_flour(2 * flour + 80, 2 * flour)
    assert (butter + fix["butter_g"]) / (flour + 80) == pytest.approx(2 / 3, abs=1e-9)
    assert (sugar + fix["sugar_g"]) / (flour + 80) == pytest.approx(1 / 3, abs=1e-9)


def test_the_worked_example_of_too_much_flour():
    """80 g of flour too much takes 53 g of butter and 27 g of sugar."""
    fix = shortbread.after_too_much_flour(680, 600)
    assert fix["butter_g"] == pytest.approx(53.3, abs=0.1)
    assert fix["sugar_g"] == pytest.approx(26.7, abs=0.1)


@pytest.mark.parametrize(
    "call",
    [
        lambda: shortbread.butter_to_add(300, 200),
        lambda: shortbread.sugar_missing(300, 100),
        lambda: shortbread.after_too_much_butter(300, 200),
        lambda: shortbread.after_too_much_sugar(300, 100),
        lambda: shortbread.after_too_much_flour(600, 600),
    ],
)
def test_a_right_dough_needs_nothing(call):
    """A dough that is right is told to be left alone."""
    with pytest.raises(AmountError, match="Add no"):
        call()


def test_starch_ends_at_a_third_of_the_cereal():
    """After the extra flour, starch is a third of flour and starch."""
    add = shortbread.after_too_much_starch(150, 150)
    assert 150 / (150 + 150 + add["flour_g"]) == pytest.approx(1 / 3, abs=1e-9)
    with pytest.raises(AmountError, match="no more flour"):
        shortbread.after_too_much_starch(200, 100)


@pytest.mark.parametrize("protein", [9.6, 11, 12.5, 14, 17])
def test_swapped_flour_is_all_the_flour_and_softer(protein):
    """Starch and flour make the flour, starch is a third at most, and protein falls towards 9.5 %."""
    swap = shortbread.soften_flour(300, protein)
    assert swap["starch_g"] + swap["flour_g"] == pytest.approx(300, abs=1e-9)
    assert 0 < swap["starch_share"] <= 1 / 3 + 1e-12
    assert swap["protein_after_percent"] >= 9.5 - 1e-9
    assert swap["protein_after_percent"] < protein
    if protein <= 14:
        assert swap["protein_after_percent"] == pytest.approx(9.5, abs=1e-9)


def test_soft_flour_is_left_alone():
    """At or under 9.5 % nothing is swapped."""
    with pytest.raises(AmountError, match="soft enough"):
        shortbread.soften_flour(300, 9.5)


@pytest.mark.parametrize(
    ("degrees", "work", "state"),
    [
        (18, "creaming", ButterState.RIGHT),
        (20, "creaming", ButterState.RIGHT),
        (24, "creaming", ButterState.TOO_WARM),
        (5, "creaming", ButterState.TOO_COLD),
        (14, "rubbing", ButterState.RIGHT),
        (18, "rubbing", ButterState.TOO_WARM),
        (20, "rolling", ButterState.TOO_WARM),
    ],
)
def test_butter_is_judged_by_the_work(degrees, work, state):
    """The same butter can be right for one kind of work and wrong for another."""
    assert shortbread.butter_state(degrees, work) is state


def test_unknown_work_names_the_known():
    """The message lists the kinds of work."""
    with pytest.raises(AmountError, match="creaming, rubbing, rolling"):
        shortbread.butter_state(18, "folding")


def test_one_batch_gives_thirty_biscuits_or_fifteen_sandwiches():
    """Common practice: 225 g of flour at 3 : 2 : 1, rolled to 6 mm, gives about 30 rounds of 5 cm, or 15 sandwiches."""
    found = portions.portions(450, 6, 50)
    assert 28 <= found["pieces"] <= 33
    assert 14 <= found["sandwiches"] <= 16


@pytest.mark.parametrize("times", [0, 1, 2])
@pytest.mark.parametrize("cutter", [30, 50, 60, 90])
def test_pieces_and_rest_make_the_dough(times, cutter):
    """Whole pieces and what is left over weigh the dough; nothing is left below nothing."""
    found = portions.portions(600, 7, cutter, times)
    assert found["pieces"] * found["piece_g"] + found["left_over_g"] == pytest.approx(600, abs=1e-9)
    assert found["left_over_g"] >= 0
    assert found["sandwiches"] == found["pieces"] // 2


def test_rolling_trimmings_again_gives_more_and_thicker_or_wider_fewer():
    """More rollings give more pieces, thicker sheets and wider cutters fewer."""
    by_rolling = [portions.portions(600, 7, 50, times)["pieces"] for times in (0, 1, 2)]
    by_gauge = [portions.portions(600, gauge, 50)["pieces"] for gauge in (4, 6, 8, 12)]
    by_cutter = [portions.portions(600, 7, cutter)["pieces"] for cutter in (40, 50, 70, 90)]
    assert by_rolling == sorted(by_rolling)
    assert by_gauge == sorted(by_gauge, reverse=True)
    assert by_cutter == sorted(by_cutter, reverse=True)


@pytest.mark.parametrize("pieces", [1, 30, 144])
def test_dough_made_for_pieces_gives_them(pieces):
    """The dough worked out for so many pieces gives at least as many, and is its flour, butter and sugar."""
    dough = portions.dough_for_pieces(pieces, 7, 50)
    assert portions.portions(dough["dough_g"], 7, 50)["pieces"] == pieces
    assert dough["flour_g"] + dough["butter_g"] + dough["sugar_g"] == pytest.approx(dough["dough_g"])


def test_spread_has_a_sign():
    """Wider is positive, drawn in is negative, held is nothing."""
    assert shortbread.spread(50, 54)["spread_percent"] == pytest.approx(8)
    assert shortbread.spread(50, 48.5)["spread_percent"] == pytest.approx(-3)
    assert shortbread.spread(50, 50)["spread_percent"] == 0


def test_thicker_bakes_longer_and_times_chain():
    """Time rises with the thickness, and by way of a third thickness it is the same."""
    times = [shortbread.bake_time(gauge)["bake_min"] for gauge in (4, 6, 8, 12, 15)]
    assert times == sorted(times)
    middle = shortbread.bake_time(12)["bake_min"]
    assert shortbread.bake_time(15, 12, middle)["bake_min"] == pytest.approx(times[-1], rel=1e-9)
    with pytest.raises(AmountError, match="test piece"):
        shortbread.bake_time(30, 8)


def test_baking_times_are_the_usual():
    """Common practice: 18 to 25 minutes for 8 mm, 40 to 60 for 15 mm."""
    assert 18 <= shortbread.bake_time(8)["bake_min"] <= 25
    assert 40 <= shortbread.bake_time(15)["bake_min"] <= 60


@pytest.mark.parametrize("left", [2, 3.6, 6, 11.9])
def test_loss_and_water_left_undo_each_other(left):
    """A piece that lost the weight for a water content holds that water."""
    loss = shortbread.loss_to_water(11.9, left)["loss_percent"]
    found = shortbread.water_left(11.9, 20, 20 * (1 - loss / 100))
    assert found["water_percent"] == pytest.approx(left, abs=1e-9)
    assert found["loss_percent"] == pytest.approx(loss, abs=1e-9)


def test_impossible_weights_are_refused():
    """A piece cannot gain weight, lose more than its water, or end wetter than its dough."""
    with pytest.raises(AmountError, match="tray and paper"):
        shortbread.water_left(12, 20, 21)
    with pytest.raises(AmountError, match="more than all its water"):
        shortbread.water_left(12, 20, 17)
    with pytest.raises(AmountError, match="more water than its dough"):
        shortbread.loss_to_water(10, 12)


NAMES = sorted(name for name, function in FUNCTIONS.items() if function.call.__module__.endswith(".shortbread"))


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("bad", [math.nan, math.inf, -1.0])
def test_what_is_no_amount_is_refused(name, bad):
    """Every sum for shortbread refuses what is no amount, at each of its inputs."""
    good = {"flour_g": 300, "butter_g": 230, "sugar_g": 110, "dough_g": 700, "starch_g": 200, "protein_percent": 12}
    for parameter in FUNCTIONS[name].parameters:
        given = {key: good.get(key, 20) for key in FUNCTIONS[name].required} | {parameter: bad}
        with pytest.raises(AmountError):
            FUNCTIONS[name].call(**given)
