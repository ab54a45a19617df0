"""The book as JSON Lines, in and out, and as a table for a spreadsheet."""

from __future__ import annotations

import csv
import json
import os
import re
import uuid
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import IO, TextIO

from troubleshoot.casebook import opening
from troubleshoot.casebook.errors import BookError
from troubleshoot.casebook.lines import MOST_BYTES, FaultyLineError, from_line, to_line
from troubleshoot.casebook.record import GivenAnswer, Record
from troubleshoot.casebook.store import Book
from troubleshoot.casebook.valid import FieldPath
from troubleshoot.errors import ProblemsError
from troubleshoot.problems import Place, Problem
from troubleshoot.spreadsheet import cell

#: Cases in one import, and problems told of it at once.
MOST_CASES = 1_000_000
MOST_PROBLEMS = 20


class ImportRefusedError(BookError, ProblemsError):
    """A file of cases cannot be taken in; every problem found is listed, and the book is as it was."""


def write_lines(records: Iterable[Record], stream: TextIO) -> int:
    """Write cases as JSON Lines and return how many."""
    number = 0
    for record in records:
        stream.write(to_line(record) + "\n")
        number += 1
    return number


@contextmanager
def new_file(path: Path) -> Iterator[TextIO]:
    """Write a new file that only appears when it is finished; readable by its owner only.

    Raises FileExistsError when there is one, OSError when it cannot be written.
    """
    if path.exists():
        raise FileExistsError(path)
    part = path.with_name(f"{path.name}.{uuid.uuid4().hex}.part")
    try:
        with os.fdopen(
            os.open(part, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600), "w", encoding="utf-8", newline=""
        ) as stream:
            yield stream
            stream.flush()
            os.fsync(stream.fileno())
        if not opening.put_in_place(part, path):
            raise FileExistsError(path)
    finally:
        part.unlink(missing_ok=True)


def take_in(book: Book, stream: IO[bytes], name: str) -> tuple[int, int]:
    """Put the cases of a JSON Lines file into the book, all or none.

    Returns how many were put in, and how many were in the book already just as they are in the file.  Raises
    ImportRefusedError with line and column of everything wrong.
    """
    found = read_lines(stream, name)
    known = book.with_ids([record.id for _, record in found])
    problems: list[Problem] = []
    new: list[Record] = []
    for line, record in found:
        if record.id not in known:
            new.append(record)
        elif known[record.id] != record:
            problems.append(
                Problem(
                    Place(name, line), "id", f"another case '{record.id}' is in the book", "give one of them another id"
                )
            )
            if len(problems) == MOST_PROBLEMS:
                break
    if problems:
        raise ImportRefusedError(problems)
    book.add_all(new)
    return len(new), len(found) - len(new)


def read_lines(stream: IO[bytes], name: str) -> list[tuple[int, Record]]:
    """Return the cases of a JSON Lines file, each with its line.  Raises ImportRefusedError with everything wrong."""
    problems: list[Problem] = []
    found: list[tuple[int, Record]] = []
    lines: dict[str, int] = {}
    for number, raw in _lines(stream):
        read = _read(raw, Place(name, number))
        if isinstance(read, Record):
            first = lines.setdefault(read.id, number)
            if first != number:
                twice = f"the case '{read.id}' stands in line {first} already"
                read = [Problem(Place(name, number), "id", twice, "keep one of them")]
        if isinstance(read, Record):
            found.append((number, read))
        else:
            problems += read
        if len(found) > MOST_CASES:
            problems.append(Problem(Place(name, number), "file", "too many cases", f"split it at {MOST_CASES} lines"))
        if len(problems) >= MOST_PROBLEMS:
            break
    if problems:
        raise ImportRefusedError(problems[:MOST_PROBLEMS])
    return found


def _lines(stream: IO[bytes]) -> Iterator[tuple[int, bytes]]:
    """Yield the lines with their numbers, without their ends; a line too long is cut just beyond what is allowed."""
    number = 0
    while raw := stream.readline(MOST_BYTES + 2):
        number += 1
        if number == 1:
            raw = raw.removeprefix(b"\xef\xbb\xbf")
        yield number, raw.removesuffix(b"\n").removesuffix(b"\r")
        if len(raw) > MOST_BYTES:
            return


