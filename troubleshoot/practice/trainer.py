"""What finished rounds say together: what was taken for what, what is known, how it goes from week to week."""

from __future__ import annotations

import csv
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TextIO

from troubleshoot.practice.record import Finished
from troubleshoot.spreadsheet import cell

#: A cause is known when it was named rightly this many times in a row, up to the last.
KNOWN_AFTER = 2

COLUMNS = (
    *("learner", "finished_utc", "case", "family", "level", "at_work", "named", "right", "passed", "marks_of_100"),
    *("looking_min", "pieces_used", "program_looking_min", "program_pieces_used", "rules_version"),
)


@dataclass(frozen=True, slots=True)
class Confusions:
    """A confusion matrix: ``causes`` and their ``names`` in order, ``counts`` by (at work, named), left out where 0."""

    causes: tuple[str, ...]
    names: tuple[str, ...]
    counts: Mapping[tuple[int, int], int]

    def wrong(self) -> tuple[tuple[str, str, int], ...]:
        """Return (at work, named, times) of what was confused, in names, the most often first."""
        found = [(self.names[a], self.names[b], n) for (a, b), n in self.counts.items() if a != b]
        return tuple(sorted(found, key=lambda one: (-one[2], one[0], one[1])))


@dataclass(frozen=True, slots=True)
class KnownCause:
    """A cause: how often it was at work, how often it was named then, and whether it counts as known."""

    cause: str
    name: str
    met: int
    named: int
    known: bool


@dataclass(frozen=True, slots=True)
class Week:
    """A week of practice from its Monday on: rounds finished, right and passed, and the mean of the marks."""

    monday: date
    rounds: int
    right: int
    passed: int
    mean_marks: float
    minutes: float
    program_minutes: float


def confusions(rounds: Iterable[Finished], names: Mapping[str, str]) -> Confusions:
    """Return what was taken for what.

    ``names`` gives the causes' names in the order to show; one that the rule base no longer holds is shown by its id.
    """
    pairs = Counter((one.cause, one.named) for one in rounds)
    there = {cause for pair in pairs for cause in pair}
    causes = (*(cause for cause in names if cause in there), *sorted(there - set(names)))
    place = {cause: number for number, cause in enumerate(causes)}
    counts = {(place[work], place[named]): count for (work, named), count in pairs.items()}
    return Confusions(causes, tuple(names.get(cause, cause) for cause in causes), counts)


def known_causes(rounds: Iterable[Finished], names: Mapping[str, str]) -> tuple[KnownCause, ...]:
    """Return every cause that was met, those not known yet first, the most often missed before others."""
    met: dict[str, list[bool]] = {}
    for one in sorted(rounds, key=lambda finished: (finished.at, finished.id)):
        met.setdefault(one.cause, []).append(one.right)
    found = [
        KnownCause(
            cause, names.get(cause, cause), len(rights), sum(rights), rights[-KNOWN_AFTER:] == [True] * KNOWN_AFTER
        )
        for cause, rights in met.items()
    ]
    return tuple(sorted(found, key=lambda one: (one.known, one.named - one.met, one.name)))


def weeks(rounds: Iterable[Finished]) -> tuple[Week, ...]:
    """Return the weeks in which rounds were finished, by the local calendar, the earliest first."""
    by_week: dict[date, list[Finished]] = {}
    for one in rounds:
        day = one.at.astimezone().date()
        by_week.setdefault(day - timedelta(days=day.weekday()), []).append(one)
    return tuple(
        Week(
            monday,
            len(those),
            sum(one.right for one in those),
            sum(one.passed for one in those),
            sum(one.total for one in those) / len(those),
            sum(one.minutes for one in those),
            sum(one.program_minutes for one in those),
        )
        for monday, those in sorted(by_week.items())
    )


def write_table(rounds: Sequence[tuple[str, Finished]], stream: TextIO) -> int:
    """Write (learner, round) as CSV (RFC 4180) and return how many.  No cell can become a formula in a spreadsheet."""
    writer = csv.writer(stream, quoting=csv.QUOTE_ALL, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    for learner, one in rounds:
        spent = (one.minutes, one.pieces, one.program_minutes, one.program_pieces)
        row = (
            *(learner, one.at.strftime("%Y-%m-%d %H:%M:%S"), one.code, one.family, str(one.level)),
            *(" ".join(one.causes), one.named, _yes(one.right), _yes(one.passed), str(one.total)),
            *(*(f"{figure:g}" for figure in spent), one.rules_version),
        )
        writer.writerow([cell(text) for text in row])
    return len(rounds)


def _yes(value: bool) -> str:
    return "yes" if value else "no"
