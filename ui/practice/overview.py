"""What finished batches say together: what was taken for what, what is known, how it goes from week to week."""

from __future__ import annotations

import csv
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path

from troubleshoot.practice.record import Finished
from ui.widgets.matrix import Taken

#: A cause is known when it was named rightly this many times in a row, up to the last.
KNOWN_AFTER = 2

COLUMNS = (
    "learner",
    "finished_utc",
    "case",
    "family",
    "level",
    "at_work",
    "named",
    "right",
    "passed",
    "marks_of_100",
    "looking_min",
    "pieces_used",
    "program_looking_min",
    "program_pieces_used",
    "rules_version",
)

#: A cell that begins so would be taken for a formula by a spreadsheet.
FORMULA = ("=", "+", "-", "@", "\t", "\r")


@dataclass(frozen=True, slots=True)
class Known:
    """A cause: how often it was at work, how often it was named then, and whether it counts as known."""

    name: str
    met: int
    named: int
    known: bool


@dataclass(frozen=True, slots=True)
class Week:
    """A week of practice: its Monday, batches finished, causes named rightly, passed, and minutes of looking.

    ``minutes`` and ``program_minutes`` are sums over the week's batches.
    """

    monday: date
    batches: int
    right: int
    passed: int
    minutes: float
    program_minutes: float


def taken(rounds: Sequence[Finished], names: Mapping[str, str]) -> Taken:
    """Return what was taken for what; a cause that the rule base no longer holds is shown by its id."""
    pairs = Counter((one.cause, one.named) for one in rounds)
    causes = [c for c in names if any(c in pair for pair in pairs)]
    causes += sorted({c for pair in pairs for c in pair} - set(causes))
    place = {cause: at for at, cause in enumerate(causes)}
    counts = {(place[work], place[named]): count for (work, named), count in pairs.items()}
    return Taken(tuple(names.get(cause, cause) for cause in causes), counts)


def known(rounds: Sequence[Finished], names: Mapping[str, str]) -> list[Known]:
    """Return every cause that was met, those not known yet first."""
    by_cause: dict[str, list[bool]] = {}
    for one in sorted(rounds, key=lambda finished: finished.at):
        by_cause.setdefault(one.cause, []).append(one.right)
    found = [
        Known(names.get(cause, cause), len(rights), sum(rights), rights[-KNOWN_AFTER:] == [True] * KNOWN_AFTER)
        for cause, rights in by_cause.items()
    ]
    return sorted(found, key=lambda one: (one.known, -(one.met - one.named), one.name))


def weeks(rounds: Sequence[Finished]) -> list[Week]:
    """Return the weeks in which batches were finished, by the local calendar, the earliest first."""
    by_week: dict[date, list[Finished]] = {}
    for one in rounds:
        day = one.at.astimezone().date()
        by_week.setdefault(day - timedelta(days=day.weekday()), []).append(one)
    return [
        Week(
            monday,
            len(those),
            sum(one.right for one in those),
            sum(one.passed for one in those),
            sum(one.minutes for one in those),
            sum(one.program_minutes for one in those),
        )
        for monday, those in sorted(by_week.items())
    ]


def write_csv(rounds: Sequence[tuple[str, Finished]], path: Path) -> None:
    """Write learners' finished batches as CSV (RFC 4180, UTF-8).  Raises OSError when it cannot be written."""
    with path.open("w", encoding="utf-8", newline="") as stream:
        out = csv.writer(stream)
        out.writerow(COLUMNS)
        for learner, one in rounds:
            name = f"'{learner}" if learner.startswith(FORMULA) else learner
            at_work = " ".join(one.causes)
            row = (name, one.at.isoformat(), one.code, one.family, one.level, at_work, one.named, one.right, one.passed)
            spent = (one.minutes, one.pieces, one.program_minutes, one.program_pieces)
            out.writerow((*row, one.total, *(f"{figure:g}" for figure in spent), one.rules_version))
