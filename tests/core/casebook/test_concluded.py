"""What of an interview goes into the book."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

from small_cases import concluded

from troubleshoot.advice.verdict import verdict
from troubleshoot.advice.wording import Wording
from troubleshoot.casebook import concluded as made
from troubleshoot.casebook.concluded import record_of
from troubleshoot.casebook.record import GivenAnswer, Outcome

BEGUN = datetime(2025, 6, 2, 12, tzinfo=UTC)
LATER = BEGUN + timedelta(minutes=6)


def test_what_was_said_and_concluded_is_kept(choux):
    conclusion = concluded(choux, "paste_runny", {"pieces": 24.0}, paste_hang="runs_off", egg_in_temp=40.0)
    found = record_of(conclusion, "c1", BEGUN, LATER, "r1", {"paste_hang": BEGUN}, kitchen="boathouse", role="trainee")
    assert found.answers == (
        GivenAnswer("paste_hang", "runs_off", None, BEGUN),
        GivenAnswer("egg_in_temp", None, 40.0, LATER),
    )
    assert [s.cause for s in found.suspects] == [s.cause for s in conclusion.suspects][: len(found.suspects)]
    assert (found.fault, found.stage, found.pieces) == ("paste_runny", choux.family.faults["paste_runny"].stage, 24)
    assert (found.kitchen, found.role, found.outcome) == ("boathouse", "trainee", Outcome.NOT_KNOWN)


def test_a_verdict_that_names_no_cause_has_no_suspects(choux, shelf):
    """Where a cause outside the rule base leads, the verdict names none, and the book says the same."""
    plain = concluded(choux, "paste_runny")
    led = replace(plain, unlisted=0.9)
    rulebase = shelf.rulebase("choux")
    shown = verdict(choux, led, rulebase.cautions, rulebase.sources, Wording())
    assert (shown.cause, record_of(led, "c1", BEGUN, LATER, "r1").cause) == (None, None)
    assert record_of(plain, "c1", BEGUN, LATER, "r1").cause == plain.suspects[0].cause


def test_the_book_and_the_verdict_agree_on_when_an_unlisted_cause_leads(choux):
    assert choux.vocabulary.standing["likely"] == made.LEAST_TO_LEAD
