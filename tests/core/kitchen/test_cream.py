"""What the cream calculations promise."""

from __future__ import annotations

import itertools
import math

import pytest

from troubleshoot.errors import AmountError
from troubleshoot.kitchen import cream
from troubleshoot.kitchen.registry import FUNCTIONS

BLENDS = list(itertools.product((18.0, 30.0, 35.0), (40.0, 48.0), (36.0, 38.0)))


@pytest.mark.parametrize(("fat", "richer", "wanted"), BLENDS)
def test_blending_up_gives_the_wanted_fat(fat, richer, wanted):
    """Cream and richer cream together have the wanted fat, and the square gives the same shares."""
    mix = cream.blend_up(500, fat, richer, wanted)
    whole = cream.fat_of_mix(500, fat, mix["rich_cream_g"], richer)
    assert whole["fat_percent"] == pytest.approx(wanted, abs=1e-9)
    assert whole["mix_g"] == pytest.approx(mix["mix_g"])
    assert mix["rich_cream_g"] / mix["mix_g"] == pytest.approx(cream.pearson_square(richer, fat, wanted)["rich_share"])


@pytest.mark.parametrize("wanted", [20, 35, 38, 47.9])
def test_letting_down_gives_the_wanted_fat(wanted):
    """Rich cream and milk together have the wanted fat."""
    mix = cream.blend_down(500, 48, wanted)
    assert cream.fat_of_mix(500, 48, mix["milk_g"], 3.6)["fat_percent"] == pytest.approx(wanted, abs=1e-9)


def test_the_square_works_from_both_sides():
    """Shares add up to the whole, and each end of the span is one liquid alone."""
    for wanted in (3.6, 20, 48):
        shares = cream.pearson_square(48, 3.6, wanted)
        assert shares["rich_share"] + shares["lean_share"] == pytest.approx(1, abs=1e-12)
        assert min(shares.values()) >= 0
    assert cream.pearson_square(48, 3.6, 48)["rich_share"] == 1
    assert cream.pearson_square(48, 3.6, 3.6)["rich_share"] == 0


@pytest.mark.parametrize(
    "call",
    [
        lambda: cream.pearson_square(35, 18, 48),
        lambda: cream.pearson_square(35, 18, 10),
        lambda: cream.blend_up(500, 18, 35, 36),
        lambda: cream.blend_up(500, 18, 35, 35),
        lambda: cream.blend_down(500, 48, 3),
    ],
)
def test_no_mixture_can_leave_the_span(call):
    """A fat outside the two liquids is refused in those words."""
    with pytest.raises(AmountError, match="No mixture can"):
        call()


def test_a_cream_that_has_its_fat_needs_nothing():
    """At the wanted fat nothing is added, up or down."""
    with pytest.raises(AmountError, match="Add none"):
        cream.blend_up(500, 36, 48, 36)
    with pytest.raises(AmountError, match="Add none"):
        cream.blend_down(500, 36, 36)
    with pytest.raises(AmountError, match="more fat"):
        cream.pearson_square(20, 20, 20)


def test_a_watery_addition_is_made_up():
    """Cream, liquid and richer cream together have the wanted fat; 500 g of 36 % and 100 g take 120 g of 48 %."""
    add = cream.restore_fat(500, 36, 100, 48)["rich_cream_g"]
    assert (500 * 36 + add * 48) / (600 + add) == pytest.approx(33, abs=1e-9)
    assert add == pytest.approx(120)


def test_sugar_ends_at_the_wanted_share():
    """Added or thinned, the sugar ends at the share that was wanted."""
    add = cream.sugar_to_add(500, 20, 10)["sugar_g"]
    assert cream.sugar_share(500, 20 + add)["sugar_percent"] == pytest.approx(10, abs=1e-9)
    plain = cream.plain_cream_for_sugar(1000, 200, 10)["plain_cream_g"]
    assert plain == pytest.approx(1000)
    assert cream.sugar_share(1000 + plain, 200)["sugar_percent"] == pytest.approx(10, abs=1e-9)
    with pytest.raises(AmountError, match="needs no plain cream"):
        cream.plain_cream_for_sugar(1000, 80, 10)
    with pytest.raises(AmountError, match="Add none"):
        cream.sugar_to_add(500, 60, 10)


def test_gelatine_ends_at_the_wanted_dose():
    """Made up or thinned, the gelatine ends at the dose, with six parts of water to bloom in."""
    missing = cream.gelatine_missing(1000, 5)
    assert 5 + missing["gelatine_g"] == pytest.approx(cream.gelatine_dose(1000)["gelatine_g"])
    assert missing["bloom_water_g"] == pytest.approx(6 * missing["gelatine_g"])
    plain = cream.plain_cream_for_gelatine(1000, 16)["plain_cream_g"]
    assert 100 * 16 / (1000 + plain) == pytest.approx(0.8, abs=1e-9)
    with pytest.raises(AmountError, match="already holds"):
        cream.gelatine_missing(1000, 8)


def test_overrun_and_volume_agree():
    """The volume of whipped cream has the overrun it was worked out with."""
    for percent in (0, 80, 100, 216):
        volume = cream.whipped_volume(500, percent)["whipped_ml"]
        liquid = cream.whipped_volume(500, 0)["whipped_ml"]
        assert cream.overrun(100, 100 * liquid / volume)["overrun_percent"] == pytest.approx(percent, abs=1e-9)
    with pytest.raises(AmountError, match="Level both cups"):
        cream.overrun(100, 101)


def test_butter_takes_the_fat():
    """Common practice: 500 g of 36 % give about 215 to 220 g of butter; butter and buttermilk make the cream."""
    made = cream.butter_from_cream(500, 36)
    assert 210 <= made["butter_g"] <= 225
    assert sum(made.values()) == pytest.approx(500, abs=1e-9)


def test_filling_covers_the_pieces():
    """What is made, less what stays in bowl and bag, fills the pieces; cream and sugar make the filling."""
    made = cream.cream_for_pieces(20, 30, left_percent=8, other_percent=10)
    assert made["filling_g"] * 0.92 == pytest.approx(600, abs=1e-9)
    assert made["cream_g"] * 1.10 == pytest.approx(made["filling_g"], abs=1e-9)
    assert cream.cream_for_pieces(0, 30)["filling_g"] == 0


def test_first_lot_is_smaller_than_the_most():
    """Grainy cream is brought back in lots, the first of 10 % and never over 15 %."""
    assert cream.cream_for_grains(400) == {"first_lot_g": 40, "most_g": 60}


NAMES = sorted(name for name, function in FUNCTIONS.items() if function.call.__module__.endswith(".cream"))


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("bad", [math.nan, math.inf, -1.0])
def test_what_is_no_amount_is_refused(name, bad):
    """Every cream calculation refuses what is no amount, at each of its inputs."""
    good = {
        "cream_g": 500,
        "fat_percent": 30,
        "richer_percent": 48,
        "wanted_percent": 36,
        "high_percent": 48,
        "low_percent": 4,
    }
    for parameter in FUNCTIONS[name].parameters:
        given = {key: good.get(key, 5) for key in FUNCTIONS[name].required} | {parameter: bad}
        with pytest.raises(AmountError):
            FUNCTIONS[name].call(**given)
