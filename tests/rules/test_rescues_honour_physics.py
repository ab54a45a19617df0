"""Rescues do what nature allows: what cannot come back is not offered, and the program says why."""

from __future__ import annotations

import re

import pytest
from small_cases import advice, concluded, words_of

from troubleshoot.inference.conclusion import Conclusion
from troubleshoot.inference.reason import Reasoner
from troubleshoot.interview.shelf import Shelf


def rescues(reasoner: Reasoner, conclusion: Conclusion) -> set[str]:
    """What is offered for this batch today, in its own use or another."""
    return {r for r in conclusion.remedies if reasoner.family.remedies[r].kind in ("now", "other-use")}


def said(conclusion: Conclusion, reasoner: Reasoner) -> str:
    """The findings of a verdict, in words."""
    says = {c.name: c.say or "" for rule in reasoner.family.rules for c in rule.then if c.kind == "finding"}
    return " ".join(says[finding] for finding in conclusion.findings).casefold()


# Seized chocolate

#: What ends with the bowl as a coat: none of it is for chocolate with water in it.
KEEPS_IT_A_COAT = frozenset(
    [
        "thin_with_cocoa_butter",
        "temper_the_bowl",
        "warm_two_degrees",
        "lift_out_the_lump",
        "add_fresh_seed",
        "feed_hot_chocolate",
        "cool_bowl_to_range",
        "correct_and_retemper",
        "blend_with_thicker",
        "mix_with_couverture",
        "stretch_the_damp_bowl",
        "stretch_with_plain_chocolate",
        "sieve_or_blend_the_seed",
        "cool_and_blend_the_paste",
        "stir_the_tank",
        "stir_before_more_heat",
        "carry_on",
    ]
)


@pytest.mark.parametrize("water", ["steam_or_drops", "wet_addition", "wet_pieces"])
def test_seized_chocolate_is_never_offered_as_a_coat(shelf: Shelf, water: str):
    """Whatever it is called and however the water came, a stiff and grainy bowl is not warmed, thinned or tempered."""
    chocolate = shelf.reasoner("melted-chocolate")
    assert set(chocolate.family.remedies) >= KEEPS_IT_A_COAT
    for fault in chocolate.family.faults:
        conclusion = concluded(chocolate, fault, None, melt_look="stiff_grainy", water_route=water)
        assert KEEPS_IT_A_COAT & set(conclusion.remedies) == set(), fault
        assert "never comes back as a coat" in said(conclusion, chocolate)


def test_seized_chocolate_becomes_sauce_or_ganache_with_its_liquid_as_a_range(shelf: Shelf):
    """500 g want a fifth to a third of their weight in water, and the sauce gives both ends in grams."""
    chocolate = shelf.reasoner("melted-chocolate")
    conclusion = concluded(
        chocolate,
        "seized",
        {"chocolate_g": 500.0},
        melt_look="stiff_grainy",
        thickened="at_once_after_adding",
        water_route="steam_or_drops",
    )
    assert conclusion.suspects[0].cause == "trace_water"
    offered = advice(chocolate, conclusion)
    assert {"seized_to_sauce", "seized_to_ganache"} <= set(offered)
    # A fifth to a third of 500 g, and milk may take more: the published rescues are 20, 26 and 33 per cent of water.
    for remedy in ("seized_to_sauce", "seized_to_ganache"):
        ends = re.findall(r"(\d+) g to (\d+) g", " ".join(offered[remedy].steps))
        assert ends, remedy
        assert all(int(low) < int(high) for low, high in ends)
    water_low, water_high = re.findall(r"(\d+) g to (\d+) g of water", " ".join(offered["seized_to_sauce"].steps))[0]
    assert (100, 170) <= (int(water_low), int(water_high)) <= (130, 175)
    assert "never" in words_of(chocolate, "trace_water")


