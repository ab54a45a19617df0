"""What the choux calculations promise, whatever the batch."""

from __future__ import annotations

import itertools
import math

import pytest

from troubleshoot.errors import AmountError
from troubleshoot.kitchen import choux
from troubleshoot.kitchen.registry import FUNCTIONS

BATCHES = list(itertools.product((37.5, 150.0, 5000.0), (62.0, 250.0, 9000.0), (0.0, 105.0, 4000.0)))


@pytest.mark.parametrize(("flour", "liquid", "butter"), BATCHES)
def test_stiffening_reaches_the_wanted_egg_ratio(flour, liquid, butter):
    """After the extra panade the egg ratio is the wanted one, and liquid and butter keep their ratios."""
    egg = 2.3 * flour
    extra = choux.stiffen_with_panade(flour, liquid, butter, egg, 1.65)
    total = flour + extra["extra_flour_g"]
    assert egg / total == pytest.approx(1.65, abs=1e-9)
    assert (liquid + extra["extra_liquid_g"]) / total == pytest.approx(liquid / flour, rel=1e-9)
    assert (butter + extra["extra_butter_g"]) / total == pytest.approx(butter / flour, rel=1e-9)
    assert extra["extra_share"] * flour == pytest.approx(extra["extra_flour_g"], rel=1e-9)


def test_the_worked_example_of_the_trade():
    """150 g of flour with 330 g of egg, wanted 1.65, takes 50 g of flour, 83 g of liquid and 35 g of butter."""
    extra = choux.stiffen_with_panade(150, 250, 105, 330, 1.65)
    assert extra["extra_flour_g"] == pytest.approx(50)
    assert extra["extra_liquid_g"] == pytest.approx(83.33, abs=0.01)
    assert extra["extra_butter_g"] == pytest.approx(35)


@pytest.mark.parametrize("egg", [0, 100, 247.5])
def test_a_paste_without_too_much_egg_takes_no_panade(egg):
    """At or below the wanted egg ratio the answer is a sentence, not a number."""
    with pytest.raises(AmountError, match="needs no extra panade"):
        choux.stiffen_with_panade(150, 250, 105, egg, 1.65)


def test_more_egg_asks_for_more_panade():
    """Extra flour rises with the egg and falls with the ratio that is wanted."""
    by_egg = [choux.stiffen_with_panade(150, 250, 105, egg, 1.65)["extra_flour_g"] for egg in (260, 300, 400)]
    by_ratio = [choux.stiffen_with_panade(150, 250, 105, 400, ratio)["extra_flour_g"] for ratio in (1.5, 1.65, 1.8)]
    assert by_egg == sorted(by_egg)
    assert by_ratio == sorted(by_ratio, reverse=True)


def test_wet_paste_gives_its_excess_water_to_the_new_flour():
    """A panade of 505 g that lost 2 % instead of 7 % holds 25.25 g too much, and 1.3 g goes to each gram of flour."""
    extra = choux.stiffen_wet_paste(150, 250, 105, 505, 494.9, 7)
    assert extra["excess_water_g"] == pytest.approx(25.25)
    assert extra["extra_flour_g"] * 1.3 == pytest.approx(25.25)
    assert extra["extra_liquid_g"] / extra["extra_flour_g"] == pytest.approx(250 / 150)


def test_a_panade_that_lost_enough_is_not_stiffened():
    """At or over the wanted loss there is no excess water to take up."""
    for after in (505 * 0.93, 440):
        with pytest.raises(AmountError, match="enough"):
            choux.stiffen_wet_paste(150, 250, 105, 505, after, 7)


@pytest.mark.parametrize("lost", [0.0, 3.0, 7.0, 11.0])
def test_room_for_water_is_the_egg_that_the_flour_would_carry(lost):
    """Water held by a right paste less water that fresh panade brings is the water of the egg, whatever the loss."""
    flour, liquid, butter, egg = 150.0, 250.0, 105.0, 250.0
    boiled_off = lost / 100 * (flour + liquid + butter)
    panade_water = liquid + 0.1794 * butter - boiled_off
    held = (panade_water + 0.7615 * egg) / flour
    brought = panade_water / flour
    assert held - brought == pytest.approx(choux.spare_water_per_flour(flour, egg), abs=1e-9)
    assert choux.spare_water_per_flour(flour, egg) == pytest.approx(choux.SPARE_WATER_PER_FLOUR, abs=0.05)


def test_water_lost_and_given_back_balance():
    """Water given back brings the loss to the wanted figure to within rounding."""
    for before, after, wanted in [(505, 430, 7), (1200, 1000, 4), (90, 70, 12)]:
        back = choux.water_to_give_back(before, after, wanted)
        assert choux.weight_loss_percent(before, after + back["water_g"])["loss_percent"] == pytest.approx(
            wanted, abs=1e-9
        )
        assert back["lost_percent"] == pytest.approx(100 * (before - after) / before)


