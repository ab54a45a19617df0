"""Which cases of the book are meant."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from sqlalchemy import ColumnElement

from troubleshoot.casebook.record import Outcome
from troubleshoot.casebook.tables import CASES

_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
_US = timedelta(microseconds=1)


@dataclass(frozen=True, slots=True)
class Filter:
    """Cases that fit everything that is set; None fits all.

    ``cause`` is the cause to blame as far as is known: by the outcome where it is known, else by the verdict;
    ``verdict`` is the verdict's own cause.  A case counts to the moment it was finished: from ``since`` on, before
    ``until`` (aware times).  ``limit`` and ``offset`` cut a page out of a list; counts and sums do not heed them.
    """

    family: str | None = None
    cause: str | None = None
    verdict: str | None = None
    since: datetime | None = None
    until: datetime | None = None
    kitchen: str | None = None
    outcome: Outcome | None = None
    invented: bool | None = None
    limit: int | None = None
    offset: int = 0

    def conditions(self) -> list[ColumnElement[bool]]:
        """Return the conditions on the table of cases."""
        c = CASES.c
        found: list[ColumnElement[bool]] = []
        for column, wanted in (
            (c.family, self.family),
            (c.blamed, self.cause),
            (c.cause, self.verdict),
            (c.kitchen, self.kitchen),
            (c.outcome, self.outcome.value if self.outcome else None),
            (c.invented, self.invented),
        ):
            if wanted is not None:
                found.append(column == wanted)
        if self.since is not None:
            found.append(c.finished_us >= to_us(self.since))
        if self.until is not None:
            found.append(c.finished_us < to_us(self.until))
        return found


EVERY = Filter()


def to_us(moment: datetime) -> int:
    """Return an aware time as whole microseconds since 1970 in UTC."""
    return (moment - _EPOCH) // _US


def from_us(us: int) -> datetime:
    """Return the time in UTC that ``to_us`` wrote."""
    return _EPOCH + timedelta(microseconds=us)
