"""Calculations that belong together: one undoes the other, and no mass or heat is lost between them (to 1e-9)."""

from __future__ import annotations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from troubleshoot.kitchen import (
    chocolate,
    choux,
    cream,
    dough_sheet,
    eggs,
    ganache,
    growth,
    heat,
    oven,
    paste_water,
    portions,
    shortbread,
    sucrose,
    syrup,
)
from troubleshoot.kitchen.parts import part_of_weight, span_of_weight, weight_loss_percent, weight_ratio

NEAR = {"rel": 1e-9, "abs": 1e-9}
GRAMS = st.floats(1, 20_000)
SHARE = st.floats(0.05, 0.95)


def between(low: float, high: float, share: float) -> float:
    return low + share * (high - low)


# -- weights -------------------------------------------------------------------------------


@given(GRAMS, st.floats(0, 90))
def test_a_loss_and_what_is_left_make_the_whole(weight, percent):
    """What is lost, found again by weighing, is the part that was taken away; the ratio is the rest."""
    lost = part_of_weight(weight, percent)["part_g"]
    assert span_of_weight(weight, percent, percent)["part_low_g"] == pytest.approx(lost, **NEAR)
    assert weight_loss_percent(weight, weight - lost)["loss_percent"] == pytest.approx(percent, rel=1e-9, abs=1e-6)
    assert weight_ratio(weight, weight - lost)["weight_ratio"] == pytest.approx(1 - percent / 100, **NEAR)


# -- choux ---------------------------------------------------------------------------------


@given(GRAMS, st.floats(1.0, 2.5), st.floats(0.3, 1.2), st.floats(1, 25))
def test_a_panade_at_its_target_lost_what_was_wanted(flour, liquid, butter, loss):
    """Weighed at its target the panade lost the wanted share, and needs neither water nor flour."""
    batch = (flour, liquid * flour, butter * flour)
    found = paste_water.panade_target(*batch, loss)
    whole = sum(batch)
    assert found["panade_target_g"] + found["boil_off_g"] == pytest.approx(whole, **NEAR)
    assert weight_loss_percent(whole, found["panade_target_g"])["loss_percent"] == pytest.approx(loss, **NEAR)
    too_dry = found["panade_target_g"] - 0.01 * whole
    assert choux.water_to_give_back(whole, too_dry, loss)["water_g"] == pytest.approx(0.01 * whole, rel=1e-6)


@given(GRAMS, st.floats(1.0, 1.9), st.floats(0.1, 1.5))
def test_egg_added_by_difference_is_the_egg_that_was_missing(flour, ratio, more):
    """A paste brought to the wanted ratio holds it; the jug tells the same."""
    egg = ratio * flour
    add = choux.egg_still_to_add(flour, egg, ratio + more)["egg_to_add_g"]
    assert choux.egg_to_flour(egg + add, flour)["egg_ratio"] == pytest.approx(ratio + more, **NEAR)
    jug = eggs.egg_by_difference(egg + add + 70, 70, flour)
    assert jug == eggs.egg_by_difference(70, egg + add + 70, flour)
    assert jug["egg_ratio"] == pytest.approx(ratio + more, **NEAR)
    held = choux.hold_back_egg(egg, 0.15)
    assert held["held_back_g"] + held["first_egg_g"] == pytest.approx(egg, **NEAR)


@given(GRAMS, st.floats(1.0, 2.5), st.floats(0.3, 1.2), SHARE)
def test_fresh_panade_brings_ratios_back(flour, liquid, butter, share):
    """Egg, or butter, to flour is what was wanted once the fresh panade is in, and the liquid keeps its ratio."""
    wanted = 1.6
    extra = choux.stiffen_with_panade(flour, liquid * flour, butter * flour, (1 + share) * wanted * flour, wanted)
    assert (1 + share) * wanted * flour / (flour + extra["extra_flour_g"]) == pytest.approx(wanted, **NEAR)
    assert extra["extra_liquid_g"] / extra["extra_flour_g"] == pytest.approx(liquid, **NEAR)
    assert choux.panade_for_share(flour, liquid * flour, butter * flour, extra["extra_share"]) == pytest.approx(extra)
    fat = choux.panade_without_butter(flour, liquid * flour, (1 + share) * butter * flour, butter)
    assert (1 + share) * butter * flour / (flour + fat["extra_flour_g"]) == pytest.approx(butter, **NEAR)


