"""Keeping the book: a copy of it, bringing a copy back, and looking whether it is whole."""

from __future__ import annotations

import shutil
import sqlite3
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path

from troubleshoot import atomic, resources
from troubleshoot.casebook import opening
from troubleshoot.casebook.entry import bring_pictures, waiting_folder
from troubleshoot.casebook.errors import BookError, DamagedBookError, damaged, of_file
from troubleshoot.casebook.lines import from_line
from troubleshoot.casebook.store import Book
from troubleshoot.casebook.valid import faults

#: Findings told at once.
MOST_FINDINGS = 20


@dataclass(frozen=True, slots=True)
class Restored:
    """What was brought back, and where what stood there before is kept (None: nothing stood there).

    ``missing`` pictures are named by cases, but were neither in the copy nor on this machine.
    """

    cases: int
    pictures: int
    missing: int
    kept: Path | None


@dataclass(frozen=True, slots=True)
class Copied:
    """What a copy holds; ``missing`` pictures lie on another machine, which has not put them into the book."""

    cases: int
    pictures: int
    missing: int


def backup(book: Book, target: Path) -> Copied:
    """Write the whole book with its pictures to a new file, also while others use it, and return what it holds.

    The file is a book in itself, whatever the book lies on.  Raises BookError when ``target`` is there already.
    """
    target = target.absolute()
    if target.exists():
        raise _taken(target)
    with suppress(BookError):
        # Pictures of cases from before the book held any.  Where they cannot go in, the rest can still be copied.
        bring_pictures(book)
    if book.file is None:
        with Book.open(target) as copy:
            copy.replace_all(book.each(), book.each_picture())
            return _holds(copy)
    held = _holds(book)
    try:
        atomic.own_folder(target.parent)
        free = opening.copy_file(book.file, target)
    except sqlite3.Error as error:
        raise of_file(error, str(target)) from None
    except OSError as error:
        reason = error.strerror or str(error)
        raise BookError(f"{target}: the copy cannot be written ({reason}). The book is as it was.") from None
    if not free:
        raise _taken(target)
    return held


def _holds(book: Book) -> Copied:
    return Copied(book.count(), book.count_pictures(), len(book.pictures_missing()))


def restore(source: Path, named: str | Path | None = None, *, over: bool = False) -> Restored:
    """Put the cases of a copy in the place of what the book holds, all or nothing.

    A book that holds cases, or is damaged, is only touched with ``over``; what it held is kept beside it first.  A
    picture of the copy that is not what its name stands for is left out, and its case brought back without it.
    """
    with _whole_copy(source.absolute()) as copy:
        where = opening.place(named)
        kept: Path | None = None
        try:
            book = Book.open(named)
        except DamagedBookError as error:
            if not over or not isinstance(where, Path):
                raise BookError(
                    f"{error} To bring the copy back, write --over: the file is moved aside first."
                ) from None
            kept = _set_aside(where)
            book = Book.open(named)
        with book:
            number = book.count()
            if number and not over:
                raise BookError(
                    f"{book.where}: the book holds {number} cases. Nothing was changed. "
                    "Write --over to put the copy in their place; they are kept beside it first."
                )
            if number:
                kept = _free_name(book.file or resources.user_data() / "book.db", "before-restore")
                backup(book, kept)
            brought = book.replace_all(copy.each(), copy.each_picture())
            missing = bring_pictures(book)
            return Restored(brought, book.count_pictures(), len(missing), kept)


def check(book: Book) -> list[str]:
    """Return what is wrong with an open book, in words; nothing when it is whole."""
    found = list(book.database_faults())
    found += [f"the picture '{name}' is damaged; its case is whole" for name in book.damaged_pictures()]
    for record in book.each():
        for fault in faults(record):
            path = ".".join(str(part) for part in fault.path)
            found.append(f"case '{record.id}': {path}: {fault.wrong}")
        if len(found) >= MOST_FINDINGS:
            break
    for waiting in sorted(waiting_folder().glob("*.json")):
        try:
            from_line(waiting.read_text(encoding="utf-8"))
        except (OSError, ValueError) as error:
            found.append(f"{waiting}: a case that waits for the book cannot be read ({error})")
    return found[:MOST_FINDINGS]


@contextmanager
def _whole_copy(source: Path) -> Iterator[Book]:
    """Open a copy of a copy, so that the file itself stays as it is whatever its form."""
    with tempfile.TemporaryDirectory(prefix="batchmend") as folder:
        file = Path(folder) / "book.db"
        if source.exists() and not source.is_file():
            raise BookError(f"{source}: this is no file. Name a file that 'batchmend book backup' wrote.")
        try:
            shutil.copyfile(source, file)
            if Path(f"{source}-wal").exists():
                shutil.copyfile(f"{source}-wal", f"{file}-wal")
        except OSError as error:
            raise BookError(
                f"{source}: the copy cannot be read ({error.strerror or error}). Nothing was changed."
            ) from None
        try:
            book = Book.open(file)
        except BookError as error:
            raise type(error)(str(error).replace(str(file), str(source))) from None
        with book:
            wrong = book.database_faults()
            if wrong:
                raise damaged(str(source), f"the copy is damaged ({wrong[0]})")
            yield book


def _set_aside(path: Path) -> Path:
    """Move a damaged file and its journals out of the way and return where it is now."""
    kept = _free_name(path, "damaged")
    for tail in ("-wal", "-shm", ""):
        part = Path(f"{path}{tail}")
        if part.exists():
            part.rename(f"{kept}{tail}")
    return kept


def _free_name(path: Path, word: str) -> Path:
    number = 1
    while path.with_name(f"{path.name}.{word}{number}").exists():
        number += 1
    return path.with_name(f"{path.name}.{word}{number}")


def _taken(target: Path) -> BookError:
    return BookError(f"{target}: there is a file already. It was left as it is. Give the copy another name.")
