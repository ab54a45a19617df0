"""What the place of the book shows, read off the event loop."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

from troubleshoot.advice.wording import Wording
from troubleshoot.casebook import exchange
from troubleshoot.casebook.entry import picture
from troubleshoot.casebook.figures import Figures, figures
from troubleshoot.casebook.filters import Filter
from troubleshoot.casebook.habits import Learnt, learnt
from troubleshoot.casebook.names import Names
from troubleshoot.casebook.record import Record
from troubleshoot.casebook.shown import CaseLine, CaseView, case_line, case_view
from troubleshoot.casebook.store import Book
from troubleshoot.interview.shelf import Shelf
from ui.book_desk import BookDesk, translate

#: Cases on one page of the list.
PAGE = 24


@dataclass(frozen=True, slots=True)
class Listed:
    """A page of cases: how many the book holds, how many fit, and the lines from the ``offset``-th on."""

    held: int
    invented: int
    fit: int
    offset: int
    lines: tuple[CaseLine, ...]


@dataclass(frozen=True, slots=True)
class Added:
    """The figures of the cases that fit, and what their causes are called."""

    held: int
    invented: int
    figures: Figures
    causes: dict[tuple[str, str | None], str]

    def cause(self, family: str, cause: str | None) -> str:
        """Return what a cause is called."""
        return self.causes[(family, cause)]


@dataclass(frozen=True, slots=True)
class Taught:
    """What the book teaches of each family that has a confirmed case."""

    held: int
    invented: int
    families: tuple[tuple[str, Learnt], ...]
    causes: dict[tuple[str, str | None], str]


def listed(desk: BookDesk, shelf: Shelf, wanted: Filter, offset: int) -> Listed:
    """Read a page of cases."""
    names = Names(shelf)
    with desk.open_shown() as book:
        records = book.records(replace(wanted, limit=PAGE, offset=offset))
        lines = tuple(case_line(record, names, translate) for record in records)
        return Listed(*_held(book), book.count(wanted), offset, lines)


def added(desk: BookDesk, shelf: Shelf, wanted: Filter) -> Added:
    """Read the figures."""
    names = Names(shelf)
    with desk.open_shown() as book:
        found = figures(book, wanted)
        causes = {(row.family, row.cause): names.cause(row.family, row.cause) for row in found.by_pieces}
        return Added(*_held(book), found, causes)


def taught(desk: BookDesk, shelf: Shelf, kitchen: str | None) -> Taught:
    """Read what the book teaches the ranking."""
    found = []
    names = Names(shelf)
    with desk.open_shown() as book:
        for header in shelf.headers:
            if book.confirmed_counts(Filter(family=header.id)):
                reasoner = shelf.reasoner(header.id)
                found.append((header.id, learnt(book, reasoner, None if desk.demo else kitchen, desk.demo)))
        causes: dict[tuple[str, str | None], str] = {
            (family, habit.cause): names.cause(family, habit.cause)
            for family, one in found
            for habit in one.habits.by_cause.values()
        }
        return Taught(*_held(book), tuple(found), causes)


def _held(book: Book) -> tuple[int, int]:
    return book.count(), book.count(Filter(invented=True))


def opened(desk: BookDesk, shelf: Shelf, wording: Wording, case_id: str) -> CaseView:
    """Read one case."""
    with desk.open_shown() as book:
        return _in_full(book, book.get(case_id), shelf, wording)


def changed(
    desk: BookDesk, shelf: Shelf, wording: Wording, case_id: str, change: Callable[[Record], Record]
) -> CaseView:
    """Change one case and return it as it is now."""
    with desk.open_shown() as book:
        record = change(book.get(case_id))
        book.replace(record)
        return _in_full(book, record, shelf, wording)


def exported(desk: BookDesk, wanted: Filter, path: Path) -> tuple[int, int]:
    """Write the cases that fit to a new file; return how many, and how many pictures the book holds beside them.

    Raises FileExistsError, OSError or BookError.
    """
    write = exchange.write_table if path.suffix.casefold() == ".csv" else exchange.write_lines
    with desk.open_shown() as book, exchange.new_file(path) as stream:
        return write(book.each(wanted), stream), book.count_pictures()


def _in_full(book: Book, record: Record, shelf: Shelf, wording: Wording) -> CaseView:
    pictures = tuple(picture(book, name) for name in record.pictures)
    return case_view(record, Names(shelf), wording, translate, pictures)
