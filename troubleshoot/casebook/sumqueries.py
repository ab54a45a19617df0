"""The sums themselves, each one statement that reads the narrow table of cases or less."""

from __future__ import annotations

from collections import Counter, defaultdict
from datetime import datetime, timedelta
from typing import Any

import numpy as np
from sqlalchemy import ColumnElement, Connection, Integer, String, case, cast, func, select

from troubleshoot.casebook.filters import Filter, from_us, to_us
from troubleshoot.casebook.record import Outcome
from troubleshoot.casebook.rows import meaning
from troubleshoot.casebook.sums import AnswerMatrix, CauseSum, OutcomeCount, SaidWord, SpanSum, StatedCount
from troubleshoot.casebook.tables import CASES, SHAPES, WORDS

_C = CASES.c
_SEPARATOR = ","


def _how_many(outcome: Outcome) -> ColumnElement[int]:
    return func.coalesce(func.sum(case((_C.outcome == outcome.value, 1), else_=0)), 0)


def _total(column: ColumnElement[Any]) -> ColumnElement[Any]:
    return func.coalesce(func.sum(column), 0)


def pieces_lost_by_cause(connection: Connection, wanted: Filter) -> tuple[CauseSum, ...]:
    """Return what each cause took, by the cause to blame, the most pieces first."""
    asked = (
        select(
            _C.family,
            _C.blamed,
            func.count(),
            func.count(_C.pieces_lost),
            _total(_C.pieces_lost),
            _total(_C.pieces_saved),
            _total(_C.minutes),
        )
        .where(*wanted.conditions())
        .group_by(_C.blamed, _C.family)
    )
    sums = [
        CauseSum(family, cause, int(cases), int(counted), int(lost), int(saved), float(minutes))
        for family, cause, cases, counted, lost, saved, minutes in connection.execute(asked)
    ]
    return tuple(sorted(sums, key=lambda s: (-s.pieces_lost, -s.cases, s.cause is None, s.cause or "", s.family)))


def outcome_counts_by_cause(connection: Connection, wanted: Filter) -> tuple[OutcomeCount, ...]:
    """Return how the verdicts turned out, by the verdict's own cause, the most verdicts first."""
    # In the order of the index, so that nothing need be sorted.
    by = (_C.blamed, _C.family, _C.cause, _C.outcome)
    asked = select(*by, func.count()).where(*wanted.conditions()).group_by(*by)
    found: dict[tuple[str, str | None], Counter[str]] = defaultdict(Counter)
    for _, family, cause, outcome, count in connection.execute(asked):
        found[family, cause][outcome] += int(count)
    counts = [
        OutcomeCount(*key, counted[Outcome.RIGHT], counted[Outcome.WRONG], counted[Outcome.NOT_KNOWN])
        for key, counted in found.items()
    ]
    return tuple(
        sorted(counts, key=lambda c: (-(c.right + c.wrong + c.not_known), c.cause is None, c.cause or "", c.family))
    )


def confirmed_counts(connection: Connection, wanted: Filter) -> dict[str, int]:
    """Return in how many cases each cause was confirmed by an outcome, by cause; ids of causes are a family's own."""
    known = _C.outcome != Outcome.NOT_KNOWN.value
    asked = (
        select(_C.blamed, func.count())
        .where(*wanted.conditions(), known, _C.blamed.is_not(None))
        .group_by(_C.blamed)
        .order_by(_C.blamed)
    )
    return {cause: int(count) for cause, count in connection.execute(asked) if cause is not None}


def stated_and_right(connection: Connection, wanted: Filter) -> tuple[StatedCount, ...]:
    """Return how often verdicts were right by what they stated, in steps of one per cent, lowest first."""
    percent = cast(func.floor(_C.probability * 100 + 1e-9), Integer)
    known = _C.outcome != Outcome.NOT_KNOWN.value
    asked = (
        select(percent, func.avg(_C.probability), _how_many(Outcome.RIGHT), func.count())
        .where(*wanted.conditions(), known, _C.probability.is_not(None))
        .group_by(percent)
        .order_by(percent)
    )
    return tuple(StatedCount(int(p), float(mean), int(r), int(n)) for p, mean, r, n in connection.execute(asked))