def test_excess_and_missing_water_are_the_same_balance():
    """One side of the wanted loss is excess water, the other is missing water, and never both."""
    for after in (500.0, 480.0, 460.0, 430.0):
        wet = after > 505 * 0.93
        if wet:
            with pytest.raises(AmountError, match="needs no water"):
                choux.water_to_give_back(505, after, 7)
        else:
            assert choux.water_to_give_back(505, after, 7)["water_g"] == pytest.approx(505 * 0.93 - after)


def test_a_panade_cannot_gain_weight():
    """A cooked panade heavier than its ingredients is refused with the likely reason."""
    with pytest.raises(AmountError, match="weight of pan"):
        choux.weight_loss_percent(505, 900)


def test_too_much_butter_is_thinned_out():
    """After the butterless panade the butter ratio is the wanted one."""
    extra = choux.panade_without_butter(100, 170, 120, 0.75)
    assert 120 / (100 + extra["extra_flour_g"]) == pytest.approx(0.75, abs=1e-9)
    assert extra["extra_liquid_g"] / extra["extra_flour_g"] == pytest.approx(1.7)
    with pytest.raises(AmountError, match="needs no extra panade"):
        choux.panade_without_butter(100, 170, 75, 0.75)


@pytest.mark.parametrize("share", [0.05, 0.3, 1.0])
def test_a_share_of_panade_follows_the_recipe(share):
    """Each part of the extra panade is the same share of the batch."""
    extra = choux.panade_for_share(150, 250, 105, share)
    for part, whole in (("extra_flour_g", 150), ("extra_liquid_g", 250), ("extra_butter_g", 105)):
        assert extra[part] == pytest.approx(share * whole)


@pytest.mark.parametrize("share", [-0.1, 0, 1.01, 7])
def test_an_impossible_share_of_panade_is_refused(share):
    """A share of nothing or of more than the batch is no rescue."""
    with pytest.raises(AmountError, match="share"):
        choux.panade_for_share(150, 250, 105, share)


def test_egg_to_add_ends_at_the_wanted_ratio():
    """Egg in the paste plus egg still to add is the egg wanted."""
    still = choux.egg_still_to_add(150, 180, 1.65)
    assert choux.egg_to_flour(180 + still["egg_to_add_g"], 150)["egg_ratio"] == pytest.approx(1.65, abs=1e-9)
    assert still["egg_wanted_g"] == pytest.approx(247.5)
    with pytest.raises(AmountError, match="already holds"):
        choux.egg_still_to_add(150, 250, 1.65)


def test_eggs_to_crack_are_whole_and_enough():
    """The medium eggs named give at least the egg wanted, and one fewer would not."""
    for flour in (50, 150, 1000):
        eggs = choux.eggs_to_weigh(flour, 1.65)
        assert eggs["medium_eggs"] == int(eggs["medium_eggs"])
        assert eggs["medium_eggs"] * 51.04 >= eggs["egg_wanted_g"] > (eggs["medium_eggs"] - 1) * 51.04


@pytest.mark.parametrize("share", [0, 0.15, 0.25, 1])
def test_egg_held_back_and_first_egg_make_the_egg(share):
    """What is held back and what goes in first are all the egg."""
    parts = choux.hold_back_egg(250, share)
    assert parts["held_back_g"] + parts["first_egg_g"] == pytest.approx(250, abs=1e-9)
    assert min(parts.values()) >= 0


def test_the_last_of_four_eggs_is_held_back():
    """Common practice: of four eggs of 50 g the last is held back, a quarter of the egg."""
    assert choux.hold_back_egg(200, 0.25) == {"held_back_g": 50, "first_egg_g": 150}


def test_paste_is_ingredients_less_what_boiled_off():
    """The paste weighs its ingredients less 7 % of the panade, and parts of it are parts of that weight."""
    paste = choux.paste_weight(150, 250, 105, 250)
    assert paste == pytest.approx(755 - 0.07 * 505)
    assert choux.part_of_paste(150, 250, 105, 250, 2) == {"part_g": pytest.approx(0.02 * paste), "paste_g": paste}
    assert choux.paste_in_half(150, 250, 105, 250) == {"paste_g": paste, "plain_paste_g": paste}


@pytest.mark.parametrize(("piece", "fewest", "most"), [(60, 9, 11), (70, 9, 11), (33, 19, 21), (35, 19, 21)])
def test_usual_batch_gives_about_ten_large_or_twenty_small_eclairs(piece, fewest, most):
    """Common practice: the usual batch pipes about 10 large eclairs (60 to 70 g) or 20 small ones (33 to 35 g)."""
    assert fewest <= choux.shells_from_paste(150, 250, 105, 250, piece)["shells"] <= most