@given(st.floats(5, 200), st.floats(45, 75), SHARE)
def test_what_the_oven_drives_off_is_what_the_scale_finds(piped, paste, share):
    """The shell weighed gives the ratio, the loss, and the water left that the calculation set out from."""
    shell = between(1, min(paste, 60), share)
    found = paste_water.water_to_drive_off(piped, paste, shell)
    assert choux.baked_to_piped(piped, found["shell_g"])["shell_ratio"] == pytest.approx(found["shell_ratio"], **NEAR)
    assert found["drive_off_g"] + found["shell_g"] == pytest.approx(piped, **NEAR)
    assume(paste <= 60)
    left = shortbread.water_left(paste, piped, found["shell_g"])
    assert left["water_percent"] == pytest.approx(shell, rel=1e-6)
    assert shortbread.loss_to_water(paste, shell)["loss_percent"] == pytest.approx(found["loss_percent"], rel=1e-9)


@given(st.integers(1, 500), st.floats(0.5, 3))
def test_the_size_of_a_piece_and_their_number_undo_each_other(shells, flour):
    """A batch piped into so many pieces of the weight that is told gives that number, wider ones being heavier."""
    batch = (150 * flour, 250 * flour, 105 * flour, 250 * flour)
    size = paste_water.piece_size(*batch, shells)
    assert choux.shells_from_paste(*batch, size["piece_g"])["shells"] == shells
    assert paste_water.piece_size(*batch, shells + 1)["piped_mm"] < size["piped_mm"]


def test_pieces_of_the_usual_weights_are_as_wide_as_they_are_piped():
    """Common practice: a profiterole of 10 g is piped about 3 cm wide, a bun of 25 g about 4 to 5 cm."""
    assert paste_water.piece_size(150, 250, 105, 250, 71)["piped_mm"] == pytest.approx(33, abs=3)
    assert paste_water.piece_size(150, 250, 105, 250, 28)["piped_mm"] == pytest.approx(44, abs=4)


# -- shortbread ----------------------------------------------------------------------------


@given(GRAMS, SHARE, st.floats(0.2, 0.9))
def test_what_is_missing_or_over_is_made_good(flour, butter, more):
    """Butter and sugar to flour are those of the plain dough afterwards."""
    third, two = flour / 3, 2 * flour / 3
    add = shortbread.butter_to_add(flour, butter * two)["butter_g"]
    assert dough_sheet.fat_ratio(flour, butter * two + add)["fat_ratio"] == pytest.approx(2 / 3, **NEAR)
    add = shortbread.sugar_missing(flour, butter * third)["sugar_g"]
    assert dough_sheet.sugar_ratio(flour, butter * third + add)["sugar_ratio"] == pytest.approx(1 / 3, **NEAR)
    rich = shortbread.after_too_much_butter(flour, (1 + more) * two)
    assert (1 + more) * two / (flour + rich["flour_g"]) == pytest.approx(2 / 3, **NEAR)
    sweet = shortbread.after_too_much_sugar(flour, (1 + more) * third)
    assert (1 + more) * third / (flour + sweet["flour_g"]) == pytest.approx(1 / 3, **NEAR)
    floury = shortbread.after_too_much_flour(2 * flour + 50, 2 * flour)
    assert (two + floury["butter_g"]) / (flour + 50) == pytest.approx(2 / 3, **NEAR)
    assert dough_sheet.dough_over_recipe(2 * flour + 50, 2 * flour)["over_percent"] == pytest.approx(2500 / flour)


@given(GRAMS, st.floats(0.55, 3))
def test_starch_over_a_third_is_brought_to_a_third(flour, share):
    """With the plain flour added, starch is a third of the cereal."""
    add = shortbread.after_too_much_starch(flour, share * flour)["flour_g"]
    found = dough_sheet.starch_percent(flour + add, share * flour)["starch_percent"]
    assert found == pytest.approx(100 / 3, **NEAR)


@given(st.integers(1, 400), st.floats(3, 15), st.floats(20, 120))
def test_dough_made_for_pieces_gives_them(pieces, thick, cutter):
    """The dough that is asked for gives the pieces, and its flour, butter and sugar make it up."""
    made = portions.dough_for_pieces(pieces, thick, cutter)
    assert portions.portions(made["dough_g"], thick, cutter)["pieces"] == pieces
    assert made["flour_g"] + made["butter_g"] + made["sugar_g"] == pytest.approx(made["dough_g"], **NEAR)


# -- cream ---------------------------------------------------------------------------------


