"""Checks before the work begins: cream, butter, labels, a sheet of dough, growth limits."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from troubleshoot.errors import AmountError
from troubleshoot.kitchen import cream, cream_checks, dough_sheet, growth, labels, portions, sucrose


# Common practice: one batch of 225 g of flour (450 g of dough) with a 5 cm cutter: about 30 biscuits, 15 sandwiches
def test_a_sheet_of_one_batch_gives_thirty_biscuits():
    """A batch rolled to 6 mm is a sheet of about 30 by 22 cm: 30 rounds of 5 cm with the trimmings rolled once."""
    found = portions.portions_from_sheet(300, 218, 6, 50)
    assert found["dough_g"] == pytest.approx(450, abs=3)
    assert found["pieces"] == pytest.approx(30, abs=1)
    assert found["sandwiches"] == found["pieces"] // 2
    assert found["first_pieces"] == 21


@given(st.floats(60, 600), st.floats(60, 600), st.floats(3, 15), st.floats(20, 60), st.sampled_from([0, 1, 2]))
def test_a_sheet_gives_no_more_than_its_dough(long, wide, thick, cutter, times):
    """Pieces and what is left make the sheet; rolled again it never gives fewer; turned round it gives the same."""
    found = portions.portions_from_sheet(long, wide, thick, cutter, times)
    made = found["pieces"] * found["piece_g"] + found["left_over_g"]
    assert made == pytest.approx(found["dough_g"], rel=1e-9)
    assert found["left_over_g"] >= -1e-9
    assert found["pieces"] >= found["first_pieces"] >= 1
    assert portions.portions_from_sheet(wide, long, thick, cutter, times) == pytest.approx(found)
    more = portions.portions_from_sheet(long, wide, thick, cutter, min(2, times + 1))
    assert more["pieces"] >= found["pieces"]


def test_circles_are_counted_as_they_are_cut():
    """Four rounds of 50 mm lie in a square of 102 mm, none in one of 49; staggered rows hold more in a large sheet."""
    assert portions.portions_from_sheet(102, 102, 6, 50, 0)["first_pieces"] == 4
    with pytest.raises(AmountError, match="wider than the sheet"):
        portions.portions_from_sheet(49, 49, 6, 50)
    straight = math.floor((600 + 2) / 52) ** 2
    assert portions.portions_from_sheet(600, 600, 6, 50, 0)["first_pieces"] > straight


@pytest.mark.parametrize(
    ("celsius", "work", "off"),
    [(18, "creaming", 0), (12, "creaming", -4), (24, "creaming", 4), (14, "rubbing", 0), (18, "rubbing", 2)],
)
def test_butter_is_told_how_far_it_is_off(celsius, work, off):
    """Below nothing it is too cold, above too warm for that work."""
    assert dough_sheet.butter_off_window(celsius, work)["off_k"] == pytest.approx(off)


def test_butter_for_unknown_work_is_refused():
    """The kinds of work that are known are named."""
    with pytest.raises(AmountError, match="creaming, rubbing, rolling"):
        dough_sheet.butter_off_window(18, "laminating")


@pytest.mark.parametrize(("celsius", "off"), [(2, -3), (5, 0), (10, 0), (14, 4)])
def test_cream_is_told_how_far_it_is_off(celsius, off):
    """Between 5 and 10 °C whipping begins well."""
    assert cream_checks.cream_off_cold(celsius)["off_k"] == pytest.approx(off)


@given(st.floats(0, 70))
def test_richer_cream_is_never_further_from_whipping(fat):
    """Both margins rise with the fat, the careful one 5 % behind; off for piping is 0 from 36 to 40 %."""
    found = cream_checks.whipping_fat(fat)
    assert found["over_least_percent"] - found["over_sure_percent"] == pytest.approx(5)
    assert (found["off_piping_percent"] == 0) is (36 <= fat <= 40)


@pytest.mark.parametrize("name", cream.NAMES)
def test_a_name_of_cream_is_judged_by_its_fat(name):
    """The margin and the plain answer agree."""
    for fat in (10, 18, 35, 36, 48, 55):
        over = cream_checks.cream_by_name(fat, name)["over_least_percent"]
        assert cream.may_be_called(name, fat) is (over >= 0)
    with pytest.raises(AmountError, match="uk_double"):
        cream_checks.cream_by_name(30, "custard")


@pytest.mark.parametrize("standard", labels.STANDARDS)
def test_a_label_is_told_how_far_each_part_is_over(standard):
    """At twice the least every part is over by as much, and nothing is short; with nothing on it every part is."""
    least = labels.STANDARDS[standard].least
    cocoa = max(2 * least.get("cocoa_butter", 0) + 2 * least.get("fat_free_cocoa", 0), 2 * least.get("cocoa_solids", 0))
    label = {f"{part}_percent": min(100.0, 2 * share) for part, share in least.items()}
    if "cocoa_solids" in least:
        label["cocoa_solids_percent"] = min(100.0, cocoa)
    found = labels.label_check(standard, **label)
    assert found["parts_short"] == 0
    assert all(value >= 0 for value in found.values())
    empty = labels.label_check(standard)
    assert empty["parts_short"] == len(least)
    assert {part: -empty[f"{part}_over_percent"] for part in least} == least


# Beuchat, Cereal Foods World 26, 1981: moulds from 0.80, yeasts from 0.87, dry-loving moulds 0.65, sugar yeasts 0.60
@pytest.mark.parametrize(
    ("activity", "grows"),
    [
        (0.55, set()),
        (0.62, {"sugar_yeast"}),
        (0.75, {"sugar_yeast", "dry_mould"}),
        (0.82, {"sugar_yeast", "dry_mould", "mould"}),
        (0.90, {"sugar_yeast", "dry_mould", "mould", "yeast"}),
    ],
)
def test_what_grows_follows_the_published_limits(activity, grows):
    """Each kind has a margin above nothing from its published limit on."""
    found = growth.growth_margins(activity)
    assert {name for name in growth.GROWS_FROM if found[f"{name}_margin"] >= 0} == grows


def test_peel_at_the_usual_end_keeps_from_mould_and_its_coat_stays_dry():
    """Peel of 75 % is under the limit of moulds and of a melting coat; syrup of 60 % is over both."""
    done, weak = growth.growth_in_syrup(75), growth.growth_in_syrup(60)
    assert done["mould_margin"] < 0
    assert done["coat_dissolves_margin"] < 0
    assert weak["mould_margin"] > 0
    assert weak["yeast_margin"] > 0
    assert weak["water_activity"] == sucrose.water_activity(60)["water_activity"]
