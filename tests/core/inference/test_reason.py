"""The reasoner on real choux: pure, order-free, and honest about memory, loose answers and contradictions."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from troubleshoot.inference import stopping
from troubleshoot.inference.conclusion import Conclusion
from troubleshoot.inference.facts import Case, Given
from troubleshoot.inference.reason import Reasoner
from troubleshoot.inference.selfmeasure import draw, interview, measure


def said(choux: Reasoner, fault: str | None = None, **answers: str | float) -> Conclusion:
    given = {sign: Given(answer=a) if isinstance(a, str) else Given(value=float(a)) for sign, a in answers.items()}
    return choux.reason(Case("choux", fault, given))


def test_the_same_case_gives_an_equal_conclusion(choux: Reasoner):
    """Reasoning keeps nothing between calls."""
    case = Case("choux", "flat", {"paste_hang": Given("runs_off"), "panade_loss": Given(value=2.0)})
    first = choux.reason(case)
    choux.reason(Case("choux", "tough"))
    again = choux.reason(case)
    assert again.suspects == first.suspects
    assert again.trace == first.trace
    assert again.next_question == first.next_question


def test_the_order_of_answers_changes_nothing(choux: Reasoner):
    """Answers given in another order lead to the same suspects and the same firings."""
    answers = {"paste_hang": Given("runs_off"), "groove": Given("fills_at_once"), "panade_look": Given("wet_sticky")}
    forward = choux.reason(Case("choux", "paste_runny", answers))
    backward = choux.reason(Case("choux", "paste_runny", dict(reversed(answers.items()))))
    assert forward.suspects == backward.suspects
    assert set(forward.trace) == set(backward.trace)


def test_cant_tell_changes_no_probability(choux: Reasoner):
    """An answer of can't tell is recorded and says nothing."""
    silent = choux.reason(Case("choux", "flat", {"paste_hang": Given()}))
    assert silent.suspects == choux.reason(Case("choux", "flat")).suspects


def test_the_suspects_alone_are_those_of_the_whole(choux: Reasoner):
    """Whoever wants to know only who is suspected gets what the whole of reasoning gets."""
    case = Case("choux", "paste_runny", {"paste_hang": Given("runs_off"), "panade_loss": Given(value=2.0)})
    assert choux.suspects(case) == choux.reason(case).suspects


def test_a_later_cause_is_doubted_unless_a_complaint_of_the_stage_lists_it(choux: Reasoner):
    """Staling comes after the shells are out, and yet "tough" lists it; runny paste cannot come from it."""
    assert choux.family.faults["tough"].causes.keys() >= {"staled"}
    assert "staled" not in said(choux, "tough").doubted
    assert said(choux, "tough", age="next_day_on", bite="tough").suspects[0].cause == "staled"
    assert "staled" in said(choux, "paste_runny").doubted


def test_a_number_reaches_its_answer_by_a_rule_in_the_trace(choux: Reasoner):
    """A measured number is turned into an answer by a rule, and the trace shows the number."""
    conclusion = said(choux, "paste_runny", panade_loss=2.0)
    assert conclusion.answers["panade_loss"] == "under_4pct"
    firing = next(f for f in conclusion.trace if f.rule == "panade_loss measured as under_4pct")
    assert [(fact.name, fact.value) for fact in firing.facts] == [("panade_loss", 2.0)]


def test_batch_weights_are_turned_into_answers(choux: Reasoner):
    """Weights of the batch alone answer the signs that follow from them."""
    conclusion = choux.reason(Case("choux", "paste_runny", batch={"flour_g": 150, "egg_g": 330}))
    assert conclusion.numbers["egg_ratio"] == pytest.approx(2.2)
    assert conclusion.answers["egg_ratio"] == "over_2.0"


def test_the_dial_of_a_fan_oven_counts_twenty_degrees_more(choux: Reasoner):
    """160 on the dial is cool without the fan and usual with it (fan reduction of 20 degrees, common practice)."""
    assert said(choux, "flat_held", oven_set=160, oven_kind="conventional").answers["oven_set"] == "low"
    assert said(choux, "flat_held", oven_set=160, oven_kind="fan").answers["oven_set"] == "usual"


