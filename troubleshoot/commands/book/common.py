"""What the subcommands of ``batchmend book`` share: which book, which cases, and reading what is typed."""

from __future__ import annotations

import argparse
from datetime import UTC, date, datetime, timedelta
from typing import TYPE_CHECKING, Any

from troubleshoot.errors import UserError

if TYPE_CHECKING:
    from troubleshoot.casebook.store import Book, Filter

#: What can be written for the outcome of a case.
OUTCOMES = ("right", "wrong", "not-known")


def add_book(command: Any) -> None:
    """Add the option that names another book."""
    command.add_argument(
        "--book", metavar="FILE|URL", help="another book than the usual one: a file, or postgresql://user@host/database"
    )


def add_filters(command: Any) -> None:
    """Add the options that choose cases."""
    command.add_argument("--family", metavar="FAMILY", help="cases of this family")
    command.add_argument("--cause", metavar="CAUSE", help="cases of this cause, as far as is known")
    command.add_argument("--kitchen", metavar="KITCHEN", help="cases of this kitchen")
    command.add_argument("--outcome", choices=OUTCOMES, help="cases whose verdict turned out so")
    command.add_argument(
        "--since", metavar="DATE", help="cases finished on this day or later, as in 2026-03-01, or 30d"
    )
    command.add_argument("--until", metavar="DATE", help="cases finished on this day or before")


def wanted(arguments: argparse.Namespace, now: datetime | None = None) -> Filter:
    """Return the filter that was typed.  Raises UserError for a day that is none."""
    from troubleshoot.casebook.record import Outcome
    from troubleshoot.casebook.store import Filter

    now = now or datetime.now(UTC)
    until = None if arguments.until is None else _moment("--until", arguments.until, now)
    if until is not None and len(arguments.until) == len("2026-03-01"):
        until += timedelta(days=1)
    return Filter(
        family=arguments.family,
        cause=arguments.cause,
        kitchen=arguments.kitchen,
        outcome=Outcome(arguments.outcome) if arguments.outcome else None,
        since=None if arguments.since is None else _moment("--since", arguments.since, now),
        until=until,
    )


def open_book(arguments: argparse.Namespace) -> Book:
    """Open the book that was named, with the cases that waited for it put in.  Raises BookError."""
    from troubleshoot.casebook.entry import take_in_waiting
    from troubleshoot.casebook.store import Book

    book = Book.open(arguments.book)
    if arguments.book is None:
        try:
            take_in_waiting(book)
        except UserError:
            # They go on waiting; reading the book is not hindered by it.
            return book
    return book


def whole_id(book: Book, typed: str) -> str:
    """Return the id that begins as typed, when only one does.  Raises BookError."""
    from troubleshoot.casebook.errors import BookError

    found = book.ids_beginning(typed) if typed else ()
    if typed in found or len(found) == 1:
        return typed if typed in found else found[0]
    if not found:
        raise BookError(f"{book.where}: there is no case '{typed}'; 'batchmend book list' shows the ids")
    raise BookError(f"{book.where}: several cases begin with '{typed}'; write one of: {', '.join(found)}")


def local(moment: datetime) -> str:
    """Return a time as this machine's clock shows it."""
    return moment.astimezone().strftime("%Y-%m-%d %H:%M")


def _moment(option: str, text: str, now: datetime) -> datetime:
    """Return the moment that a day, a time or a span such as ``30d`` means, on this machine's clock."""
    if text.endswith("d") and text[:-1].isascii() and text[:-1].isdigit() and len(text) <= 6:
        return now - timedelta(days=int(text[:-1]))
    try:
        if len(text) == len("2026-03-01"):
            day = date.fromisoformat(text)
            return datetime(day.year, day.month, day.day).astimezone()
        return datetime.fromisoformat(text).astimezone()
    except (ValueError, OverflowError, OSError):
        raise UserError(
            f"book: {option}: '{text}' is no day; write it as in 2026-03-01, or 30d for 30 days ago"
        ) from None
