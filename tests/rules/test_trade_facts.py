"""What the trade knows of shortbread, cream, chocolate and peel, as check values: common practice, no source."""

from __future__ import annotations

import pytest
from small_cases import concluded, first, words_of

from troubleshoot.inference.reason import Reasoner
from troubleshoot.interview.shelf import Shelf


@pytest.fixture
def short(shelf: Shelf) -> Reasoner:
    return shelf.reasoner("shortbread")


@pytest.fixture
def cream(shelf: Shelf) -> Reasoner:
    return shelf.reasoner("whipped-cream")


@pytest.fixture
def chocolate(shelf: Shelf) -> Reasoner:
    return shelf.reasoner("melted-chocolate")


@pytest.fixture
def peel(shelf: Shelf) -> Reasoner:
    return shelf.reasoner("candied-peel")


def band(reasoner: Reasoner, sign: str, value: float) -> str:
    measure = reasoner.family.signs[sign].measure
    assert measure is not None
    found = measure.band(value)
    assert found is not None
    return found.answer


def steps(reasoner: Reasoner, *remedies: str) -> str:
    return " ".join(step for r in remedies for step in reasoner.family.remedies[r].steps).casefold()


# Shortbread


def test_160_with_the_fan_for_10_to_15_minutes_is_usual(short: Reasoner):
    """160 °C with the fan (180 without) and 10 to 15 minutes are in the normal bands."""
    assert band(short, "set_heat", 180.0) in short.family.signs["set_heat"].normal_ids
    for minutes in (10.0, 12.0, 15.0):
        assert band(short, "bake_minutes", minutes) in short.family.signs["bake_minutes"].normal_ids


def test_golden_at_the_edge_is_done_and_normal(short: Reasoner):
    """Even pale gold is the normal colour; a pale piece with a gold edge that is firm when cold has nothing wrong."""
    assert short.family.signs["colour_map"].normal_ids == {"even_pale_gold"}
    assert "gold" in steps(short, "put_back_in")


def test_a_little_chilling_counts_and_none_lets_them_spread(short: Reasoner):
    """Five minutes of chilling are told from none; pieces not chilled that spread point to the missing chill."""
    assert band(short, "chill_time", 5.0) != "not_at_all"
    assert (
        first(short, "spread", chill_time="not_at_all", diameter="grew_over_10", chill_trial="chilled_holds")
        == "not_chilled"
    )


def test_a_little_spread_is_normal_and_much_is_not(short: Reasoner):
    """A few per cent wider than the cutter is normal; more than a tenth is not."""
    assert short.family.signs["diameter"].normal_ids == {"held"}
    assert [band(short, "diameter", per_cent) for per_cent in (0.0, 5.0, 15.0)] == ["held", "held", "grew_over_10"]


def test_crumbs_before_pressing_are_normal(short: Reasoner):
    """Crumbs that hold when squeezed only want pressing together."""
    assert first(short, "wont_come_together", squeeze="holds_short", hand_work="binds") == "normal_crumb_stage"
    assert "press" in words_of(short, "normal_crumb_stage")


def test_trimmings_roll_again_if_not_overworked(short: Reasoner):
    """Trimmings rolled once are no fault; rolled often they turn tough."""
    assert "once" in short.family.signs["trimmings"].answer_ids
    assert first(short, "tough", trimmings="often", reroll_link="worse_in_rerolled") == "rerolled_trimmings"


def test_flavour_does_not_come_as_liquid(short: Reasoner):
    """Liquid flavour in the dough makes it tough or sticky, and the advice is dry flavour."""
    assert first(short, "dough_sticky", liquid="over_2pct") == "added_liquid"
    assert any(word in words_of(short, "added_liquid") for word in ("zest", "powder", "dry", "seeds"))


def test_biscuits_are_cold_before_the_cream(short: Reasoner):
    """A biscuit filled warm lets the filling slide."""
    assert first(short, "filling_slides", fill_heat="warm", sandwich_bite="slides_squeezes") == "filling_texture"
    assert "cold" in words_of(short, "filling_texture") or "cool" in words_of(short, "filling_texture")


# Cream


def test_single_cream_does_not_whip_and_the_chain_says_why(cream: Reasoner):
    """Cream of 18 % fat never stands: there is too little fat to hold the air."""
    assert first(cream, "wont_thicken", fat_label=18.0) == "low_fat_cream"
    assert first(cream, "wont_thicken", carton_name="single_or_half", peak="liquid") == "low_fat_cream"
    assert "fat" in " ".join(cream.family.causes["low_fat_cream"].why).casefold()


def test_double_cream_is_thick_and_holds(cream: Reasoner):
    """Double cream is a normal choice, not a fault for slumping."""
    holding = concluded(cream, "slumps", None, carton_name="double").probability("low_fat_cream")
    single = concluded(cream, "slumps", None, carton_name="single_or_half").probability("low_fat_cream")
    assert holding < single / 10