def test_what_is_seen_rules_out_and_what_is_remembered_only_doubts(choux: Reasoner):
    """A paste on the bench that hangs in a V clears too much egg; the memory of one only speaks against it."""
    seen = said(choux, "paste_runny", paste_hang="v_slow")
    assert "egg_overdose" in seen.ruled_out
    assert seen.probability("egg_overdose") == 0
    remembered = said(choux, "fell_out", paste_hang="v_slow")
    assert "egg_overdose" not in remembered.ruled_out
    assert 0 < remembered.probability("egg_overdose") < said(choux, "fell_out").probability("egg_overdose") / 5


def test_a_loose_answer_lies_between_the_precise_ones_it_covers(choux: Reasoner):
    """“Flat” leaves open whether the pieces are low or discs, and moves each cause no further than the two do."""
    loose = said(choux, None, profile="flat").probability("egg_overdose")
    low, disc = (said(choux, None, profile=answer).probability("egg_overdose") for answer in ("low", "disc"))
    assert min(low, disc) <= loose <= max(low, disc)


def test_a_vague_complaint_counts_as_any_of_those_it_covers(choux: Reasoner):
    """A vague complaint favours the causes of the precise complaints it stands for."""
    nothing, flat = choux.reason(Case("choux")), choux.reason(Case("choux", "flat"))
    assert flat.probability("oven_cool") > 1.5 * nothing.probability("oven_cool")
    assert flat.probability("icing_wrong") < nothing.probability("icing_wrong") / 2


def test_a_cause_of_a_later_stage_is_doubted(choux: Reasoner):
    """What runs on the tray was not spoilt by the oven."""
    conclusion = choux.reason(Case("choux", "piped_spreads"))
    assert "door_opened" in conclusion.doubted
    assert conclusion.probability("door_opened") < 0.01


def test_answers_that_cannot_all_be_true_are_named_with_the_one_to_check(choux: Reasoner):
    """When answers point away from every cause, the program names those that do not go together."""
    conclusion = said(
        choux, "paste_runny", paste_hang="runs_off", groove="stays_open", piped_hold="holds", panade_loss=20, sieve="egg_bits",
        egg_in_temp=20, icing="hot_or_thin", base="arched_scorched", egg_kind="fresh_shell",
    )  # fmt: skip
    assert conclusion.unlisted > 0.5 or conclusion.clash is None
    contradictory = said(
        choux,
        "paste_runny",
        paste_hang="runs_off",
        groove="stays_open",
        bite="hard_brittle",
        sides="give",
        colour="pale",
        base="torn",
        dew="beads",
        freezer="filled_frozen",
        age="same_day",
    )
    assert contradictory.clash is None or set(contradictory.clash.signs) <= set(contradictory.answers)


def test_asking_ends_when_a_cause_is_settled(choux: Reasoner):
    """A cause past the mark settles the matter and ends the asking."""
    conclusion = said(
        choux, "piped_spreads", paste_hang="runs_off", panade_loss=7, egg_measure="all_in_weighed", egg_ratio="over_2.0"
    )
    assert conclusion.settled == "egg_overdose"
    assert conclusion.stop == stopping.Stop(stopping.SETTLED, ("egg_overdose",))
    assert conclusion.next_question is None


def test_asking_ends_after_the_most_questions(choux: Reasoner):
    """No more questions are put than the vocabulary allows."""
    case = Case("choux", "flat", asked=choux.vocabulary.most_questions)
    assert choux.reason(case).stop == stopping.Stop(stopping.ENOUGH_ASKED)
    assert choux.reason(replace(case, asked=0)).next_question is not None


def test_a_question_is_only_asked_while_it_can_be_answered(choux: Reasoner):
    """Raw paste is not asked about as if it stood there once the shells are filled, nor filling before it is made."""
    stages = choux.family.header
    for fault in ("paste_runny", "soft_filled"):
        conclusion = choux.reason(Case("choux", fault))
        now = stages.stage_index(choux.family.faults[fault].stage)
        for worth in choux.ranked_questions(conclusion):
            sign = choux.family.signs[worth.sign]
            assert stages.stage_index(sign.first_stage) <= now
            if stages.stage_index(sign.last_stage) < now:
                assert sign.ask_later is not None or sign.kind == "recalled"