def test_chocolate_that_is_only_cold_is_not_turned_into_sauce(shelf: Shelf):
    """A warm, clean spoonful that flows has no water in it: it comes back as a coat by warmth alone."""
    chocolate = shelf.reasoner("melted-chocolate")
    conclusion = concluded(chocolate, "thickens_in_use", None, warm_test="flows", specks="clean", use_temp="below")
    assert "warm_two_degrees" in conclusion.remedies
    assert {"seized_to_sauce", "seized_to_ganache"} & set(conclusion.remedies) == set()


# Over-whipped cream

#: What brings fresh cream or more turns to cream that has become butter.
FEEDS_BUTTER = frozenset(
    [
        "fold_in_cold_cream",
        "empty_the_bag_and_loosen",
        "let_down_with_milk",
        "stop_and_loosen",
        "restore_the_fat",
        "chill_and_whip_again",
        "ten_turns_by_hand",
        "whip_on_patiently",
        "cool_the_bowl_and_finish",
        "fold_into_creams",
        "pour_off_and_turn",
        "hold_with_gelatine",
        "carry_on",
    ]
)


def test_grainy_cream_comes_back_with_fresh_cream_by_grams(shelf: Shelf):
    """While it is only grainy, fresh cream is folded in by weight, and that stands before butter."""
    cream = shelf.reasoner("whipped-cream")
    conclusion = concluded(
        cream,
        "grainy",
        {"cream_g": 500.0},
        stop_point="ran_on",
        rub_test="greasy_grains",
        peak="rough_stiff",
        free_liquid="none",
    )
    assert conclusion.suspects[0].cause == "overwhipped"
    offered = advice(cream, conclusion)
    order = list(offered)
    assert order.index("fold_in_cold_cream") < order.index("make_butter")
    assert re.search(r"\d+ g", " ".join(offered["fold_in_cold_cream"].steps))
    assert "ten_turns_by_hand" not in offered


@pytest.mark.parametrize("seen", [{"peak": "butter_clots"}, {"rub_test": "greasy_grains", "free_liquid": "milky"}])
def test_split_cream_becomes_butter_and_nothing_brings_it_back(shelf: Shelf, seen: dict[str, str]):
    """Clots, or grains with milk running, are butter: whatever it was called, no cream and no more turns."""
    cream = shelf.reasoner("whipped-cream")
    assert set(cream.family.remedies) >= FEEDS_BUTTER
    for fault in cream.family.faults:
        conclusion = concluded(cream, fault, {"cream_g": 500.0}, **seen)
        assert "make_butter" in conclusion.remedies, fault
        assert FEEDS_BUTTER & set(conclusion.remedies) == set(), fault
    assert "cannot bring it back" in said(conclusion, cream)


# Peel on either side of dry

TO_THE_SYRUP = frozenset({"back_into_syrup", "soften_in_syrup"})
TO_THE_DRIER = frozenset({"back_to_the_drier", "rest_then_dry_gently"})


@pytest.mark.parametrize(
    ("answers", "offered", "barred"),
    [
        ({"section": "white_core", "growth": "none"}, "back_into_syrup", TO_THE_DRIER),
        ({"section": "clear_through", "touch": "tacky_film", "age": "3_to_90"}, "back_to_the_drier", TO_THE_SYRUP),
        ({"bend": "snaps", "soak_test": "softens"}, "soften_in_syrup", TO_THE_DRIER),
        ({"bend": "springs_stiff", "soak_test": "softens"}, "soften_in_syrup", TO_THE_DRIER),
    ],
)
def test_peel_goes_to_the_syrup_or_to_the_drier_and_never_the_wrong_way(
    shelf: Shelf, answers: dict[str, str], offered: str, barred: frozenset[str]
):
    """A white middle and hard pieces want syrup, clear and sticky ones want air; the other way is barred."""
    peel = shelf.reasoner("candied-peel")
    for fault in ("wont_dry", "leathery", "glassy_hard", "white_middle", "wet_in_box", "sticky", "hard"):
        conclusion = concluded(peel, fault, None, **answers)
        assert offered in conclusion.remedies, fault
        assert barred & set(conclusion.remedies) == set(), fault


