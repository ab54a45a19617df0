"""The cases that ship with the families: each names its cause first and offers a rescue that can be carried out."""

from __future__ import annotations

import re

import pytest
from small_cases import advice

from troubleshoot import resources
from troubleshoot.interview import casefile
from troubleshoot.interview.shelf import Shelf

RULES = resources.folder("rules")

#: Each shipped case, the cause that must come first, and a rescue that must be on offer.
EXPECTED = {
    ("shortbread", "crumbs-not-pressed-yet"): ("normal_crumb_stage", "press_and_mix_on"),
    ("shortbread", "spread-not-chilled"): ("not_chilled", "chill_the_pieces"),
    ("shortbread", "soft-under-baked"): ("under_baked", "put_back_in"),
    ("shortbread", "tough-over-worked"): ("over_worked", "serve_for_dunking"),
    ("shortbread", "stack-slides-at-tea"): ("filling_texture", "firm_the_filling"),
    ("shortbread", "filled-since-yesterday"): ("wet_filling", "throw_away_out_of_time"),
    ("whipped-cream", "single-cream-for-eclairs"): ("low_fat_cream", "blend_up_and_chill"),
    ("whipped-cream", "beaten-past-firm"): ("overwhipped", "fold_in_cold_cream"),
    ("whipped-cream", "split-to-butter"): ("overwhipped", "make_butter"),
    ("whipped-cream", "warm-shells-melt-it"): ("warm_base", "chill_or_refill"),
    ("whipped-cream", "cut-strawberries-bleed"): ("wet_fruit", "cut_out_the_stain"),
    ("whipped-cream", "soft-peak-for-mousse"): ("normal_soft_stage", "carry_on"),
    ("melted-chocolate", "seized-by-steam"): ("trace_water", "seized_to_sauce"),
    ("melted-chocolate", "burnt-on-boiling-water"): ("scorched", "throw_out_burnt"),
    ("melted-chocolate", "firms-while-dipping"): ("too_cool", "warm_two_degrees"),
    ("melted-chocolate", "dull-never-tempered"): ("untempered", "dust_or_drizzle"),
    ("melted-chocolate", "eclairs-matt-from-the-fridge"): ("chilled_matt", "shine_at_room_heat"),
    ("melted-chocolate", "peel-weeps-on-the-glaze"): ("undrained_peel", "dry_the_weeping_ones"),
    ("candied-peel", "clumps-in-the-sugar"): ("left_in_sugar", "lift_out_and_sift"),
    ("candied-peel", "white-middle"): ("pulled_early", "back_into_syrup"),
    ("candied-peel", "sticky-in-the-box"): ("under_dried", "back_to_the_drier"),
    ("candied-peel", "over-dried-like-straps"): ("over_dried", "soften_in_syrup"),
    ("candied-peel", "soft-while-hot"): ("normal_in_pan", "let_it_cool_first"),
    ("candied-peel", "mould-in-the-open-box"): ("dirty_handling", "throw_away"),
}


def test_every_shipped_case_is_expected_here():
    """No case is shipped without saying what must come of it."""
    shipped = {(family, path.stem) for family, _ in EXPECTED for path in (RULES / family / "cases").glob("*.yaml")}
    assert shipped == set(EXPECTED)


@pytest.mark.parametrize(("family", "name"), EXPECTED)
def test_a_shipped_case_finds_its_cause_and_a_rescue(shelf: Shelf, family: str, name: str):
    """Each shipped case names its cause first and offers a rescue, with grams wherever they are worked out."""
    cause, remedy = EXPECTED[family, name]
    reasoner = shelf.reasoner(family)
    document = casefile.read_document(RULES / family / "cases" / f"{name}.yaml")
    conclusion = reasoner.reason(casefile.to_case(document, reasoner.family))
    assert conclusion.suspects[0].cause == cause
    offered = advice(reasoner, conclusion)
    assert remedy in offered
    steps = " ".join(offered[remedy].steps)
    assert "{" not in steps
    assert offered[remedy].because
    if reasoner.family.remedies[remedy].amounts:
        assert re.search(r"\d g\b", steps)
    assert offered[remedy].in_time is not False or offered[remedy].urgent
