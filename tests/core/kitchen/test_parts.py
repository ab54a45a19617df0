"""What the plain sums with weights promise: parts, spans, ratios, losses, and the sheet of a dough."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from troubleshoot.errors import AmountError
from troubleshoot.kitchen import cream, dough_sheet, ganache, parts, syrup
from troubleshoot.kitchen.chocolate import coat_for_pieces
from troubleshoot.kitchen.portions import dough_for_pieces

WEIGHTS = st.floats(1, 50_000)


@given(WEIGHTS, st.floats(0, 100))
def test_a_part_and_its_rest_are_the_whole(weight, percent):
    """A part and what is left of it make the weight again."""
    rest = parts.part_of_weight(weight, 100 - percent)["part_g"]
    assert parts.part_of_weight(weight, percent)["part_g"] + rest == pytest.approx(weight, rel=1e-9)


@given(WEIGHTS, st.floats(1, 50_000))
def test_ratio_and_loss_say_the_same(before, after):
    """The ratio is one less the loss, and where something was gained only the ratio speaks."""
    ratio = parts.weight_ratio(before, after)["weight_ratio"]
    if after > before:
        assert ratio > 1
        with pytest.raises(AmountError, match="pan, tray and paper"):
            parts.weight_loss_percent(before, after)
    else:
        assert 100 * (1 - ratio) == pytest.approx(parts.weight_loss_percent(before, after)["loss_percent"], abs=1e-9)


def test_the_loss_speaks_of_no_product():
    """Biscuits, peel and panade share the sum, so its message names none of them."""
    with pytest.raises(AmountError) as refused:
        parts.weight_loss_percent(100, 120)
    assert not any(word in str(refused.value).lower() for word in ("panade", "biscuit", "peel"))


def test_a_span_runs_upwards():
    """Both ends of a span are worked, and a span upside down is refused."""
    assert parts.span_of_weight(500, 15, 25) == {"part_low_g": 75, "part_high_g": 125}
    with pytest.raises(AmountError, match="under the least"):
        parts.span_of_weight(500, 25, 15)


def test_shares_of_cream():
    """Weeping, gelatine, liquid and what is folded in all go by the weight of the cream."""
    assert cream.weep_per_100_g(12, 400)["weep_per_100_g"] == pytest.approx(3)
    assert cream.gelatine_share(500, 4)["gelatine_percent"] == pytest.approx(0.8)
    assert cream.liquid_share(500, 50)["liquid_percent"] == pytest.approx(10)
    assert cream.share_of_cream(400, 25)["cream_part_g"] == pytest.approx(100)
    with pytest.raises(AmountError, match="More liquid"):
        cream.weep_per_100_g(500, 400)


def test_gelatine_dosed_is_gelatine_found():
    """The share found is the dose that was asked for."""
    dose = cream.gelatine_dose(640, 0.7)["gelatine_g"]
    assert cream.gelatine_share(640, dose)["gelatine_percent"] == pytest.approx(0.7)


def test_icing_sugar_goes_with_the_cream():
    """The sugar for the pieces is nine in a hundred of their cream."""
    found = cream.cream_for_pieces(20, 25)
    assert found["icing_sugar_g"] == pytest.approx(0.09 * found["cream_g"])


@pytest.mark.parametrize(
    ("function", "inputs", "first"),
    [
        (dough_sheet.sugar_ratio, (300, 100), ("sugar_ratio", 1 / 3)),
        (dough_sheet.fat_ratio, (300, 200), ("fat_ratio", 2 / 3)),
        (dough_sheet.starch_percent, (240, 60), ("starch_percent", 20)),
        (dough_sheet.dough_over_recipe, (582, 600), ("over_percent", -3)),
        (dough_sheet.dough_over_recipe, (660, 600), ("over_percent", 10)),
        (parts.weight_ratio, (500, 550), ("weight_ratio", 1.1)),
        (ganache.ganache_ratio, (300, 200), ("ganache_ratio", 1.5)),
    ],
)
def test_the_first_figure_is_the_one_a_sign_takes(function, inputs, first):
    """A sign takes the first figure a calculation gives, so it must be the one that is named."""
    assert next(iter(function(*inputs).items())) == (first[0], pytest.approx(first[1]))


def test_salt_and_parts_of_a_dough():
    """Salt goes by the flour, sugar for dredging by the dough; the dough for pieces brings its salt."""
    assert dough_sheet.salt_for_flour(1000) == {"salt_low_g": pytest.approx(5), "salt_high_g": pytest.approx(7)}
    assert dough_sheet.part_of_dough(300, 200, 100, 2)["dough_part_g"] == pytest.approx(12)
    dough = dough_for_pieces(30, 8, 60)
    assert dough["salt_g"] == pytest.approx(0.007 * dough["flour_g"])


@pytest.mark.parametrize(
    ("kind", "cream_g"), [("dark", 300), ("milk", 200), ("white", 150), ("milk_white", 200), ("ganache_glaze", 300)]
)
def test_cream_for_a_glaze_follows_the_kind(kind, cream_g):
    """Milk and white chocolate take less cream; answers that leave the kind open are worked as the usual one."""
    assert ganache.cream_for_glaze(300, kind)["glaze_cream_g"] == pytest.approx(cream_g)


@pytest.mark.parametrize("kind", ["dark", "milk", "white"])
def test_chocolate_added_for_a_glaze_brings_it_into_the_span(kind):
    """A thin ganache with the chocolate added lies inside the span for its kind."""
    add = ganache.chocolate_for_glaze(100, 300, kind)["more_chocolate_g"]
    assert ganache.ganache_off_span(100 + add, 300, kind)["off_ratio"] == pytest.approx(0, abs=1e-12)
    with pytest.raises(AmountError, match="Add none"):
        ganache.chocolate_for_glaze(700, 300, kind)


def test_compound_is_refused_in_plain_words():
    """A kind that the sum does not hold for is named, with what to go by instead."""
    with pytest.raises(AmountError, match="without tempering"):
        ganache.cream_for_glaze(300, "compound")


def test_seed_is_a_fifth_of_the_bowl():
    """The seed for dipping is a fifth of the chocolate weighed out."""
    found = coat_for_pieces(24, 15)
    assert found["seed_g"] == pytest.approx(found["chocolate_g"] / 5)


def test_peel_and_its_water_syrup_and_glucose():
    """Five times the peel in water, seven tenths in syrup, a fifth of the sugar in glucose."""
    assert syrup.water_for_peel(550)["boiling_water_g"] == pytest.approx(2750)
    assert syrup.syrup_for_paste(500) == {"paste_syrup_g": pytest.approx(350), "paste_g": pytest.approx(850)}
    made = syrup.syrup_with_glucose(550, 65)
    assert made["sugar_g"] + made["water_g"] == pytest.approx(550)
    assert made["glucose_syrup_g"] == pytest.approx(made["sugar_g"] / 5)