def by_span(connection: Connection, wanted: Filter, first: datetime, span: timedelta) -> tuple[SpanSum, ...]:
    """Return sums over spans of equal length, earliest first; spans without a case are not among them."""
    length = span // timedelta(microseconds=1)
    start = to_us(first)
    # Division of whole numbers cuts towards zero in both databases; a start before every case keeps it from mattering.
    start -= (start // length + 1) * length
    number = (_C.finished_us - start) // length
    asked = (
        select(
            number,
            _C.outcome,
            func.count(),
            _total(_C.pieces),
            _total(_C.pieces_lost),
            _total(_C.pieces_saved),
            _total(_C.minutes),
        )
        .where(*wanted.conditions())
        .group_by(number, _C.outcome)
        .order_by(number)
    )
    found: dict[int, list[tuple[Any, ...]]] = defaultdict(list)
    for row in connection.execute(asked):
        found[int(row[0])].append(tuple(row))
    return tuple(_span(from_us(start + n * length), rows) for n, rows in found.items())


def _span(begins: datetime, rows: list[tuple[Any, ...]]) -> SpanSum:
    """Return the sum of a span from one row for each outcome: number, outcome, cases, pieces, lost, saved, minutes."""
    cases = {row[1]: int(row[2]) for row in rows}
    pieces, lost, saved = (sum(int(row[column]) for row in rows) for column in (3, 4, 5))
    minutes = sum(float(row[6]) for row in rows)
    right, wrong = cases.get(Outcome.RIGHT, 0), cases.get(Outcome.WRONG, 0)
    return SpanSum(begins, sum(cases.values()), pieces, lost, saved, minutes, right, wrong)


def answer_matrix(connection: Connection, family: str, said: dict[int, SaidWord]) -> AnswerMatrix:
    """Return what was said in all cases of a family.  ``said`` holds words read before, and is added to."""
    # One row of two long texts is read many times faster than a hundred thousand rows.
    numbers = func.aggregate_strings(cast(SHAPES.c.case_no, String), _SEPARATOR)
    shapes = func.aggregate_strings(SHAPES.c.words, _SEPARATOR)
    found = connection.execute(select(numbers, shapes).where(SHAPES.c.family == family)).one()
    if found[0] is None:
        empty = np.zeros(0, dtype=np.int64)
        return AnswerMatrix(empty, np.zeros(1, dtype=np.int64), np.zeros(0, dtype=np.int32), ())
    case_nos = np.fromstring(found[0], dtype=np.int64, sep=_SEPARATOR)
    starts, codes = _decoded(found[1])
    if (np.diff(case_nos) < 0).any():
        case_nos, starts, codes = _in_order(case_nos, starts, codes)
    in_use = np.zeros(int(codes.max()) + 1, dtype=bool)
    in_use[codes] = True
    used, word_nos = np.flatnonzero(in_use), (np.cumsum(in_use) - 1)[codes]
    unread = [number for number in used.tolist() if number not in said]
    if unread:
        asked = select(WORDS.c.no, WORDS.c.sign, WORDS.c.said).where(WORDS.c.no.between(unread[0], unread[-1]))
        said.update({no: SaidWord(sign, *meaning(text)) for no, sign, text in connection.execute(asked)})
    words = tuple([said[number] for number in used.tolist()])
    return AnswerMatrix(case_nos, starts, word_nos.astype(np.int32), words)


def _decoded(text: str) -> tuple[Any, Any]:
    """Return where each row begins and the numbers of the words, from the texts that ``rows.code`` made."""
    letters = np.frombuffer(text.encode("ascii"), dtype=np.uint8)
    ends = np.append(np.flatnonzero(letters == ord(_SEPARATOR)), len(letters))
    starts = np.zeros(len(ends) + 1, dtype=np.int64)
    starts[1:] = (ends - np.arange(len(ends))) // 4
    quads = (letters[letters != ord(_SEPARATOR)] - 48).view(">u4").astype(np.int32)
    return starts, (quads >> 24) << 18 | (quads >> 16 & 63) << 12 | (quads >> 8 & 63) << 6 | quads & 63


def _in_order(case_nos: Any, starts: Any, codes: Any) -> tuple[Any, Any, Any]:
    order = np.argsort(case_nos)
    lengths = np.diff(starts)
    picked = np.concatenate([codes[starts[row] : starts[row + 1]] for row in order])
    return case_nos[order], np.concatenate(([0], np.cumsum(lengths[order]))), picked
