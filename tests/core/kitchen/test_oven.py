"""What the oven and thermometer calculations promise."""

from __future__ import annotations

import pytest

from troubleshoot.errors import AmountError
from troubleshoot.kitchen import oven


@pytest.mark.parametrize("degrees", [-40, -18, 0, 37, 100, 180, 232.2])
def test_celsius_and_fahrenheit_undo_each_other(degrees):
    """There and back gives the same temperature."""
    assert oven.celsius(oven.fahrenheit(degrees)) == pytest.approx(degrees, abs=1e-9)


def test_the_two_scales_meet_at_minus_forty():
    """-40 is the same on both scales."""
    assert oven.fahrenheit(-40) == -40


def test_nothing_is_colder_than_absolute_zero():
    """Temperatures below absolute zero are refused on both scales."""
    with pytest.raises(AmountError):
        oven.fahrenheit(-274)
    with pytest.raises(AmountError):
        oven.celsius(-460)


@pytest.mark.parametrize(("kind", "added"), [("conventional", 0), ("deck", 0), ("fan", 20), ("combi", 20)])
def test_a_blowing_oven_bakes_like_a_hotter_still_one(kind, added):
    """Fan and combi dials read 20 degrees below a still oven that bakes alike."""
    assert oven.conventional_equivalent(165, kind)["conventional_c"] == 165 + added


def test_fan_and_still_settings_undo_each_other():
    """From still to fan and back gives the same setting."""
    for setting in (120, 165, 220):
        assert oven.conventional_equivalent(oven.fan_equivalent(setting)["fan_c"], "fan")["conventional_c"] == setting


def test_an_unknown_oven_names_the_known_ones():
    """The message lists the kinds of oven."""
    with pytest.raises(AmountError, match="conventional, deck, fan, combi"):
        oven.conventional_equivalent(180, "microwave")


@pytest.mark.parametrize("mark", [0.25, 0.5, 1, 2, 3, 4, 5, 6, 7, 8, 9])
def test_gas_marks_survive_the_way_to_celsius_and_back(mark):
    """Each mark is nearest to its own temperature."""
    assert oven.celsius_to_gas_mark(oven.gas_mark_to_celsius(mark)["conventional_c"]) == {"gas_mark": mark}


def test_gas_marks_rise():
    """A higher mark is hotter."""
    degrees = [oven.gas_mark_to_celsius(mark)["conventional_c"] for mark in (0.25, 0.3, 0.5, 0.75, 1, 1.5, 2, 9)]
    assert degrees == sorted(degrees)
    for mark in (0, 0.1, 10):
        with pytest.raises(AmountError, match="gas mark"):
            oven.gas_mark_to_celsius(mark)


@pytest.mark.parametrize(("dial", "shown"), [(180, 165), (180, 180), (200, 222)])
def test_the_corrected_dial_makes_the_wanted_heat(dial, shown):
    """New dial plus the oven's error is the wanted temperature."""
    fixed = oven.oven_correction(dial, shown, 190)
    assert fixed["set_dial_c"] + fixed["error_k"] == pytest.approx(190, abs=1e-9)


def test_an_oven_is_in_order_within_fifteen_degrees():
    """15 off is in order, 16 is not, on either side."""
    assert oven.oven_in_order(180, 195)
    assert oven.oven_in_order(180, 165)
    assert not oven.oven_in_order(180, 196)
    assert not oven.oven_in_order(180, 164)


def test_readings_far_apart_are_read_again():
    """Over 80 degrees apart is a wrong reading, not an oven."""
    with pytest.raises(AmountError, match="read both again"):
        oven.oven_correction(180, 270, 180)


def test_pressure_and_boiling_point_fall_with_height():
    """Higher means less air and an earlier boil."""
    heights = [-400, 0, 305, 900, 1500, 3000, 5000]
    pressures = [oven.pressure_at_altitude(height)["pressure_kpa"] for height in heights]
    boils = [oven.boiling_point_at_altitude(height)["boils_c"] for height in heights]
    assert pressures == sorted(pressures, reverse=True)
    assert boils == sorted(boils, reverse=True)


@pytest.mark.parametrize("height", [-501, 5001, float("nan")])
def test_heights_without_kitchens_are_refused(height):
    """Heights outside -500 to 5000 m are refused."""
    with pytest.raises(AmountError, match="height"):
        oven.boiling_point_at_altitude(height)


def test_a_true_probe_has_no_error_at_its_height():
    """A probe that reads 0 in ice and the boiling point in boiling water is right, at any height."""
    for height in (0, 1500):
        boils = oven.boiling_point_at_altitude(height)["boils_c"]
        check = oven.probe_check(0, boils, height)
        assert check["ice_error_k"] == 0
        assert check["boiling_error_k"] == pytest.approx(0, abs=1e-12)
        assert oven.probe_trusted(check["ice_error_k"], check["boiling_error_k"])


def test_a_right_probe_looks_wrong_when_the_height_is_forgotten():
    """95 in boiling water is right at 1500 m and 5 degrees low at the sea."""
    assert abs(oven.probe_check(0, 95, 1500)["boiling_error_k"]) < 0.1
    assert oven.probe_check(0, 95, 0)["boiling_error_k"] == pytest.approx(-4.97, abs=0.01)
    assert not oven.probe_trusted(0, -4.97)


@pytest.mark.parametrize(("ice", "boiling"), [(0, 0), (1, 1), (2, -3), (-1.5, 0.5)])
def test_corrected_readings_hit_both_checked_points(ice, boiling):
    """The line through the two checks gives 0 in ice and the boiling point in boiling water."""
    assert oven.probe_corrected(ice, ice, boiling, 98)["true_c"] == pytest.approx(0, abs=1e-9)
    assert oven.probe_corrected(98 + boiling, ice, boiling, 98)["true_c"] == pytest.approx(98, abs=1e-9)
