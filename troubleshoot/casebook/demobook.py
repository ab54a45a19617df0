"""The demo book as a file: made whole, never mixed with true cases, taken away again."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

from troubleshoot.casebook import demo
from troubleshoot.casebook.errors import BookError
from troubleshoot.casebook.filters import Filter
from troubleshoot.casebook.record import Record
from troubleshoot.casebook.store import Book
from troubleshoot.interview.shelf import Shelf

_TRUE = Filter(invented=False)
_INVENTED = Filter(invented=True)


def drawn(shelf: Shelf, seed: int, told: Callable[[int, int], None]) -> Iterator[Record]:
    """Yield the cases of the season; ``told`` hears how many of how many there are."""
    for number, (of, record) in enumerate(demo.season(shelf, seed), 1):
        told(number, of)
        yield record


def make(records: Sequence[Record]) -> Path:
    """Write the demo book anew and return where it lies.

    Raises BookError when it cannot be written, and when somebody has put true cases into it.
    """
    path = demo.place()
    with Book.open(path) as book:
        if book.count(_TRUE):
            raise BookError(
                f"{path}: there are cases in the demo book that are not invented. It was left as it is. "
                "Export them with 'batchmend book export --book', then move the file away."
            )
        book.replace_all(records)
    return path


def put_into(book: Book, records: Sequence[Record]) -> None:
    """Put invented cases into a book in the place of those it holds.  Raises BookError."""
    book.remove(_INVENTED)
    book.add_all(records)


def take_out(book: Book) -> int:
    """Take every invented case out of a book and return how many.  Raises BookError."""
    return book.remove(_INVENTED)


def throw_away() -> int:
    """Throw the demo book away and return how many invented cases it held; true cases in it stay, and the file too.

    Raises BookError when it cannot be done.
    """
    path = demo.place()
    if not path.exists():
        return 0
    with Book.open(path) as book:
        number, true = take_out(book), book.count(_TRUE)
    if true:
        return number
    try:
        for part in (path, Path(f"{path}-wal"), Path(f"{path}-shm")):
            part.unlink(missing_ok=True)
    except OSError as error:
        raise BookError(f"{path}: the demo book cannot be thrown away ({error.strerror or error}).") from None
    return number
