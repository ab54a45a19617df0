"""What looks cost and what remedies bring, priced as the interview prices questions and the verdict rescues."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Protocol

from troubleshoot.advice.remedies import advise
from troubleshoot.advice.wording import Wording
from troubleshoot.inference.facts import Case, Given
from troubleshoot.inference.reason import Reasoner
from troubleshoot.knowledge.model import Sign

#: A saving below half a piece is none.
LEAST_SAVED = 0.5


class Batch(Protocol):
    """A batch with its hidden causes and what each sign shows."""

    @property
    def causes(self) -> tuple[str, ...]:
        """The causes at work."""

    @property
    def shows(self) -> Mapping[str, str]:
        """The answer that each sign shows."""


@dataclass(frozen=True, slots=True)
class Effect:
    """What a remedy does to a batch: pieces fit for the plan in time, minutes of work, minutes until the plate.

    ``helps``: it meets what is wrong.  ``barred``: it must not be done to this batch, and ``why``.
    """

    remedy: str
    minutes: float
    ready_in_min: float
    saved: float
    in_time: bool
    helps: bool
    barred: bool
    why: str


def handed_over(family: str, complaint: str, pieces: float, service_in_min: float) -> Case:
    """Return the case as a batch is handed over."""
    return Case(family, complaint, batch=MappingProxyType({"pieces": pieces}), service_in_min=service_in_min)


def look_cost(reasoner: Reasoner, sign: Sign, stage: str) -> tuple[float, float]:
    """Return (minutes, pieces) of one look at a stage; what is only asked of somebody's memory costs the asking."""
    asking = reasoner.vocabulary.asking_min
    if reasoner.is_memory(sign, stage):
        return asking, 0.0
    return asking + sign.minutes, sign.pieces


def spent(reasoner: Reasoner, stage: str, looks: Iterable[str]) -> tuple[float, float]:
    """Return (minutes, pieces) of several looks."""
    costs = [look_cost(reasoner, reasoner.family.signs[sign], stage) for sign in looks]
    return sum(minutes for minutes, _ in costs), sum(pieces for _, pieces in costs)


def known(case: Case, shows: Mapping[str, str]) -> Case:
    """Return ``case`` with the answers that these signs show."""
    answers = {sign: Given(answer=answer) for sign, answer in shows.items()}
    return replace(case, answers=MappingProxyType({**case.answers, **answers}), asked=len(shows))


def left(case: Case, minutes: float, pieces: float) -> Case:
    """Return ``case`` with the minutes to service and the pieces that are left after so much was spent."""
    service = None if case.service_in_min is None else max(0.0, case.service_in_min - minutes)
    batch = {**case.batch, "pieces": max(0.0, case.batch["pieces"] - pieces)}
    return replace(case, batch=MappingProxyType(batch), service_in_min=service)


def best_remedy(reasoner: Reasoner, start: Case, seen: Mapping[str, str], minutes: float, pieces: float) -> str | None:
    """Return the rescue that the verdict puts first on what was seen, or None when none saves anything in time."""
    conclusion = reasoner.reason(left(known(start, seen), minutes, pieces))
    for one in advise(reasoner.family, conclusion, Wording(), reasoner.vocabulary):
        if one.kind != "next-time" and one.in_time is not False and one.pieces_saved >= LEAST_SAVED:
            return one.remedy
    return None


def effect(reasoner: Reasoner, start: Case, batch: Batch, remedy_id: str, minutes: float, pieces: float) -> Effect:
    """Return what a remedy does to a batch of which everything is known, after so much was spent on it."""
    remedy = reasoner.family.remedies[remedy_id]
    conclusion = reasoner.reason(left(known(start, batch.shows), minutes, pieces))
    advice = {one.remedy: one for one in advise(reasoner.family, conclusion, Wording(), reasoner.vocabulary)}
    one = advice.get(remedy_id)
    if one is None:
        rule = conclusion.barred.get(remedy_id)
        why = next((firing.because for firing in conclusion.trace if firing.rule == rule), "") if rule else ""
        return Effect(remedy_id, remedy.minutes, remedy.minutes, 0.0, False, False, rule is not None, why)
    saved = one.pieces_saved if one.in_time is not False else 0.0
    in_time = one.in_time is not False
    helps = remedy.kind == "remake" or bool(set(one.causes) & set(batch.causes)) or saved >= LEAST_SAVED
    return Effect(remedy_id, remedy.minutes, one.ready_in_min, saved, in_time, helps, False, remedy.because)
