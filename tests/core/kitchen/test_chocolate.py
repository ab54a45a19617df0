"""What the chocolate calculations promise."""

from __future__ import annotations

import pytest

from troubleshoot.errors import AmountError
from troubleshoot.kitchen import chocolate, heat, labels


@pytest.mark.parametrize("coating", chocolate.COATINGS)
def test_a_curve_goes_down_and_up_again(coating):
    """Melt is hottest, the cooling point coolest, working heat between, and temper is lost above it."""
    curve = chocolate.tempering_curve(coating)
    assert curve["cool_low_c"] <= curve["cool_high_c"] <= curve["work_low_c"] <= curve["work_high_c"]
    assert curve["work_high_c"] < curve["lost_above_c"] < curve["melt_low_c"] <= curve["melt_high_c"]


def test_temper_is_lost_where_the_wanted_crystals_melt():
    """Form V survives the working heat of every kind, form IV not that of dark."""
    for coating in chocolate.COATINGS:
        assert chocolate.CURVES[coating].work[1] < chocolate.FORMS["V"]
    assert chocolate.CURVES["dark"].work[0] > chocolate.FORMS["IV"]


@pytest.mark.parametrize(("now", "off"), [(29, -2), (31, 0), (31.5, 0), (32, 0), (33.5, 1.5)])
def test_distance_from_the_working_heat(now, off):
    """Below the span is negative, inside nothing, above positive."""
    assert chocolate.off_working_heat("dark", now)["off_k"] == pytest.approx(off)


def test_heat_adds_up_over_steps():
    """Warming in two steps takes the heat of one, across 40 degrees too, and cooling gives it back."""
    one = chocolate.heat_to_warm(700, 20, 50)["heat_kj"]
    two = chocolate.heat_to_warm(700, 20, 38)["heat_kj"] + chocolate.heat_to_warm(700, 38, 50)["heat_kj"]
    assert one == pytest.approx(two, rel=1e-12)
    assert chocolate.heat_to_warm(700, 50, 20)["heat_kj"] == pytest.approx(-one, rel=1e-12)


@pytest.mark.parametrize("bowl", [36, 40, 45, 50])
def test_seed_balances_the_heat(bowl):
    """The heat the bowl gives off is the heat the seed takes up."""
    seed = chocolate.seed_for_temper(1000, bowl, 20, 33)["seed_g"]
    given = -chocolate.heat_to_warm(1000, bowl, 33)["heat_kj"]
    taken = chocolate.heat_to_warm(seed, 20, 33)["heat_kj"] + seed * 46 / 1000
    assert given == pytest.approx(taken, rel=1e-9)


def test_hotter_bowls_and_warmer_seed_take_more():
    """Seed rises with the heat of the bowl and of the seed, and with what does not melt."""
    by_bowl = [chocolate.seed_for_temper(1000, bowl, 20, 33)["seed_g"] for bowl in (34, 38, 45, 50)]
    by_seed = [chocolate.seed_for_temper(1000, 45, seed, 33)["seed_g"] for seed in (5, 15, 20, 25)]
    by_share = [chocolate.seed_for_temper(1000, 45, 20, 33, melted_share=share)["seed_g"] for share in (1, 0.7, 0.4)]
    for series in (by_bowl, by_seed, by_share):
        assert series == sorted(series)


def test_seed_is_what_the_trade_uses():
    """Common practice: 15 to 33 % of seed brings chocolate from 40 to 45 degrees to 33 to 34."""
    for bowl, wanted in ((40, 33), (42, 34), (45, 34)):
        assert 12 <= chocolate.seed_for_temper(1000, bowl, 20, wanted)["seed_percent"] <= 33


def test_seed_only_cools():
    """A bowl that is already cool, and seed that is warmer than wanted, are refused."""
    with pytest.raises(AmountError, match="only cool"):
        chocolate.seed_for_temper(1000, 31, 20, 31)
    with pytest.raises(AmountError, match="colder"):
        chocolate.seed_for_temper(1000, 45, 32, 31)


def test_a_bowl_cools_as_worked():
    """After the minutes told, the bowl has the wanted temperature."""
    minutes = chocolate.bowl_cooling(45, 31, 20)["minutes_min"]
    assert heat.temperature_after(45, 20, minutes, 45) == pytest.approx(31, abs=1e-9)
    with pytest.raises(AmountError, match="never"):
        chocolate.bowl_cooling(45, 19, 20)