def test_more_paste_or_smaller_pieces_give_more_shells():
    """Pieces rise with the batch, fall with the piece, and are whole."""
    sizes = [choux.shells_from_paste(150, 250, 105, 250, piece)["shells"] for piece in (10, 25, 40, 70, 200, 5000)]
    assert sizes == sorted(sizes, reverse=True)
    assert sizes[-1] == 0
    assert (
        choux.shells_from_paste(300, 500, 210, 500, 40)["shells"]
        >= 2 * choux.shells_from_paste(150, 250, 105, 250, 40)["shells"]
    )


def test_drying_ends_at_the_wanted_shell_ratio():
    """Taking the water left off the baked weight gives the wanted ratio."""
    left = choux.drying_after_bake(40, 25, 0.5)
    assert choux.baked_to_piped(40, 25 - left["water_left_g"])["shell_ratio"] == pytest.approx(0.5, abs=1e-9)


def test_drying_takes_minutes_and_more_for_wetter_and_larger_shells():
    """Common practice: a set small shell dries in about 8 to 15 minutes; wetter or larger ones take longer."""
    assert 8 <= choux.drying_after_bake(25, 14.5, 0.49)["dry_min"] <= 15
    wetter = [choux.drying_after_bake(25, baked, 0.48)["dry_min"] for baked in (12.5, 13.5, 15)]
    larger = [choux.drying_after_bake(piped, 0.56 * piped, 0.48)["dry_min"] for piped in (10, 25, 60)]
    assert wetter == sorted(wetter)
    assert larger == sorted(larger)


def test_a_dry_shell_needs_no_drying():
    """At or below the wanted ratio the answer is a sentence."""
    with pytest.raises(AmountError, match="dry enough"):
        choux.drying_after_bake(40, 20, 0.5)


def test_a_baked_piece_cannot_gain_weight():
    """A baked piece heavier than the piped one is refused."""
    with pytest.raises(AmountError, match="without paper"):
        choux.baked_to_piped(30, 31)


def test_pan_and_cocoa():
    """The pan starts at liquid plus butter; cocoa asks for its own weight of liquid."""
    assert choux.pan_back_to_start(250, 105) == {"start_g": 355}
    assert choux.liquid_for_cocoa(20) == {"extra_liquid_g": 20}


NAMES = sorted(name for name, function in FUNCTIONS.items() if function.call.__module__.endswith(".choux"))
GOOD = {
    "before_g": 505, "after_g": 470, "panade_before_g": 505, "panade_after_g": 480, "flour_g": 150, "liquid_g": 250,
    "butter_g": 160, "egg_g": 330, "wanted_egg_ratio": 1.65, "wanted_loss_percent": 7, "share": 0.3,
    "wanted_fat_ratio": 0.75, "egg_ratio": 1.65, "percent": 2, "piece_g": 25, "piped_g": 25, "baked_g": 14,
    "wanted_shell_ratio": 0.5, "cocoa_g": 10,
}  # fmt: skip
SPECIAL = {"egg_still_to_add": {"egg_g": 100}, "water_to_give_back": {"panade_after_g": 430}}


def _call(name, **changed):
    function = FUNCTIONS[name]
    given = {**GOOD, **SPECIAL.get(name, {}), **changed}
    return function.call(**{key: given[key] for key in function.parameters})


@pytest.mark.parametrize("name", NAMES)
def test_every_choux_calculation_gives_named_finite_amounts(name):
    """Each gives finite numbers of nothing or more, under names that end in a unit or a kind of share."""
    for key, value in _call(name).items():
        assert math.isfinite(value)
        assert value >= 0
        assert key.rsplit("_", 1)[-1] in {"g", "min", "percent", "ratio", "share", "eggs", "shells"}


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf, -5.0, True])
def test_every_choux_calculation_refuses_what_is_no_amount(name, bad):
    """A number that is no amount is refused in a sentence, for every input of every calculation."""
    for parameter in FUNCTIONS[name].parameters:
        with pytest.raises(AmountError, match=r"\.$"):
            _call(name, **{parameter: bad})


#: Whole pieces and surfaces do not grow with the batch.
NOT_IN_STEP = {"shells_from_paste", "drying_after_bake", "eggs_to_weigh"}


@pytest.mark.parametrize("name", [name for name in NAMES if name not in NOT_IN_STEP])
@pytest.mark.parametrize("times", [0.1, 3, 40])
def test_amounts_grow_with_the_batch(name, times):
    """A batch so many times as large takes so many times the grams, and the same ratios."""
    grams = {key: times * value for key, value in {**GOOD, **SPECIAL.get(name, {})}.items() if key.endswith("_g")}
    one, many = _call(name), _call(name, **grams)
    for key, value in one.items():
        assert many[key] == pytest.approx(value * (times if key.endswith("_g") else 1), rel=1e-9)