def test_peel_that_water_does_not_soften_gets_no_syrup_for_it(shelf: Shelf):
    """Tough peel that ten minutes in water leave tough was never tender: syrup does not soften it."""
    peel = shelf.reasoner("candied-peel")
    conclusion = concluded(peel, "leathery", None, soak_test="stays_tough", bite="tough_fibres")
    assert TO_THE_SYRUP & set(conclusion.remedies) == set()
    assert "cook_tender_again" in conclusion.remedies


# Shortbread


def test_under_baked_shortbread_goes_back(shelf: Shelf):
    """A damp line goes back into the oven the same day, and is not left or covered."""
    short = shelf.reasoner("shortbread")
    conclusion = concluded(
        short,
        "soft_from_oven",
        cold_recheck="still_soft",
        colour_map="white_all",
        inside="damp_band",
        rebake_one="crisp_again",
    )
    assert conclusion.suspects[0].cause == "under_baked"
    assert advice(short, conclusion)["put_back_in"].pieces_saved > 0
    assert {"carry_on", "let_it_cool_and_judge", "dredge_warm"} & set(conclusion.remedies) == set()


@pytest.mark.parametrize(
    "answers",
    [
        {"work_time": "long", "mix_minutes": 12.0},
        {"pull": "stretches", "work_time": "long", "trimmings": "first_cut_only", "flour_protein": 10.0},
    ],
)
def test_over_worked_shortbread_does_not_go_back(shelf: Shelf, answers: dict[str, str | float]):
    """A dough worked too long gets no more oven and no more work: it is dunked, crushed or made again."""
    short = shelf.reasoner("shortbread")
    conclusion = concluded(short, "tough", None, **answers)
    assert conclusion.suspects[0].cause == "over_worked"
    assert {"put_back_in", "recrisp", "finish_at_true_heat"} & set(conclusion.remedies) == set()
    assert {"serve_for_dunking", "crush_for_a_base", "remake_shortbread"} <= set(conclusion.remedies)
    assert "does not come back" in words_of(short, "over_worked")


@pytest.mark.parametrize(
    "answers",
    [
        {"work_time": "still_in_bowl_under_3min"},
        {"work_time": "still_in_bowl_under_3min", "squeeze": "holds_short"},
        {"tried": "pressing_helped"},
    ],
)
def test_crumbs_not_pressed_yet_are_carried_on_with_and_get_no_butter(shelf: Shelf, answers: dict[str, str]):
    """Crumbs in the bowl have nothing wrong with them, and more butter is barred and named as what not to do."""
    short = shelf.reasoner("shortbread")
    conclusion = concluded(short, "wont_come_together", None, **answers)
    assert conclusion.suspects[0].cause == "normal_crumb_stage"
    assert short.family.causes["normal_crumb_stage"].nothing_wrong
    offered = advice(short, conclusion)
    assert {"carry_on", "press_and_mix_on"} <= set(offered)
    assert "work_in_missing_butter" not in offered
    for remedy in ("carry_on", "press_and_mix_on"):
        assert "butter" in " ".join(offered[remedy].not_this).casefold()


def test_crumbs_with_the_butter_right_by_weight_get_warmth_and_no_butter(shelf: Shelf):
    """200 g of butter on 300 g of flour is enough: dry crumbs then want warmth and smearing."""
    short = shelf.reasoner("shortbread")
    conclusion = concluded(short, "wont_come_together", {"flour_g": 300.0, "butter_g": 200.0}, squeeze="crumbs")
    assert "more_butter_is_wrong" in conclusion.findings
    assert "work_in_missing_butter" not in conclusion.remedies