def test_water_already_in_counts():
    """Liquid for seized chocolate is less by the water already in, and never under nothing."""
    dry = chocolate.liquid_for_seized(200)
    wet = chocolate.liquid_for_seized(200, 10)
    for key in ("least_water_g", "water_low_g", "water_high_g"):
        assert dry[key] - wet[key] == pytest.approx(10)
    assert set(chocolate.liquid_for_seized(200, 100).values()) == {0}


def test_cream_and_milk_bring_the_same_water():
    """Each liquid brings the water that is wanted."""
    need = chocolate.liquid_for_seized(300, 4)
    assert need["cream_low_g"] * 0.5781 == pytest.approx(need["water_low_g"])
    assert need["milk_high_g"] * 0.8813 == pytest.approx(need["water_high_g"])


@pytest.mark.parametrize("wanted", [1.0, 1.5, 2.0])
def test_ganache_ends_at_the_wanted_ratio(wanted):
    """Firmed or softened, the ganache has the wanted chocolate to cream."""
    more = chocolate.ganache_firmer(150, 200, wanted)["chocolate_g"]
    assert (150 + more) / 200 == pytest.approx(wanted, abs=1e-9)
    cream = chocolate.ganache_softer(600, 200, wanted)["cream_g"]
    assert 600 / (200 + cream) == pytest.approx(wanted, abs=1e-9)
    with pytest.raises(AmountError, match="Add none"):
        chocolate.ganache_firmer(600, 200, wanted)
    with pytest.raises(AmountError, match="Add none"):
        chocolate.ganache_softer(150, 200, wanted)


def test_every_kind_and_use_has_a_ratio_and_whiter_is_stiffer():
    """White takes at least the chocolate of milk, and milk that of dark, in every use."""
    for use in ("glaze", "filling", "truffle"):
        lows = [chocolate.ganache_span(coating, use)[0] for coating in chocolate.COATINGS]
        assert lows == sorted(lows)
    with pytest.raises(AmountError, match="filling, glaze, truffle"):
        chocolate.ganache_span("dark", "paint")
    with pytest.raises(AmountError, match="dark, milk, white"):
        chocolate.ganache_chocolate(100, "ruby")


def test_hot_cream_balances_the_melting():
    """Cream at 80 degrees melts chocolate at 20 when it weighs about 0.55 to 0.6 of it."""
    assert 0.55 <= chocolate.cream_to_melt(1000, 20, 80)["cream_g"] / 1000 <= 0.62
    assert chocolate.cream_to_melt(1000, 20, 95)["cream_g"] < chocolate.cream_to_melt(1000, 20, 80)["cream_g"]
    with pytest.raises(AmountError, match="hotter"):
        chocolate.cream_to_melt(1000, 20, 40)


def test_small_sums():
    """Lots, thinning and the bowl for dipping are plain shares."""
    assert chocolate.milk_for_split(400) == {"lot_g": 20, "most_g": 60}
    assert chocolate.cocoa_butter_to_thin(500, 5) == {"first_lot_g": 5, "cocoa_butter_g": 25}
    assert chocolate.seed_by_share(500) == {"seed_g": 100}
    assert chocolate.coat_for_pieces(40, 7)["chocolate_g"] * 0.7 == pytest.approx(280)


def test_a_label_names_what_it_lacks():
    """A label short of a part, or silent about it, is told which and how much."""
    short = labels.shortfalls("eu_couverture", {"cocoa_solids": 55, "cocoa_butter": 28})
    assert [(s.part, s.least, s.found) for s in short] == [("cocoa_butter", 31, 28), ("fat_free_cocoa", 2.5, None)]
    assert labels.bears_name("eu_couverture", {"cocoa_solids": 55, "cocoa_butter": 35, "fat_free_cocoa": 20})


def test_an_impossible_label_is_refused():
    """Parts of the cocoa cannot be more than the cocoa, and unknown names are listed."""
    with pytest.raises(AmountError, match="more than all cocoa"):
        labels.shortfalls("eu_chocolate", {"cocoa_solids": 35, "cocoa_butter": 30, "fat_free_cocoa": 10})
    with pytest.raises(AmountError, match="eu_chocolate"):
        labels.shortfalls("eu_fudge", {})
    with pytest.raises(AmountError, match="Cocoa solids"):
        labels.shortfalls("eu_chocolate", {"cocoa_solids": 135})