@given(GRAMS, st.floats(5, 30), st.floats(2, 30), SHARE)
def test_blends_come_out_at_the_wanted_fat(weight, low, span, share):
    """Up, down and by the square: the mix has the fat that was wanted, and the shares make one."""
    high = low + span
    wanted = between(low, high, share)
    up = cream.blend_up(weight, low, high, wanted)
    mixed = cream.fat_of_mix(weight, low, up["rich_cream_g"], high)
    assert (mixed["fat_percent"], mixed["mix_g"]) == pytest.approx((wanted, up["mix_g"]), rel=1e-9)
    down = cream.blend_down(weight, high, wanted, low)
    assert cream.fat_of_mix(weight, high, down["milk_g"], low)["fat_percent"] == pytest.approx(wanted, rel=1e-9)
    square = cream.pearson_square(high, low, wanted)
    assert square["rich_share"] + square["lean_share"] == pytest.approx(1, **NEAR)
    assert square["rich_share"] == pytest.approx(up["rich_cream_g"] / up["mix_g"], rel=1e-9)


@given(GRAMS, st.floats(34, 40), SHARE)
def test_thinned_cream_is_restored(weight, fat, share):
    """With the richer cream in, the fat is what was wanted although liquid went in."""
    liquid = share * weight
    found = cream.restore_fat(weight, fat, liquid, 48, 33) if share * 33 > fat - 33 else None
    assume(found is not None)
    whole = cream.fat_of_mix(weight + liquid, weight * fat / (weight + liquid), found["rich_cream_g"], 48)
    assert whole["fat_percent"] == pytest.approx(33, rel=1e-9)


@given(GRAMS, st.floats(1, 14), st.floats(0.5, 10))
def test_sugar_and_gelatine_come_to_their_share(weight, percent, more):
    """What is added brings up the share, and what thins brings it down."""
    sugar = percent / 100 * weight
    add = cream.sugar_to_add(weight, sugar, percent + more)["sugar_g"]
    assert cream.sugar_share(weight, sugar + add)["sugar_percent"] == pytest.approx(percent + more, rel=1e-9)
    plain = cream.plain_cream_for_sugar(weight, (percent + more) / 100 * weight, percent)["plain_cream_g"]
    thinned = cream.sugar_share(weight + plain, (percent + more) / 100 * weight)["sugar_percent"]
    assert thinned == pytest.approx(percent, rel=1e-9)
    gelatine = cream.gelatine_dose(weight, 0.5)["gelatine_g"]
    missing = cream.gelatine_missing(weight, gelatine, 0.8)["gelatine_g"]
    assert cream.gelatine_share(weight, gelatine + missing)["gelatine_percent"] == pytest.approx(0.8, rel=1e-9)
    plain = cream.plain_cream_for_gelatine(weight, gelatine + missing, 0.5)["plain_cream_g"]
    assert cream.gelatine_share(weight + plain, gelatine + missing)["gelatine_percent"] == pytest.approx(0.5, rel=1e-9)


@given(GRAMS, st.floats(5, 300))
def test_air_is_found_again_from_the_volume(weight, overrun):
    """A cup weighed full of liquid and full of cream whipped to an overrun gives that overrun."""
    volume = cream.whipped_volume(weight, overrun)["whipped_ml"]
    liquid_cup = 200 * cream.CREAM_G_PER_ML
    found = cream.overrun(liquid_cup, 200 * weight / volume)
    assert found["overrun_percent"] == pytest.approx(overrun, rel=1e-9)
    butter = cream.butter_from_cream(weight, 36)
    assert butter["butter_g"] + butter["buttermilk_g"] == pytest.approx(weight, **NEAR)


# -- chocolate -----------------------------------------------------------------------------


@given(GRAMS, st.floats(36, 70), st.floats(5, 30), st.floats(31, 35), SHARE, st.sampled_from(chocolate.COATINGS))
def test_no_heat_is_lost_to_the_seed(weight, bowl, seed_c, wanted, share, coating):
    """What the bowl gives off warms the seed and melts its share, to the last joule in a thousand million."""
    share = max(0.2, share)
    seed = chocolate.seed_for_temper(weight, bowl, seed_c, wanted, coating, share)["seed_g"]
    given_off = -chocolate.heat_to_warm(weight, bowl, wanted)["heat_kj"]
    taken_up = chocolate.heat_to_warm(seed, seed_c, wanted)["heat_kj"] + share * seed * chocolate.LATENT[coating] / 1000
    assert given_off == pytest.approx(taken_up, rel=1e-9)


