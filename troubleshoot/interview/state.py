"""Where an interview stands, as frozen data: every step forward or back makes a new one."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from types import MappingProxyType

from troubleshoot.inference.facts import Case, Given

#: The steps of the flow, in order.  Each has a page of the same name in the window.
FAMILY, FAULT, QUESTION, VERDICT = "family", "fault", "question", "verdict"
STEPS = (FAMILY, FAULT, QUESTION, VERDICT)

_EMPTY: Mapping[str, Given] = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class State:
    """An interview.

    ``asked`` are the signs put as questions, in order; ``at`` is the index of the one
    on show while ``step`` is ``question``.  ``answers`` may hold more than was asked:
    a person can volunteer a sign.  ``more`` counts questions asked for beyond the stop.
    ``stage`` is how far the batch is, where the person said so; else it is where the complaint is noticed.
    ``pictures`` are the names that pictures of the batch are stored under.  ``begun`` and ``times`` say when the
    interview began and when each answer was given or last changed, aware and in UTC; they are no part of where it
    stands, so states that differ in them alone are equal.  An answer from before times were kept has none.
    """

    step: str = FAMILY
    family: str | None = None
    fault: str | None = None
    answers: Mapping[str, Given] = field(default_factory=lambda: _EMPTY)
    asked: tuple[str, ...] = ()
    at: int = 0
    more: int = 0
    batch: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))
    service_in_min: float | None = None
    stage: str | None = None
    pictures: tuple[str, ...] = ()
    begun: datetime | None = field(default=None, compare=False)
    times: Mapping[str, datetime] = field(default_factory=lambda: MappingProxyType({}), compare=False)

    @property
    def current(self) -> str | None:
        """The sign on show, when a question is on show."""
        return self.asked[self.at] if self.step == QUESTION and self.at < len(self.asked) else None

    def case(self) -> Case:
        """Return the case that this state describes.  It must have a family."""
        if self.family is None:
            raise ValueError("no family has been chosen")
        return Case(
            family=self.family,
            fault=self.fault,
            answers=self.answers,
            batch=self.batch,
            service_in_min=self.service_in_min,
            stage=self.stage,
            asked=max(0, len([s for s in self.asked if s in self.answers]) - self.more),
        )

    def with_answer(self, sign: str, given: Given, now: datetime | None = None) -> State:
        """Return the state with one answer given or changed at ``now``; its place in the order is kept.

        The same answer given again keeps its time.
        """
        times = self.times
        if now is not None and (sign not in times or self.answers.get(sign) != given):
            times = MappingProxyType({**times, sign: now})
        return replace(self, answers=MappingProxyType({**self.answers, sign: given}), times=times)

    def without_answer(self, sign: str) -> State:
        """Return the state with one answer taken back."""
        return replace(
            self,
            answers=MappingProxyType({k: v for k, v in self.answers.items() if k != sign}),
            times=MappingProxyType({k: v for k, v in self.times.items() if k != sign}),
        )