def test_unsafe_goods_come_before_every_rescue(choux: Reasoner):
    """Goods out of time or temperature are thrown away, and nothing that would serve them is offered."""
    conclusion = said(choux, "soft_filled", hold_record="out_or_unknown")
    assert "throw_away" in conclusion.remedies
    assert not {"recrisp", "empty_and_refill", "serve_soft", "freeze_and_serve_iced"} & set(conclusion.remedies)


def test_a_near_miss_names_the_condition_that_stopped_it(choux: Reasoner):
    """A rule half met is kept with what held and the first condition that did not."""
    conclusion = said(choux, "paste_runny", liquid_state="brief_full_boil")
    miss = next(m for m in choux.near_misses(conclusion) if m.rule == "boiled_and_hot_clears_unboiled_flour")
    assert [pattern.name for pattern in miss.held] == ["liquid_state"]
    assert miss.stopped_by.name == "panade_temp"


def test_a_rule_that_rests_on_memory_doubts_and_does_not_rule_out(choux: Reasoner):
    """A plain rule woken by a remembered answer leaves the cause standing, however small."""
    conclusion = said(choux, "fell_out", liquid_state="brief_full_boil", panade_temp="75_to_88")
    assert "flour_before_boil" in conclusion.doubted
    assert "flour_before_boil" not in conclusion.ruled_out


def test_the_same_seed_measures_the_same(choux: Reasoner):
    """The measurement of the interview repeats exactly, and puts no more questions than allowed."""
    first, again = (measure(choux, 2, 5, ["egg_overdose", "oven_hot"]) for _ in range(2))
    assert first == again
    assert max(first.questions) <= choux.vocabulary.most_questions


def test_drawn_batches_show_what_their_cause_shows(choux: Reasoner):
    """Over many draws a sign shows an answer as often as the rule base says."""
    rng = np.random.default_rng(3)
    shown = [draw(choux, "door_opened", rng).shows["door"] for _ in range(300)]
    assert shown.count("opened_or_moved") / 300 == pytest.approx(0.95, abs=0.05)


def test_the_interview_on_itself_finds_most_causes(choux: Reasoner):
    """Over a few batches of the common causes, four of five are found first within eight questions."""
    rng = np.random.default_rng(11)
    common = [cause.id for cause in choux.family.causes.values() if cause.how_common >= 4]
    results = [interview(choux, draw(choux, cause, rng)) for cause in common for _ in range(2)]
    first = sum(
        c.suspects[0].cause == cause
        for (c, _), cause in zip(results, [c for c in common for _ in range(2)], strict=True)
    )
    assert first / len(results) >= 0.8


def test_a_barred_remedy_brings_no_caution(choux: Reasoner):
    """What must not be done needs no warning: raw paste is not warned of when there is no time for a new batch."""
    answers = {"pierce": Given("never"), "soft_when": Given("first_hour"), "cooled": Given("rack_open")}
    late = choux.reason(Case("choux", "soft_soon", answers, service_in_min=45))
    early = choux.reason(Case("choux", "soft_soon", answers, service_in_min=300))
    assert "remake_choux" in late.barred
    assert "raw_paste" not in late.cautions
    assert "raw_paste" in early.cautions


def test_a_barred_remedy_brings_no_finding(choux: Reasoner):
    """What is said of mended shells is of no use, and misleads, when all of them are thrown away."""
    answers = {"pierce": Given("never"), "soft_when": Given("first_hour")}
    sound = choux.reason(Case("choux", "soft_soon", answers, stage="fill"))
    spoilt = choux.reason(Case("choux", "soft_soon", {**answers, "spoil_signs": Given("present")}, stage="fill"))
    assert {"recrisp", "dry_out"} & set(sound.remedies)
    assert "cool_before_filling" in sound.findings
    assert {"recrisp", "dry_out"} <= set(spoilt.barred)
    assert "cool_before_filling" not in spoilt.findings
    assert "not_safe_to_serve" in spoilt.findings


def test_what_follows_from_the_complaint_adds_nothing_to_it(choux: Reasoner):
    """An answer that a rule derives from the complaint is known and not asked for, and is not counted twice."""
    conclusion = choux.reason(Case("choux", "fell_out"))
    assert conclusion.answers["sank_when"] == "just_out"
    assert [one.node for one in conclusion.evidence] == ["complaint"]
    assert "sank_when" not in [worth.sign for worth in choux.ranked_questions(conclusion)]