@given(GRAMS, st.floats(5, 32), st.floats(65, 100), st.floats(35, 55))
def test_no_heat_is_lost_between_cream_and_chocolate(weight, chocolate_c, cream_c, wanted):
    """What the cream gives off melts the chocolate and warms it."""
    hot = chocolate.cream_to_melt(weight, chocolate_c, cream_c, wanted)["cream_g"]
    needed = chocolate.heat_to_melt(weight, chocolate_c, wanted)["heat_kj"]
    assert hot * chocolate.CP_CREAM * (cream_c - wanted) / 1000 == pytest.approx(needed, rel=1e-9)


@given(GRAMS, st.floats(0.4, 2.0), st.floats(0.1, 2))
def test_ganache_comes_to_its_ratio(weight, ratio, more):
    """Firmed or softened, the ganache has the ratio that was wanted; firmed for a glaze it is inside its span."""
    add = chocolate.ganache_firmer(ratio * weight, weight, ratio + more)["chocolate_g"]
    assert ganache.ganache_ratio(ratio * weight + add, weight)["ganache_ratio"] == pytest.approx(ratio + more, rel=1e-9)
    loose = chocolate.ganache_softer((ratio + more) * weight, weight, ratio)["cream_g"]
    softened = ganache.ganache_ratio((ratio + more) * weight, weight + loose)["ganache_ratio"]
    assert softened == pytest.approx(ratio, rel=1e-9)
    glaze = ganache.chocolate_for_glaze(0.4 * weight, weight, "milk")["more_chocolate_g"]
    off = ganache.ganache_off_span(0.4 * weight + glaze, weight, "milk", "glaze")["off_ratio"]
    assert off == pytest.approx(0, abs=1e-9)
    cream_g = ganache.cream_for_glaze(weight, "white")["glaze_cream_g"]
    low, high = (chocolate.ganache_chocolate(cream_g, "white")[f"chocolate_{end}_g"] for end in ("low", "high"))
    assert low / (1 + 1e-9) <= weight <= high * (1 + 1e-9)


@given(st.floats(20, 27), st.floats(0.5, 3), st.floats(36, 60), st.floats(5, 60))
def test_a_bowl_is_rewarmed_in_the_time_that_is_told(start, rise, bath, constant):
    """After the time told, the bowl stands at its working heat; cooling back in the room takes it down again."""
    wanted = 28 + rise
    found = chocolate.bowl_rewarming(start, wanted, bath, "dark", constant)
    assert heat.temperature_after(start, bath, found["minutes_min"], constant) == pytest.approx(wanted, abs=1e-9)
    assert found["to_lost_k"] == pytest.approx(34.5 - wanted)
    back = chocolate.bowl_cooling(wanted, start, 15, constant)["minutes_min"]
    assert heat.temperature_after(wanted, 15, back, constant) == pytest.approx(start, abs=1e-9)
    assert heat.cooling_time(wanted, start, 15, constant)["minutes_min"] == pytest.approx(back)


# -- syrup ---------------------------------------------------------------------------------


@given(GRAMS, st.floats(10, 60), st.floats(1, 25))
def test_strengths_come_out_and_no_sugar_is_lost(weight, weak, more):
    """Sugar in, water off and water in change the strength as wanted; sugar and water make the syrup."""
    strong = weak + more
    add = syrup.sugar_to_strengthen(weight, weak, strong)
    assert (weak / 100 * weight + add["sugar_g"]) / add["syrup_g"] == pytest.approx(strong / 100, rel=1e-9)
    off = syrup.water_to_boil_off(weight, weak, strong)
    assert off["water_g"] + off["syrup_g"] == pytest.approx(weight, **NEAR)
    back = syrup.water_to_add(off["syrup_g"], strong, weak)
    assert back["water_g"] == pytest.approx(off["water_g"], rel=1e-7)
    made = syrup.syrup_to_make(weight, strong)
    assert made["sugar_g"] + made["water_g"] == pytest.approx(weight, **NEAR)
    assert syrup.syrup_from(made["sugar_g"], made["water_g"])["sugar_percent"] == pytest.approx(strong, rel=1e-9)


@given(GRAMS, st.floats(2, 50))
def test_glucose_comes_to_its_share(sugar, percent):
    """With the glucose syrup in, the share that is not sucrose is the wanted one."""
    add = syrup.glucose_to_add(sugar, percent)["glucose_syrup_g"]
    assert syrup.doctor_share(sugar, add)["doctor_percent"] == pytest.approx(percent, rel=1e-9)


