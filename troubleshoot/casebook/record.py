"""A finished case as the book keeps it: frozen data, the same for every store, figure and page."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum


class Outcome(StrEnum):
    """What somebody said later about the verdict."""

    RIGHT = "right"
    WRONG = "wrong"
    NOT_KNOWN = "not-known"


@dataclass(frozen=True, slots=True)
class GivenAnswer:
    """An answer as it was given: one of the sign's answers, a number in the sign's unit, or neither (can't tell)."""

    sign: str
    answer: str | None
    value: float | None
    at: datetime


@dataclass(frozen=True, slots=True)
class Suspected:
    """A cause in the verdict, 0..1.  The first of a record is the verdict's own."""

    cause: str
    probability: float


@dataclass(frozen=True, slots=True)
class Record:
    """One case.

    Times are aware and in UTC.  ``kitchen`` and ``role`` (the role on shift, never a name) are words the kitchen
    chose.  ``rules_version`` is the digest of the rule base that gave the verdict.  ``true_cause`` is set when the
    outcome is known: the verdict's own cause when it was right, another (or None: none of those known) when wrong.
    ``pieces`` is the size of the batch.  ``invented`` marks cases of the demo book.
    """

    id: str
    family: str
    begun: datetime
    finished: datetime
    fault: str | None
    stage: str | None
    answers: tuple[GivenAnswer, ...]
    suspects: tuple[Suspected, ...]
    settled: bool
    rules_version: str
    batch: tuple[tuple[str, float], ...] = ()
    kitchen: str = ""
    role: str = ""
    done: tuple[str, ...] = ()
    outcome: Outcome = Outcome.NOT_KNOWN
    true_cause: str | None = None
    pieces: int | None = None
    pieces_saved: int | None = None
    pieces_lost: int | None = None
    minutes: float | None = None
    pictures: tuple[str, ...] = ()
    note: str = ""
    invented: bool = False

    @property
    def cause(self) -> str | None:
        """The verdict's cause, or None when every cause was ruled out."""
        return self.suspects[0].cause if self.suspects else None

    @property
    def confirmed_cause(self) -> str | None:
        """The cause that is known to have been at work: by the outcome, never by the verdict alone."""
        if self.outcome is Outcome.RIGHT:
            return self.cause
        return self.true_cause if self.outcome is Outcome.WRONG else None

    @property
    def blamed(self) -> str | None:
        """The cause to blame as far as is known: the true one when the verdict was wrong, else the verdict's."""
        return self.true_cause if self.outcome is Outcome.WRONG else self.cause