def test_butter_goes_in_only_where_the_sums_show_that_it_is_missing(shelf: Shelf):
    """120 g on 300 g of flour is too little, and then the missing grams are worked in."""
    short = shelf.reasoner("shortbread")
    batch = {"flour_g": 300.0, "butter_g": 120.0, "sugar_g": 100.0}
    conclusion = concluded(
        short, "wont_come_together", batch, squeeze="crumbs", hand_work="still_crumbs", tried="pressing_no_help"
    )
    assert conclusion.suspects[0].cause == "too_little_butter"
    assert re.search(r"\d+ g of butter", " ".join(advice(short, conclusion)["work_in_missing_butter"].steps))


# What must not be eaten

UNSAFE = [
    ("candied-peel", {"growth": "fuzzy_spots"}),
    ("candied-peel", {"growth": "froth_bubbles"}),
    ("candied-peel", {"speck_test": "smears_fuzzy"}),
    ("candied-peel", {"smell": "musty"}),
    ("candied-peel", {"smell": "boozy_sour", "cold_brix": 55.0}),
    ("choux", {"hold_record": "out_or_unknown"}),
    ("choux", {"spoil_signs": "present"}),
    ("choux", {"taste": "off"}),
    ("melted-chocolate", {"growth": "fuzz_or_sour"}),
    ("melted-chocolate", {"time_out": "over_4h"}),
    ("shortbread", {"specks": "fur"}),
    ("shortbread", {"smell": "rancid"}),
    ("shortbread", {"filling": "cream_custard", "filled_hours": 27.0}),
    ("shortbread", {"filling": "cut_fruit", "filled_hours": "unknown"}),
    ("whipped-cream", {"out_hours": "over_4_or_unknown"}),
    ("whipped-cream", {"age": "past_date"}),
    ("whipped-cream", {"hold_temp": 12.0, "hold_time": 10.0}),
    ("whipped-cream", {"off_note": "sour", "hold_temp": "in_and_out"}),
]

#: What may stand beside the waste: throwing away, and goods that never touched what has gone off.
HARMLESS = frozenset(
    [
        "throw_away",
        "throw_away_out_of_time",
        "throw_out_burnt",
        "throw_the_burnt",
        "hold_back_treated_fruit",
        "stop_and_trace",
        "check_the_other_boxes",
        "recrisp_unfilled",
        "open_another_delivery",
        "take_from_a_closed_box",
        "wash_the_kit_and_start_again",
    ]
)


@pytest.mark.parametrize(("family", "answers"), UNSAFE, ids=[f"{f}-{'-'.join(a)}" for f, a in UNSAFE])
def test_unsafe_goods_go_into_the_waste_and_nothing_else_is_made_of_them(
    shelf: Shelf, family: str, answers: dict[str, str | float]
):
    """Whatever was complained of: mould, lost time or an unknown record bring the waste first, and no rescue."""
    reasoner = shelf.reasoner(family)
    for fault in reasoner.family.faults:
        conclusion = concluded(reasoner, fault, None, **answers)
        assert rescues(reasoner, conclusion) - HARMLESS == set(), fault
        shown = next(iter(advice(reasoner, conclusion).values()))
        assert shown.urgent, fault
        assert shown.remedy.startswith("throw_away") or shown.remedy == "stop_and_trace", fault


@pytest.mark.parametrize(
    ("family", "fault"),
    [
        ("candied-peel", "mouldy"),
        ("candied-peel", "jar_fizzes"),
        ("choux", "spoiled"),
        ("melted-chocolate", "mould"),
        ("shortbread", "mouldy"),
    ],
)
def test_a_complaint_of_mould_alone_is_enough(shelf: Shelf, family: str, fault: str):
    """Somebody who sees mould need answer no question before it is thrown away."""
    reasoner = shelf.reasoner(family)
    conclusion = concluded(reasoner, fault, None)
    assert next(iter(advice(reasoner, conclusion).values())).urgent
    assert rescues(reasoner, conclusion) - HARMLESS == set()
