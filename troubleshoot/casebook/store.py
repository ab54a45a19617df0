"""The book itself: one class over an SQLite file or a PostgreSQL server.

Every change is one transaction that is on the disk when the method returns.  Every method that touches the book raises
BookError, with a plain message, when it cannot be done; then nothing of the book has changed.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from contextlib import contextmanager
from datetime import datetime, timedelta
from itertools import islice
from pathlib import Path
from types import TracebackType
from typing import Any, Self, TypeVar

from sqlalchemy import Connection, Engine, Row, Select, delete, func, insert, select, tuple_, update
from sqlalchemy.dialects import postgresql, sqlite
from sqlalchemy.exc import SQLAlchemyError

from troubleshoot.casebook import opening, pictures, rows, sumqueries
from troubleshoot.casebook.errors import BookError, plain
from troubleshoot.casebook.filters import EVERY, Filter
from troubleshoot.casebook.record import Outcome, Record
from troubleshoot.casebook.sums import AnswerMatrix, CauseSum, OutcomeCount, SaidWord, SpanSum, StatedCount
from troubleshoot.casebook.tables import ANSWERS, CASES, DETAILS, DONE, PARTS, PICTURES, SHAPES, WORDS
from troubleshoot.casebook.valid import checked

__all__ = ["EVERY", "Book", "Filter"]

_T = TypeVar("_T")

#: Names the server's advisory lock on new words.
_NEW_WORDS = 0x424D4357

_NEWEST_FIRST = (CASES.c.finished_us.desc(), CASES.c.id.desc())


class Book:
    """An open case book.  Use it as a context manager, or close it."""

    def __init__(self, engine: Engine, where: str) -> None:
        self._engine = engine
        #: Where the book lies, as told to people; never with a password.
        self.where = where
        self._words: dict[rows.Word, int] = {}
        self._said: dict[int, SaidWord] = {}

    @classmethod
    def open(cls, named: str | Path | None = None, wait_s: float = opening.WAIT_S) -> Self:
        """Open the book, made when it is not there and brought to the newest form when it is old.

        ``named`` is a file, or the address of a PostgreSQL database; by default what ``BATCHMEND_BOOK`` names, else
        ``book.db`` in the user's data folder.  A writer waits up to ``wait_s`` seconds for another one.
        """
        where = opening.place(named)
        return cls(opening.open_engine(where, wait_s), opening.shown(where))

    @property
    def file(self) -> Path | None:
        """The file of the book; None when it lies on a server."""
        return Path(self.where) if self._engine.dialect.name == "sqlite" else None

    def close(self) -> None:
        """Close the book."""
        self._engine.dispose()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    # -- writing -----------------------------------------------------------------------

    def add(self, record: Record) -> None:
        """Put a case into the book.  Raises KnownIdError when its id is taken."""
        self.add_all((record,))

    def add_all(self, records: Iterable[Record]) -> int:
        """Put cases into the book, all or none, and return how many."""
        with self._writing() as connection:
            return self._insert(connection, records)

    def replace(self, record: Record) -> None:
        """Put a case in the place of the one with its id."""
        new = checked(record)
        with self._writing() as connection:
            number = self._number(connection, new.id)
            before = set(connection.scalars(select(PICTURES.c.name).where(PICTURES.c.case_no == number)))
            connection.execute(update(CASES).where(CASES.c.no == number).values(**rows.case_row(new)))
            self._remove_parts(connection, [number])
            self._insert_parts(connection, [(number, new)])
            pictures.remove_unnamed(connection, before - set(new.pictures))

    def set_outcome(self, case_id: str, outcome: Outcome, true_cause: str | None = None) -> Record:
        """Say whether a verdict was right, and return the case as it is now.

        ``true_cause`` is what it was when the verdict was wrong (None: none of the causes known).
        """
        with self._writing() as connection:
            row = self._row(connection, case_id)
            if outcome is Outcome.WRONG and true_cause is not None and true_cause == row.cause:
                raise BookError(f"{case_id}: '{true_cause}' is what the verdict said. Write right, or another cause.")
            true = {Outcome.RIGHT: row.cause, Outcome.WRONG: true_cause, Outcome.NOT_KNOWN: None}[outcome]
            blamed = true_cause if outcome is Outcome.WRONG else row.cause
            connection.execute(
                update(CASES).where(CASES.c.no == row.no).values(outcome=outcome.value, true_cause=true, blamed=blamed)
            )
            (record,) = rows.records(connection, [self._row(connection, case_id)])
        return record

    def remove(self, wanted: Filter) -> int:
        """Take every case that fits out of the book, and return how many (``Filter(invented=True)``: the demo's)."""
        with self._writing() as connection:
            number = connection.execute(delete(CASES).where(*wanted.conditions())).rowcount
            pictures.remove_unnamed(connection)
        return number

    def replace_all(self, records: Iterable[Record], jpegs: Iterable[tuple[str, bytes]] = ()) -> int:
        """Put these cases in the place of all that the book holds, all or nothing, and return how many.

        ``jpegs`` are their pictures by name, as ``each_picture`` yields them.
        """
        with self._writing() as connection:
            connection.execute(delete(CASES))
            number = self._insert(connection, records)
            pictures.insert(connection, jpegs)
            pictures.remove_unnamed(connection)
        return number

    def add_pictures(self, jpegs: Iterable[tuple[str, bytes]]) -> int:
        """Put pictures into the book by name, those that are sound and that a case names, and return how many."""
        with self._writing() as connection:
            wanted = ((name, jpeg) for name, jpeg in jpegs if pictures.missing(connection, (name,)))
            return pictures.insert(connection, wanted)

    # -- reading -----------------------------------------------------------------------

    def get(self, case_id: str) -> Record:
        """Return a case.  Raises BookError when there is none with this id."""
        with self._reading() as connection:
            return rows.records(connection, [self._row(connection, case_id)])[0]

    def ids_beginning(self, start: str, most: int = 10) -> tuple[str, ...]:
        """Return the ids that begin with ``start``, in alphabetical order, at most so many."""
        asked = select(CASES.c.id).where(CASES.c.id.startswith(start, autoescape=True)).order_by(CASES.c.id).limit(most)
        with self._reading() as connection:
            return tuple(connection.scalars(asked))

    def with_ids(self, ids: Collection[str]) -> dict[str, Record]:
        """Return those of the cases that are in the book, by id."""
        wanted = list(ids)
        found: dict[str, Record] = {}
        with self._reading() as connection:
            for start in range(0, len(wanted), rows.STEP):
                asked = select(CASES).where(CASES.c.id.in_(wanted[start : start + rows.STEP]))
                found.update((r.id, r) for r in rows.records(connection, connection.execute(asked).all()))
        return found

    def records(self, wanted: Filter = EVERY) -> tuple[Record, ...]:
        """Return the cases that fit, newest first, the page that ``limit`` and ``offset`` cut out."""
        page = select(CASES.c.no).where(*wanted.conditions()).order_by(*_NEWEST_FIRST).offset(wanted.offset)
        if wanted.limit is not None:
            page = page.limit(wanted.limit)
        asked = select(CASES).where(CASES.c.no.in_(page)).order_by(*_NEWEST_FIRST)
        with self._reading() as connection:
            return rows.records(connection, connection.execute(asked).all())

    def each(self, wanted: Filter = EVERY) -> Iterator[Record]:
        """Yield every case that fits, oldest first, as the book stood at the first; never more than some in memory."""
        position = tuple_(CASES.c.finished_us, CASES.c.id)
        asked: Select[Any] = select(CASES).where(*wanted.conditions()).order_by(CASES.c.finished_us, CASES.c.id)
        last: Row[Any] | None = None
        with self._reading() as connection:
            while True:
                following = asked if last is None else asked.where(position > (last.finished_us, last.id))
                found = connection.execute(following.limit(rows.STEP)).all()
                yield from rows.records(connection, found)
                if len(found) < rows.STEP:
                    return
                last = found[-1]

    def by_numbers(self, numbers: Sequence[int]) -> tuple[Record, ...]:
        """Return the cases with these numbers (``AnswerMatrix.case_nos``), in this order; a number gone is left out."""
        with self._reading() as connection:
            asked = select(CASES).where(CASES.c.no.in_([int(number) for number in numbers]))
            found = {row.no: row for row in connection.execute(asked)}
            return rows.records(connection, [found[number] for number in numbers if number in found])

    def picture(self, name: str) -> bytes | None:
        """Return a picture as a JPEG; None when it is not in the book, or is not what its name stands for."""
        return self._read(lambda c: pictures.read(c, name))

    def pictures_missing(self, among: Collection[str] | None = None) -> tuple[str, ...]:
        """Return which pictures cases name that are not in the book, ``among`` these names, in alphabetical order."""
        return self._read(lambda c: pictures.missing(c, among))

    def each_picture(self) -> Iterator[tuple[str, bytes]]:
        """Yield the name and the JPEG of every sound picture; never more than one in memory."""
        with self._reading() as connection:
            yield from pictures.each(connection)

    def damaged_pictures(self) -> tuple[str, ...]:
        """Return the names of pictures whose bytes are not, or no longer, those that the name stands for."""
        return self._read(pictures.unsound)

    def count_pictures(self) -> int:
        """Return how many pictures the book holds."""
        return self._read(pictures.count)

    def count(self, wanted: Filter = EVERY) -> int:
        """Return how many cases fit."""
        return self._read(
            lambda c: c.execute(select(func.count()).where(*wanted.conditions()).select_from(CASES)).scalar_one()
        )

    def kitchens(self) -> tuple[str, ...]:
        """Return the kitchens in the book, in alphabetical order."""
        return self._read(lambda c: tuple(sorted(c.scalars(select(CASES.c.kitchen).distinct()))))

    def database_faults(self) -> tuple[str, ...]:
        """Return what the database finds wrong with its own files and links; nothing when it is whole."""
        found: list[str] = []
        with self._reading() as connection:
            if self.file is not None:
                found += [
                    str(row[0]) for row in connection.exec_driver_sql("PRAGMA integrity_check(20)") if row[0] != "ok"
                ]
                links = connection.exec_driver_sql("PRAGMA foreign_key_check").all()
                found += [f"a row of '{row[0]}' belongs to no case" for row in links[:20]]
            shaped = select(SHAPES.c.case_no).where(SHAPES.c.case_no == CASES.c.no).exists()
            said = select(ANSWERS.c.case_no).where(ANSWERS.c.case_no == CASES.c.no).exists()
            lost = select(func.count()).select_from(CASES).where(said, ~shaped)
            number = connection.execute(lost).scalar_one()
            if number:
                found.append(f"{number} cases cannot be found as near cases")
        return tuple(found)

    # -- sums --------------------------------------------------------------------------

    def pieces_lost_by_cause(self, wanted: Filter = EVERY) -> tuple[CauseSum, ...]:
        """Return what each cause to blame took, the most pieces lost first."""
        return self._read(lambda c: sumqueries.pieces_lost_by_cause(c, wanted))

    def outcome_counts_by_cause(self, wanted: Filter = EVERY) -> tuple[OutcomeCount, ...]:
        """Return how the verdicts on each cause turned out, the most verdicts first."""
        return self._read(lambda c: sumqueries.outcome_counts_by_cause(c, wanted))

    def confirmed_counts(self, wanted: Filter = EVERY) -> dict[str, int]:
        """Return in how many cases each cause was confirmed by an outcome.

        Ids of causes are a family's own, so give the filter a family.
        """
        return self._read(lambda c: sumqueries.confirmed_counts(c, wanted))

    def stated_and_right(self, wanted: Filter = EVERY) -> tuple[StatedCount, ...]:
        """Return how often verdicts were right by the probability they stated, in steps of one per cent."""
        return self._read(lambda c: sumqueries.stated_and_right(c, wanted))

    def by_span(self, first: datetime, span: timedelta, wanted: Filter = EVERY) -> tuple[SpanSum, ...]:
        """Return sums over spans of time of equal length, one of which begins at ``first`` (a Monday, for weeks).

        Spans without a case are not among them; those before ``first`` are.
        """
        return self._read(lambda c: sumqueries.by_span(c, wanted, first, span))

    def answer_matrix(self, family: str) -> AnswerMatrix:
        """Return what was said in all cases of a family, as arrays, to find near cases in."""
        return self._read(lambda c: sumqueries.answer_matrix(c, family, self._said))

    # -- inside ------------------------------------------------------------------------

    @contextmanager
    def _reading(self) -> Iterator[Connection]:
        options = {} if self._engine.dialect.name == "sqlite" else {"isolation_level": "REPEATABLE READ"}
        try:
            with self._engine.connect().execution_options(**options) as connection:
                yield connection
        except SQLAlchemyError as error:
            raise plain(error, self.where) from error

    def _read(self, action: Callable[[Connection], _T]) -> _T:
        with self._reading() as connection:
            return action(connection)

    @contextmanager
    def _writing(self) -> Iterator[Connection]:
        try:
            with self._engine.connect().execution_options(writes=True) as connection, connection.begin():
                yield connection
        except SQLAlchemyError as error:
            self._words.clear()
            raise plain(error, self.where) from error
        except BaseException:
            self._words.clear()
            raise

    def _row(self, connection: Connection, case_id: str) -> Row[Any]:
        row = connection.execute(select(CASES).where(CASES.c.id == case_id)).one_or_none()
        if row is None:
            raise BookError(f"{self.where}: there is no case '{case_id}'. 'batchmend book list' shows the ids.")
        return row

    def _number(self, connection: Connection, case_id: str) -> int:
        number: int = self._row(connection, case_id).no
        return number

    def _insert(self, connection: Connection, records: Iterable[Record]) -> int:
        waiting, number = iter(records), 0
        while part := [checked(record) for record in islice(waiting, rows.STEP)]:
            connection.execute(insert(CASES), [rows.case_row(record) for record in part])
            asked = select(CASES.c.id, CASES.c.no).where(CASES.c.id.in_([record.id for record in part]))
            numbers = {row.id: row.no for row in connection.execute(asked)}
            self._insert_parts(connection, [(numbers[record.id], record) for record in part])
            number += len(part)
        return number

    def _insert_parts(self, connection: Connection, numbered: Sequence[tuple[int, Record]]) -> None:
        known = self._word_numbers(connection, {word for _, record in numbered for word in rows.words(record)})
        for table, found in (
            (DETAILS, [rows.details_row(number, record) for number, record in numbered]),
            (ANSWERS, [row for number, record in numbered for row in rows.answer_rows(number, record, known)]),
            (DONE, [row for number, record in numbered for row in rows.listed(number, "remedy", record.done)]),
            (PICTURES, [row for number, record in numbered for row in rows.listed(number, "name", record.pictures)]),
            (
                SHAPES,
                [
                    {"family": record.family, "case_no": number, "words": rows.code(known[w] for w in said)}
                    for number, record in numbered
                    if (said := rows.words(record))
                ],
            ),
        ):
            if found:
                connection.execute(insert(table), found)

    @staticmethod
    def _remove_parts(connection: Connection, numbers: Sequence[int]) -> None:
        for table in PARTS:
            connection.execute(delete(table).where(table.c.case_no.in_(numbers)))

    def _word_numbers(self, connection: Connection, wanted: set[rows.Word]) -> dict[rows.Word, int]:
        """Return the numbers of words, new ones made.  Words are never taken out, so their numbers can be kept."""
        missing = sorted(wanted - self._words.keys())
        dialect = sqlite if connection.dialect.name == "sqlite" else postgresql
        for start in range(0, len(missing), rows.STEP):
            part = missing[start : start + rows.STEP]
            self._find_words(connection, part)
            new = [word for word in part if word not in self._words]
            if new:
                if connection.dialect.name == "postgresql":
                    # One writer of new words at a time, or two could wait for each other's.
                    connection.execute(select(func.pg_advisory_xact_lock(_NEW_WORDS)))
                values = [{"sign": sign, "said": said} for sign, said in new]
                connection.execute(dialect.insert(WORDS).on_conflict_do_nothing(), values)
                self._find_words(connection, new)
        return {word: self._words[word] for word in wanted}

    def _find_words(self, connection: Connection, wanted: Sequence[rows.Word]) -> None:
        asked = select(WORDS.c.sign, WORDS.c.said, WORDS.c.no).where(tuple_(WORDS.c.sign, WORDS.c.said).in_(wanted))
        self._words.update({(sign, said): number for sign, said, number in connection.execute(asked)})
