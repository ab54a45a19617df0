"""What a case must be to stand in the book, whoever made it."""

from __future__ import annotations

import math
import re
from collections.abc import Collection, Iterator
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta

from troubleshoot.casebook.errors import BookError
from troubleshoot.casebook.record import Outcome, Record

#: Where in a record something is wrong: names of fields and places in lists, as in ``("answers", 2, "sign")``.
FieldPath = tuple[str | int, ...]

#: The most of each thing that a case can hold.
MOST_ANSWERS, MOST_SUSPECTS, MOST_FIGURES, MOST_DONE, MOST_PICTURES = 300, 300, 100, 50, 20
MOST_NOTE, MOST_WORD, MOST_NAME = 4000, 100, 80
MOST_PIECES, MOST_MINUTES = 1_000_000, 100_000.0

FIRST, LAST = datetime(1970, 1, 1, tzinfo=UTC), datetime(2200, 1, 1, tzinfo=UTC)

_ID = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]{0,63}")
_WORD = re.compile(r"[a-z0-9][a-z0-9_.-]*")
_PICTURE = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]{0,99}")
#: Characters that hide, reorder or steer text; line ends and tabs may stand in a note.
_HIDDEN = re.compile(r"[\x00-\x1f\x7f-\x9f\u200b-\u200f\u2028-\u202e\u2066-\u2069\ufeff\ud800-\udfff]")
_HIDDEN_IN_NOTE = re.compile(_HIDDEN.pattern.replace(r"\x00-\x1f", r"\x00-\x08\x0b-\x1f"))


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong with a record: where, what, and what to write instead."""

    path: FieldPath
    wrong: str
    advice: str


def checked(record: Record) -> Record:
    """Return the record as the book keeps it: times in UTC, no negative zero.  Raises BookError at a fault."""
    for fault in faults(record):
        where = ".".join(str(part) for part in fault.path)
        raise BookError(f"case '{record.id}': {where}: {fault.wrong}; {fault.advice}")
    return replace(
        record,
        begun=record.begun.astimezone(UTC),
        finished=record.finished.astimezone(UTC),
        answers=tuple(
            replace(a, at=a.at.astimezone(UTC), value=None if a.value is None else float(a.value) + 0.0)
            for a in record.answers
        ),
        suspects=tuple(replace(s, probability=float(s.probability) + 0.0) for s in record.suspects),
        batch=tuple((name, float(value) + 0.0) for name, value in record.batch),
        minutes=None if record.minutes is None else float(record.minutes) + 0.0,
    )


def faults(record: Record) -> Iterator[Fault]:
    """Yield everything that keeps a record out of the book."""
    if not _ID.fullmatch(record.id):
        yield Fault(("id",), "this is no id", "write up to 64 letters, digits, dots, dashes or underscores")
    for name, moment in (("begun", record.begun), ("finished", record.finished)):
        yield from _moment((name,), moment)
    yield from _word(("family",), record.family)
    for name, word in (("fault", record.fault), ("stage", record.stage), ("true_cause", record.true_cause)):
        if word is not None:
            yield from _word((name,), word)
    for name, text in (("kitchen", record.kitchen), ("role", record.role), ("rules_version", record.rules_version)):
        yield from _text((name,), text, MOST_NAME)
    yield from _text(("note",), record.note, MOST_NOTE, _HIDDEN_IN_NOTE)
    yield from _lists(record)
    yield from _counts(record)
    yield from _outcome(record)


def _lists(record: Record) -> Iterator[Fault]:
    yield from _at_most("answers", record.answers, MOST_ANSWERS)
    yield from _at_most("suspects", record.suspects, MOST_SUSPECTS)
    yield from _at_most("batch", record.batch, MOST_FIGURES)
    yield from _at_most("done", record.done, MOST_DONE)
    yield from _at_most("pictures", record.pictures, MOST_PICTURES)
    for number, given in enumerate(record.answers):
        yield from _word(("answers", number, "sign"), given.sign)
        if given.answer is not None:
            yield from _word(("answers", number, "answer"), given.answer)
            if given.value is not None:
                yield Fault(("answers", number), "an answer and a number stand together", "leave one of them out")
        yield from _number(("answers", number, "value"), given.value, -1e9, 1e9)
        yield from _moment(("answers", number, "at"), given.at)
    yield from _once("answers", [given.sign for given in record.answers])
    for number, suspect in enumerate(record.suspects):
        yield from _word(("suspects", number, "cause"), suspect.cause)
        yield from _number(("suspects", number, "probability"), suspect.probability, 0.0, 1.0)
    yield from _once("suspects", [suspect.cause for suspect in record.suspects])
    for name, value in record.batch:
        yield from _word(("batch", name), name)
        yield from _number(("batch", name), value, -1e9, 1e9)
    yield from _once("batch", [name for name, _ in record.batch])
    for number, remedy in enumerate(record.done):
        yield from _word(("done", number), remedy)
    for number, picture in enumerate(record.pictures):
        if not _PICTURE.fullmatch(picture):
            yield Fault(("pictures", number), "this is no picture's name", "write a file's name without a folder")


def _counts(record: Record) -> Iterator[Fault]:
    for name, count in (
        ("pieces", record.pieces),
        ("pieces_saved", record.pieces_saved),
        ("pieces_lost", record.pieces_lost),
    ):
        if count is not None and not 0 <= count <= MOST_PIECES:
            yield Fault((name,), f"{count} pieces cannot be", f"write a whole number from 0 to {MOST_PIECES}")
    if record.pieces is not None:
        both = (record.pieces_saved or 0) + (record.pieces_lost or 0)
        if both > record.pieces:
            yield Fault(
                ("pieces",),
                f"{both} pieces saved and lost, of {record.pieces}",
                "let saved and lost be at most all pieces",
            )
    yield from _number(("minutes",), record.minutes, 0.0, MOST_MINUTES)


def _outcome(record: Record) -> Iterator[Fault]:
    true, said = record.true_cause, record.cause
    if record.outcome is Outcome.NOT_KNOWN and true is not None:
        yield Fault(("true_cause",), "the outcome is not known", "leave the true cause out, or say right or wrong")
    elif record.outcome is Outcome.WRONG and true is not None and true == said:
        yield Fault(("true_cause",), f"'{true}' is what the verdict said", "write right, or another cause")
    elif record.outcome is Outcome.RIGHT and true is not None and true != said:
        yield Fault(("true_cause",), f"the verdict said {said or 'nothing'}", "write the verdict's cause, or wrong")


def _word(path: FieldPath, text: str) -> Iterator[Fault]:
    if not _WORD.fullmatch(text) or len(text) > MOST_WORD:
        yield Fault(
            path, "this is no id of a rule base", f"write up to {MOST_WORD} small letters, digits, dots, - or _"
        )


def _text(path: FieldPath, text: str, most: int, hidden: re.Pattern[str] = _HIDDEN) -> Iterator[Fault]:
    if len(text) > most:
        yield Fault(path, f"{len(text)} characters are too many", f"write at most {most}")
    found = hidden.search(text)
    if found is not None:
        yield Fault(path, f"the hidden character U+{ord(found[0]):04X} stands in it", "take it out")


def _moment(path: FieldPath, moment: datetime) -> Iterator[Fault]:
    if moment.utcoffset() is None:
        yield Fault(path, "the time has no time zone", "write it in UTC, as in 2026-03-01T14:30:00Z")
    elif not FIRST <= moment <= LAST - timedelta(days=1):
        yield Fault(path, "the time is out of range", f"write a year from {FIRST.year} to {LAST.year - 1}")


def _number(path: FieldPath, value: float | None, low: float, high: float) -> Iterator[Fault]:
    if value is not None and not (math.isfinite(value) and low <= value <= high):
        yield Fault(path, f"{value:g} is out of range", f"write a number from {low:g} to {high:g}")


def _at_most(name: str, items: Collection[object], most: int) -> Iterator[Fault]:
    if len(items) > most:
        yield Fault((name,), f"{len(items)} are too many", f"write at most {most}")


def _once(name: str, ids: list[str]) -> Iterator[Fault]:
    seen: set[str] = set()
    for number, key in enumerate(ids):
        if key in seen:
            yield Fault((name, number), f"'{key}' stands here twice", "keep one of them")
        seen.add(key)