def _read(raw: bytes, place: Place) -> Record | list[Problem]:
    def problem(column: int, subject: str, wrong: str, advice: str) -> Problem:
        return Problem(Place(place.file, place.line, column), subject, wrong, advice)

    if len(raw) > MOST_BYTES:
        return [problem(1, "line", f"it is longer than {MOST_BYTES} bytes", "write one case in each line")]
    if not raw.strip():
        return [problem(1, "line", "it is empty", "write one case in each line")]
    try:
        text = raw.decode("utf-8")
    except UnicodeDecodeError as error:
        return [problem(error.start + 1, "line", "this is not UTF-8 text", "save the file as UTF-8")]
    try:
        return from_line(text)
    except json.JSONDecodeError as error:
        wrong = error.msg[:1].lower() + error.msg[1:]
        return [problem(error.colno, "line", f"this is not JSON ({wrong})", "write a case as the export does")]
    except FaultyLineError as error:
        return [
            problem(_column(text, fault.path), ".".join(map(str, fault.path)) or "case", fault.wrong, fault.advice)
            for fault in error.faults
        ]


def _column(text: str, path: FieldPath) -> int:
    """Return where in a line a field stands, as near as its names lead, counted from 1."""
    at = 0
    for part in path:
        if isinstance(part, str):
            found = text.find(json.dumps(part, ensure_ascii=False) + ":", at)
            at = found if found >= 0 else at
        else:
            at = _item(text, at, part)
    return at + 1


def _item(text: str, at: int, number: int) -> int:
    """Return where item ``number`` of the list that begins after ``at`` stands."""
    decoder = json.JSONDecoder()
    space = re.compile(r"[\s,]*")
    position = text.find("[", at) + 1
    for _ in range(number):
        start = space.match(text, position)
        assert start is not None
        _, position = decoder.raw_decode(text, start.end())
    start = space.match(text, position)
    assert start is not None
    return start.end()


# -- a table ---------------------------------------------------------------------------

COLUMNS = (
    *("id", "finished_utc", "family", "fault", "stage", "cause", "probability", "outcome", "true_cause"),
    *("pieces", "pieces_saved", "pieces_lost", "minutes", "kitchen", "role", "done", "answers", "batch"),
    *("rules_version", "note", "invented"),
)


def write_table(records: Iterable[Record], stream: TextIO) -> int:
    """Write cases as CSV (RFC 4180) and return how many.  No cell can become a formula in a spreadsheet."""
    writer = csv.writer(stream, quoting=csv.QUOTE_ALL, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    number = 0
    for record in records:
        writer.writerow([_cell(value) for value in _row(record)])
        number += 1
    return number


def _row(record: Record) -> list[str | int | float | None]:
    return [
        record.id,
        record.finished.strftime("%Y-%m-%d %H:%M:%S"),
        record.family,
        record.fault,
        record.stage,
        record.cause,
        round(record.suspects[0].probability, 4) if record.suspects else None,
        record.outcome.value,
        record.true_cause,
        record.pieces,
        record.pieces_saved,
        record.pieces_lost,
        record.minutes,
        record.kitchen,
        record.role,
        "; ".join(record.done),
        "; ".join(f"{answer.sign}: {_said(answer)}" for answer in record.answers),
        "; ".join(f"{name}: {value:g}" for name, value in record.batch),
        record.rules_version,
        record.note,
        "yes" if record.invented else "no",
    ]


def _said(answer: GivenAnswer) -> str:
    if answer.answer is not None:
        return answer.answer
    return "can't tell" if answer.value is None else f"{answer.value:g}"


def _cell(value: str | int | float | None) -> str:
    if value is None:
        return ""
    if isinstance(value, str):
        return cell(value)
    return f"{value:g}" if isinstance(value, float) else str(value)
