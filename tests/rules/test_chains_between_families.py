"""What one family does to another: found where it is noticed, named in the verdict, with a chain that says how."""

from __future__ import annotations

from dataclasses import dataclass

import pytest
from small_cases import concluded, words_of

from troubleshoot.interview.shelf import Shelf


@dataclass(frozen=True)
class Chain:
    """One link between two families: where it is noticed, what is said of it, and what must follow."""

    what: str
    family: str
    fault: str
    answers: dict[str, str | float]
    cause: str
    finding: str
    words: tuple[str, ...]


CHAINS = (
    Chain(
        "a warm shell melts cream, seen in the cream",
        "whipped-cream",
        "melts_on_base",
        {"base_temp": "warm", "fails_where": "from_below", "free_liquid": "milky"},
        "warm_base",
        "melted_on_the_base",
        ("warm", "melt"),
    ),
    Chain(
        "a warm shell melts cream, seen in the shell",
        "choux",
        "soft_filled",
        {"filling": "loose_or_warm", "soft_when": "after_filling", "fill_gap": 1.0},
        "filling_wet",
        "warmth_loosened_the_cream",
        ("warm", "cold"),
    ),
    Chain(
        "wet cream softens shortbread, seen in the biscuit",
        "shortbread",
        "soft_after_filling",
        {"filling": "cream_custard", "filling_feel": "soft_wet", "soft_where": "near_filling", "filled_hours": 5.0},
        "wet_filling",
        "water_moved_across",
        ("water", "soft"),
    ),
    Chain(
        "wet cream softens shortbread, seen from the cream",
        "whipped-cream",
        "soggy_base",
        {"shell_state": "soft_leathery", "hold_time": "8_24h", "base_temp": "cool"},
        "filled_too_early",
        "base_drank_the_water",
        ("water",),
    ),
    Chain(
        "undrained peel weeps, seen on the chocolate",
        "melted-chocolate",
        "weeps",
        {"dipped_what": "peel_or_fruit", "peel_drained": "sticky_or_dripping"},
        "undrained_peel",
        "peel_was_not_dry",
        ("syrup", "peel"),
    ),
    Chain(
        "undrained peel weeps into the glaze, seen on the cake",
        "candied-peel",
        "sinks_in_glaze",
        {"peel_for_cake": "wet_from_syrup", "glaze_when": "set_to_touch", "dry_piece_test": "it_stands"},
        "wet_peel_on_glaze",
        "peel_wept_into_the_glaze",
        ("syrup", "glaze"),
    ),
    Chain(
        "a shell filled too early goes soft",
        "choux",
        "soft_filled",
        {"fill_gap": 6.0, "filling": "firm_cold", "soft_when": "after_filling", "hold_record": "in_limits"},
        "filled_early",
        "filled_too_many_hours",
        ("water", "soft"),
    ),
    Chain(
        "a shell filled too early goes soft under its chocolate",
        "melted-chocolate",
        "soft_shell",
        {"shell_inside": "soft_by_filling", "unfilled_beside": "crisp"},
        "filling_softens_shell",
        "filling_did_it",
        ("water",),
    ),
    Chain(
        "chilled eclairs sweat and the glaze dulls",
        "choux",
        "coat_sweats",
        {"dew": "beads", "coat_look": "sweats", "icing": "right"},
        "chill_sweat",
        "dew_dulled_the_coat",
        ("dew", "dull"),
    ),
    Chain(
        "chilled pieces sweat, seen on the chocolate",
        "melted-chocolate",
        "wet_beads",
        {"wet_film": "fine_beads", "unwrap": "unwrapped_cold"},
        "condensation",
        "dew_on_cold_pieces",
        ("dew",),
    ),
    Chain(
        "cut fruit weeps into cream",
        "whipped-cream",
        "weeps_soon",
        {"fruit_contact": "cut_fruit_touching", "fails_where": "beside_fruit", "free_liquid": "coloured_juice"},
        "wet_fruit",
        "juice_from_the_fruit",
        ("fruit", "juice", "biscuit"),
    ),
    Chain(
        "cut fruit weeps into biscuit",
        "shortbread",
        "soft_after_filling",
        {"filling": "cut_fruit", "soft_where": "near_filling", "filled_hours": 3.0},
        "wet_filling",
        "juice_went_through",
        ("fruit", "water"),
    ),
    Chain(
        "a stack slides because the cream was soft",
        "shortbread",
        "filling_slides",
        {"filling_feel": "soft_wet", "sandwich_bite": "slides_squeezes", "fill_heat": "cold", "soft_where": "not_soft"},
        "filling_texture",
        "cream_was_soft",
        ("slide",),
    ),
    Chain(
        "a stack slides because the biscuit was warm",
        "shortbread",
        "filling_slides",
        {"fill_heat": "warm", "sandwich_bite": "slides_squeezes"},
        "filling_texture",
        "biscuit_was_warm",
        ("warm", "slide"),
    ),
)


@pytest.mark.parametrize("chain", CHAINS, ids=[chain.what for chain in CHAINS])
def test_the_chain_is_known_where_it_is_noticed(shelf: Shelf, chain: Chain):
    """A small case finds the other family's part in it, says so, and the chain says how it works."""
    reasoner = shelf.reasoner(chain.family)
    conclusion = concluded(reasoner, chain.fault, None, **chain.answers)
    assert conclusion.suspects[0].cause == chain.cause
    assert chain.finding in conclusion.findings
    rule = next(r for r in reasoner.family.rules for c in r.then if c.kind == "finding" and c.name == chain.finding)
    assert rule.because
    said = words_of(reasoner, chain.cause)
    assert [word for word in chain.words if word not in said] == []


@pytest.mark.parametrize("chain", CHAINS, ids=[chain.what for chain in CHAINS])
def test_the_chain_ends_with_something_to_do(shelf: Shelf, chain: Chain):
    """Each link has a rescue or another use today, and a way to keep it from happening again."""
    family = shelf.reasoner(chain.family).family
    kinds = {family.remedies[remedy].kind for remedy in family.causes[chain.cause].remedies}
    assert kinds & {"now", "other-use"}
    assert "next-time" in kinds
