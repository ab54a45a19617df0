"""What one family does to another: found where it is noticed, with a chain that says how."""

from __future__ import annotations

import pytest
from small_cases import first, words_of

from troubleshoot.interview.shelf import Shelf

CHAINS = [
    ("a warm shell melts cream", "whipped-cream", "melts_on_base", {"base_temp": "warm", "fails_where": "from_below"}, "warm_base", ("warm", "melt")),
    ("wet cream softens shortbread", "shortbread", "soft_after_filling", {"filling": "cream_custard", "filling_feel": "soft_wet", "soft_where": "near_filling", "filled_hours": 5.0}, "wet_filling", ("water", "soft")),
    ("undrained peel weeps into glaze", "melted-chocolate", "wet_beads", {"dipped_what": "peel_or_fruit", "peel_drained": "sticky_or_dripping"}, "undrained_peel", ("syrup", "peel")),
    ("a shell filled too early goes soft", "choux", "soft_filled", {"fill_gap": 6.0, "filling": "firm_cold", "soft_when": "after_filling", "hold_record": "in_limits"}, "filled_early", ("water", "soft")),
    ("chilled eclairs sweat", "choux", "coat_sweats", {"dew": "beads", "coat_look": "sweats"}, "chill_sweat", ("water", "cold")),
    ("cut fruit weeps into cream", "whipped-cream", "weeps_soon", {"fruit_contact": "cut_fruit_touching", "fails_where": "beside_fruit"}, "wet_fruit", ("fruit", "juice")),
    ("a stack slides because the cream was soft or the biscuit warm", "shortbread", "filling_slides", {"filling_feel": "soft_wet", "sandwich_bite": "slides_squeezes", "fill_heat": "warm"}, "filling_texture", ("slide",)),
    ("wet peel runs on a glaze", "candied-peel", "sinks_in_glaze", {"peel_for_cake": "wet_from_syrup"}, "wet_peel_on_glaze", ("syrup", "glaze")),
]  # fmt: skip


@pytest.mark.parametrize(("what", "family", "fault", "answers", "cause", "words"), CHAINS, ids=[c[0] for c in CHAINS])
def test_the_chain_is_known_where_it_is_noticed(
    shelf: Shelf,
    what: str,
    family: str,
    fault: str,
    answers: dict[str, str | float],
    cause: str,
    words: tuple[str, ...],
):
    """A small case finds the other family's part in it, and the chain says how it works."""
    reasoner = shelf.reasoner(family)
    assert first(reasoner, fault, **answers) == cause
    said = words_of(reasoner, cause)
    assert all(word in said for word in words)
