"""A record as rows of the tables, and rows as a record again."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from sqlalchemy import Connection, Row, select

from troubleshoot.casebook.filters import from_us, to_us
from troubleshoot.casebook.record import GivenAnswer, Outcome, Record, Suspected
from troubleshoot.casebook.tables import ANSWERS, DETAILS, DONE, PICTURES, WORDS

#: What was said about one sign: the sign and the text in ``words.said``.
Word = tuple[str, str]

#: The sign under which the complaint is a word.
COMPLAINT = ""

#: Rows of one table read or written by one statement.
STEP = 500


def word(answer: GivenAnswer) -> Word:
    """Return an answer as a word of the book."""
    if answer.answer is not None:
        return (answer.sign, answer.answer)
    return (answer.sign, "" if answer.value is None else f"={answer.value!r}")


def meaning(said: str) -> tuple[str | None, float | None]:
    """Return the answer and the number that a word stands for; neither for "can't tell"."""
    if said.startswith("="):
        return None, float(said[1:])
    return said or None, None


def words(record: Record) -> set[Word]:
    """Return every word of a case, the complaint among them."""
    found = {word(answer) for answer in record.answers}
    return found if record.fault is None else found | {(COMPLAINT, record.fault)}


def case_row(record: Record) -> dict[str, Any]:
    """Return the row of ``cases``, without its number."""
    first = record.suspects[0] if record.suspects else None
    return {
        "id": record.id,
        "family": record.family,
        "begun_us": to_us(record.begun),
        "finished_us": to_us(record.finished),
        "fault": record.fault,
        "stage": record.stage,
        "cause": None if first is None else first.cause,
        "probability": None if first is None else first.probability,
        "settled": record.settled,
        "rules_version": record.rules_version,
        "kitchen": record.kitchen,
        "role": record.role,
        "outcome": record.outcome.value,
        "true_cause": record.true_cause,
        "pieces": record.pieces,
        "pieces_saved": record.pieces_saved,
        "pieces_lost": record.pieces_lost,
        "minutes": record.minutes,
        "invented": record.invented,
        "blamed": record.blamed,
    }


def details_row(number: int, record: Record) -> dict[str, Any]:
    """Return the row of ``details``."""
    return {
        "case_no": number,
        "suspects": [[s.cause, s.probability] for s in record.suspects],
        "batch": [list(figure) for figure in record.batch],
        "note": record.note,
    }


def answer_rows(number: int, record: Record, numbers: Mapping[Word, int]) -> list[dict[str, Any]]:
    """Return the rows of ``answers``; ``numbers`` are those of the words."""
    return [
        {"case_no": number, "position": position, "word_no": numbers[word(given)], "at_us": to_us(given.at)}
        for position, given in enumerate(record.answers)
    ]


def listed(number: int, column: str, items: Iterable[str]) -> list[dict[str, Any]]:
    """Return the rows of a list of texts, in order."""
    return [{"case_no": number, "position": position, column: item} for position, item in enumerate(items)]


def code(numbers: Iterable[int]) -> str:
    """Return the text of ``shapes.words``: four characters of six bits each for every word, from ``0`` up, in order."""
    return "".join(chr(48 + (n >> shift & 63)) for n in sorted(numbers) for shift in (18, 12, 6, 0))


def records(connection: Connection, rows: Sequence[Row[Any]]) -> tuple[Record, ...]:
    """Return the records of some rows of ``cases``, in the order of the rows."""
    return tuple(
        record for start in range(0, len(rows), STEP) for record in _records(connection, rows[start : start + STEP])
    )


def _records(connection: Connection, rows: Sequence[Row[Any]]) -> list[Record]:
    numbers = [row.no for row in rows]
    answers: dict[int, list[GivenAnswer]] = defaultdict(list)
    said = (
        select(ANSWERS.c.case_no, WORDS.c.sign, WORDS.c.said, ANSWERS.c.at_us)
        .join(WORDS, WORDS.c.no == ANSWERS.c.word_no)
        .where(ANSWERS.c.case_no.in_(numbers))
        .order_by(ANSWERS.c.case_no, ANSWERS.c.position)
    )
    for number, sign, text, at_us in connection.execute(said):
        answers[number].append(GivenAnswer(sign, *meaning(text), from_us(at_us)))
    done = _lists(connection, DONE.c.case_no, DONE.c.position, DONE.c.remedy, numbers)
    pictures = _lists(connection, PICTURES.c.case_no, PICTURES.c.position, PICTURES.c.name, numbers)
    details = {row.case_no: row for row in connection.execute(select(DETAILS).where(DETAILS.c.case_no.in_(numbers)))}
    return [
        _record(row, details[row.no], tuple(answers[row.no]), tuple(done[row.no]), tuple(pictures[row.no]))
        for row in rows
    ]


def _lists(connection: Connection, case_no: Any, position: Any, item: Any, numbers: list[int]) -> dict[int, list[str]]:
    found: dict[int, list[str]] = defaultdict(list)
    for number, text in connection.execute(
        select(case_no, item).where(case_no.in_(numbers)).order_by(case_no, position)
    ):
        found[number].append(text)
    return found


def _record(
    row: Row[Any],
    details: Row[Any],
    answers: tuple[GivenAnswer, ...],
    done: tuple[str, ...],
    pictures: tuple[str, ...],
) -> Record:
    return Record(
        id=row.id,
        family=row.family,
        begun=from_us(row.begun_us),
        finished=from_us(row.finished_us),
        fault=row.fault,
        stage=row.stage,
        answers=answers,
        suspects=tuple(Suspected(cause, float(probability)) for cause, probability in details.suspects),
        settled=row.settled,
        rules_version=row.rules_version,
        batch=tuple((name, float(value)) for name, value in details.batch),
        kitchen=row.kitchen,
        role=row.role,
        done=done,
        outcome=Outcome(row.outcome),
        true_cause=row.true_cause,
        pieces=row.pieces,
        pieces_saved=row.pieces_saved,
        pieces_lost=row.pieces_lost,
        minutes=row.minutes,
        pictures=pictures,
        note=details.note,
        invented=row.invented,
    )