def test_about_a_spoon_of_icing_sugar_is_usual(cream: Reasoner):
    """One to three spoons of sugar are the normal answer; six are too many."""
    assert "one_to_three" in cream.family.signs["sugar_spoons"].normal_ids
    assert "icing" in cream.family.signs["sugar_kind"].normal_ids
    assert first(cream, "too_sweet", sugar_spoons="six_or_more") == "sugar_excess"


def test_cream_is_whipped_to_hold_a_piped_shape(cream: Reasoner):
    """A firm curl is the normal peak, and cream stopped before it flops."""
    assert "firm_curl" in cream.family.signs["peak"].normal_ids
    assert (
        first(cream, "runs_from_bag", stop_point="stopped_soft", peak="soft_flops", ten_turns="firms")
        == "stopped_early"
    )


# Chocolate


@pytest.mark.parametrize("heat", ["bath_hard_or_touching", "micro_blast"])
def test_high_heat_burns_chocolate(chocolate: Reasoner, heat: str):
    """A bowl that touches boiling water, or a long blast in the microwave, burns it."""
    assert first(chocolate, "burnt", heat_source=heat, smell="burnt", peak_temp="far_over") == "scorched"


def test_water_is_heated_switched_off_and_the_bowl_rests_on_top(chocolate: Reasoner):
    """The advice for melting: heat water, switch off, rest the bowl on it; in the microwave bursts of 20 seconds or less."""
    words = words_of(chocolate, "scorched") + words_of(chocolate, "trace_water")
    assert "off" in words
    assert "20 seconds" in words or "15 seconds" in words or "10 seconds" in words


def test_thick_from_cooling_is_warmed_gently(chocolate: Reasoner):
    """Chocolate that firmed as it stood is warmed a little, not thinned."""
    assert (
        first(
            chocolate,
            "thickens_in_use",
            thickened="as_it_stood",
            use_temp="below",
            warm_test="flows",
            temper_done="not_needed",
        )
        == "too_cool"
    )
    assert "warm" in words_of(chocolate, "too_cool")


def test_gentle_melting_keeps_the_shine(chocolate: Reasoner):
    """Overheating takes the temper, and the shine with it; gentle heat speaks against burning."""
    lost = concluded(chocolate, "dull", None, peak_temp="over", temper_done="none", gloss="matt_grey")
    assert lost.suspects[0].cause in ("untempered", "lost_temper")
    gentle, hard = (
        concluded(chocolate, "burnt", None, heat_source=heat).probability("scorched")
        for heat in ("bath_gentle", "bath_hard_or_touching")
    )
    assert gentle < hard


# Peel


def test_pith_is_bitter(peel: Reasoner):
    """Bitter peel whose pith alone is bitter points to thick pith or too little boiling out."""
    assert first(peel, "bitter", taste_bitter="strong_pith", zest_or_pith="pith_only", blanch_count="none_one") in (
        "under_blanched",
        "bitter_kind_thick_pith",
    )


def test_thin_strips_in_equal_sugar_and_water_for_minutes_are_a_sound_way(peel: Reasoner):
    """The quick way (one to one, thin strips, a short gentle boil) is among the normal answers."""
    assert "one_to_one" in peel.family.signs["first_syrup"].normal_ids
    assert "under_2mm" in peel.family.signs["thickness"].normal_ids
    assert "under_30" in peel.family.signs["simmer_time"].normal_ids
    assert "lazy" in peel.family.signs["boil_vigour"].normal_ids


def test_peel_left_in_the_sugar_clumps(peel: Reasoner):
    """Tossed and taken out is right; left lying it clumps."""
    assert first(peel, "sugar_lumps", left_sugar="left_lying", sugared_when="tacky_not_wet") == "left_in_sugar"


def test_peel_is_soft_while_hot_and_better_the_day_after(peel: Reasoner):
    """Hot peel that is soft, and peel on its first day, have nothing wrong with them."""
    assert first(peel, "too_soft", judged_cold="hot", when_seen="in_pan") == "normal_in_pan"
    assert "day" in words_of(peel, "normal_first_day")


def test_peel_keeps_three_to_four_months(peel: Reasoner):
    """Up to about four months airtight is normal age."""
    assert "3_to_90" in peel.family.signs["age"].normal_ids
    assert "four months" in peel.family.signs["age"].answer("3_to_90").say


def test_the_sugar_is_used_again(peel: Reasoner):
    """Coating sugar and syrup are not thrown away."""
    everything = " ".join(" ".join((*r.steps, r.because)) for r in peel.family.remedies.values()).casefold()
    assert "again" in everything
    assert "sugar" in everything
