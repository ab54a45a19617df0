"""How a finished case comes into the book, and where it waits when the book cannot take it.

An interview never stops for the book's sake: what cannot be written now is kept beside it and put in later.
"""

from __future__ import annotations

import secrets
from collections.abc import Callable, Collection
from contextlib import suppress
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from pathlib import Path

from troubleshoot import atomic, resources
from troubleshoot.casebook.concluded import record_of
from troubleshoot.casebook.errors import BookError, KnownIdError
from troubleshoot.casebook.lines import from_line, to_line
from troubleshoot.casebook.record import Record
from troubleshoot.casebook.store import Book
from troubleshoot.inference.conclusion import Conclusion
from troubleshoot.interview.pictures import PictureStore
from troubleshoot.interview.state import State
from troubleshoot.settings import Settings

#: Letters and digits that are not taken for one another.
_ALPHABET = "23456789abcdefghjkmnpqrstuvwxyz"


@dataclass(frozen=True, slots=True)
class Kept:
    """What became of a case: ``in_book``, or waiting, or neither; ``message`` is for the person when it is not in."""

    in_book: bool
    message: str | None = None


def new_id() -> str:
    """Return an id for a case that no other kitchen will make, short enough to be read out."""
    return "".join(secrets.choice(_ALPHABET) for _ in range(10))


def waiting_folder() -> Path:
    """Return the folder of cases that wait for the book."""
    return resources.user_data() / "waiting"


def keep(record: Record, open_book: Callable[[], Book] = Book.open) -> Kept:
    """Put a finished case into the book, and with it those that wait.  Never raises.

    A case that is in the book already (its interview went on after the verdict) is brought up to date, and what was
    said of it since stays.
    """
    try:
        with open_book() as book:
            take_in_waiting(book)
            put(book, record)
    except BookError as error:
        return _wait(record, error)
    return Kept(in_book=True)


def finish(
    conclusion: Conclusion,
    state: State,
    rules_version: str,
    house: Settings,
    case_id: str | None = None,
    open_book: Callable[[], Book] = Book.open,
) -> tuple[Record, Kept]:
    """Put an interview that has come to its verdict into the book.  Never raises for the book's sake.

    Give the same ``case_id`` again when the interview went on and came to another verdict.
    """
    now = datetime.now(UTC)
    record = record_of(
        conclusion,
        case_id or new_id(),
        begun=state.begun or now,
        finished=now,
        rules_version=rules_version,
        answered=state.times,
        pictures=state.pictures,
        kitchen=house.kitchen,
        role=house.role,
    )
    return record, keep(record, open_book)


def put(book: Book, record: Record) -> None:
    """Add a case, or bring the one with its id up to date, and its pictures with it.  Raises BookError."""
    try:
        book.add(record)
    except KnownIdError:
        old = book.get(record.id)
        same = old.cause == record.cause
        book.replace(
            replace(
                record,
                begun=old.begun,
                kitchen=record.kitchen or old.kitchen,
                role=record.role or old.role,
                done=old.done,
                outcome=old.outcome if same else record.outcome,
                true_cause=old.true_cause if same else record.true_cause,
                pieces=record.pieces if record.pieces is not None else old.pieces,
                pieces_saved=old.pieces_saved,
                pieces_lost=old.pieces_lost,
                minutes=old.minutes,
                note=old.note,
            )
        )
    if record.pictures:
        bring_pictures(book, record.pictures)


def bring_pictures(book: Book, names: Collection[str] | None = None) -> tuple[str, ...]:
    """Put pictures that cases name and that lie on this machine into the book; return which it still misses.

    ``names`` are those to look for; by default all that the book misses.  Raises BookError.
    """
    missing = book.pictures_missing(names)
    if missing:
        kept = PictureStore()
        book.add_pictures((name, jpeg) for name in missing if (jpeg := kept.read(name)) is not None)
        missing = book.pictures_missing(names)
    return missing


def picture(book: Book, name: str) -> bytes | None:
    """Return a picture of a case as a JPEG, from the book or from this machine; None when it is in neither."""
    found = book.picture(name)
    return PictureStore().read(name) if found is None else found


def take_in_waiting(book: Book) -> int:
    """Put the cases that wait into the book and return how many.  Raises BookError; then they go on waiting."""
    number = 0
    for path in sorted(waiting_folder().glob("*.json")):
        try:
            record = from_line(path.read_text(encoding="utf-8"))
        except (OSError, ValueError):
            # It stays where it is; the check of the book names it.
            continue
        put(book, record)
        with suppress(OSError):
            path.unlink()
        number += 1
    return number


def _wait(record: Record, error: BookError) -> Kept:
    path = waiting_folder() / f"{record.id}.json"
    try:
        atomic.write_text(path, to_line(record) + "\n")
    except OSError as second:
        reason = second.strerror or str(second)
        return Kept(False, f"{error} The case could not be kept at {path} either ({reason}); print the verdict.")
    return Kept(False, f"{error} The case waits in {path} and goes into the book when the book can be written again.")