@given(st.floats(68, 90), st.floats(0, 60))
def test_a_doctored_syrup_holds_no_more_sucrose_than_its_water_dissolves(sugar, celsius):
    """With the share that is told, sucrose to water is just the solubility; at saturation no share is needed."""
    share = sucrose.doctor_to_stop_grain(sugar, celsius)["doctor_percent"]
    most = sucrose.solubility(celsius)["g_per_100_g_water"]
    held = 100 * sugar * (1 - share / 100) / (100 - sugar)
    assert held == pytest.approx(most, rel=1e-9) if share else held <= most
    saturated = sucrose.solubility(celsius)["sugar_percent"]
    assert sucrose.doctor_to_stop_grain(saturated, celsius)["doctor_percent"] == pytest.approx(0, abs=1e-9)


@given(GRAMS, st.floats(1, 20), st.floats(60, 78))
def test_drying_loses_water_and_no_sugar(drained, loss, sugar):
    """The dried peel holds the sugar of the drained peel."""
    dried = syrup.dried_weight(drained, loss)
    after = syrup.sugar_when_dried(sugar, loss)["sugar_percent"]
    assert dried["dried_g"] * after == pytest.approx(drained * sugar, rel=1e-9)
    assert dried["dried_g"] + dried["water_g"] == pytest.approx(drained, **NEAR)


@given(GRAMS, st.floats(0.3, 2), st.floats(0.1, 2), st.floats(76, 90))
def test_a_pan_of_peel_boiled_down_is_as_strong_as_wanted(sugar, water, peel, wanted):
    """What is left after the water is off has the wanted strength."""
    inside = water * sugar + syrup.WATER_IN_BLANCHED_PEEL * peel * sugar
    off = syrup.peel_water_to_boil_off(sugar, water * sugar, peel * sugar, wanted)["water_g"]
    assert 100 * sugar / (sugar + inside - off) == pytest.approx(wanted, rel=1e-9)


@given(st.floats(20, 90), st.floats(0, 60))
def test_growth_in_syrup_is_that_of_its_water_activity(sugar, celsius):
    """The margins of a syrup are those of its own water activity, and stronger syrup is never less safe."""
    found = growth.growth_in_syrup(sugar, celsius)
    assert growth.growth_margins(found["water_activity"]) == {k: v for k, v in found.items() if k.endswith("margin")}
    assert growth.growth_in_syrup(sugar - 5, celsius)["mould_margin"] >= found["mould_margin"]
    assert found["water_activity"] == sucrose.water_activity(sugar, celsius)["water_activity"]


# -- oven and height -----------------------------------------------------------------------


@given(st.floats(-480, 4980))
def test_height_and_boiling_point_undo_each_other(height):
    """The height is found again from where water boils there, with its pressure."""
    boils = oven.boiling_point_at_altitude(height)["boils_c"]
    found = oven.altitude_from_boiling(boils)
    assert found["altitude_m"] == pytest.approx(height, abs=1e-3)
    assert found["pressure_kpa"] == pytest.approx(oven.pressure_at_altitude(height)["pressure_kpa"], rel=1e-7)
    assert oven.saturation_pressure_kpa(boils) == pytest.approx(found["pressure_kpa"])


@pytest.mark.parametrize("mark", [0.25, 0.5, 1, 2, 3, 4, 5, 6, 7, 8, 9])
def test_gas_marks_and_celsius_undo_each_other(mark):
    """Each mark is the nearest one to its own temperature."""
    celsius = oven.gas_mark_to_celsius(mark)["conventional_c"]
    assert oven.celsius_to_gas_mark(celsius)["gas_mark"] == mark


@given(st.floats(-5, 5), st.floats(-5, 5), st.floats(0, 3000), st.floats(0, 120))
def test_a_checked_probe_reads_true(ice_error, boiling_error, height, true):
    """A probe that is off in ice and in boiling water, corrected by its check, tells the temperature."""
    boils = oven.boiling_point_at_altitude(height)["boils_c"]
    check = oven.probe_check(ice_error, boils + boiling_error, height)
    reading = ice_error + true * (boils + boiling_error - ice_error) / boils
    found = oven.probe_corrected(reading, check["ice_error_k"], check["boiling_error_k"], check["boils_c"])
    assert found["true_c"] == pytest.approx(true, abs=1e-9)


@given(st.floats(100, 250), st.floats(-60, 60))
def test_a_corrected_dial_gives_the_wanted_heat(wanted, off):
    """Set as told, an oven that is always so far off stands at the wanted heat."""
    found = oven.oven_correction(180, 180 + off, wanted)
    assert found["set_dial_c"] + off == pytest.approx(wanted, abs=1e-9)
    assert found["error_k"] == pytest.approx(off, abs=1e-9)
