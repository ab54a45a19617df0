"""What can be wrong with the case book, said in plain words; nothing of the book is changed by any of it."""

from __future__ import annotations

import sqlite3

from sqlalchemy.exc import DBAPIError, IntegrityError, InterfaceError, SQLAlchemyError

from troubleshoot.errors import UserError


class BookError(UserError):
    """The case book cannot be opened, read or written; the message says why and what to do."""


class DamagedBookError(BookError):
    """The file of the book is damaged, cut short or no case book; it was left as it is."""


class NewerBookError(BookError):
    """The book was written by a newer version of the program."""


class KnownIdError(BookError):
    """A case with this id is in the book already."""


def plain(error: SQLAlchemyError, where: str) -> BookError:
    """Return what a database error means for the book at ``where`` (a path, or a URL without its password)."""
    if isinstance(error, IntegrityError):
        return KnownIdError(f"{where}: another case has this id. Nothing was changed. Give the case an id of its own.")
    cause = error.orig if isinstance(error, DBAPIError) else None
    if isinstance(cause, sqlite3.Error):
        return of_file(cause, where)
    state = getattr(cause, "sqlstate", None)
    if state is None and isinstance(error, DBAPIError | InterfaceError):
        first = " ".join(str(cause).split())
        return BookError(
            f"{where}: the server does not answer ({first}). Nothing was changed. Check the address and the network."
        )
    return _of_server(str(state), cause, where)


def damaged(where: str, how: str) -> DamagedBookError:
    """Return the error for a file that is no whole book."""
    return DamagedBookError(
        f"{where}: {how}. The file was left as it is. "
        "Bring back a copy with 'batchmend book restore FILE', or move the file away to begin a new book."
    )


def newer(where: str, form: str, known: str) -> NewerBookError:
    """Return the error for a book of a later form than this program knows."""
    return NewerBookError(
        f"{where}: the book has form {form}, and this version knows forms up to {known}. A book is never turned back. "
        "The file was left as it is. Update Batchmend to open it."
    )


def of_file(cause: sqlite3.Error, where: str) -> BookError:
    """Return what an error of the SQLite driver means."""
    code = getattr(cause, "sqlite_errorcode", sqlite3.SQLITE_ERROR) & 0xFF
    if code in (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB):
        return damaged(where, "the file is damaged, cut short or no case book")
    said = {
        sqlite3.SQLITE_FULL: "the disk is full. Nothing was changed. Make room and try again",
        sqlite3.SQLITE_BUSY: "another program is writing to the book. Nothing was changed. Try again in a moment",
        sqlite3.SQLITE_LOCKED: "another program is writing to the book. Nothing was changed. Try again in a moment",
        sqlite3.SQLITE_READONLY: (
            "the file or its folder is read-only. Nothing was changed. "
            "Allow writing there, or name another place in BATCHMEND_BOOK"
        ),
        sqlite3.SQLITE_CANTOPEN: (
            "the file cannot be opened, or its folder is read-only. Nothing was changed. "
            "Check the folder's permissions, or name another place in BATCHMEND_BOOK"
        ),
        sqlite3.SQLITE_IOERR: "the disk gave an error. Nothing was changed. Check the disk and make a copy of the file",
    }.get(code, f"the book cannot be used ({cause}). Nothing was changed")
    return BookError(f"{where}: {said}.")


def _of_server(state: str, cause: object, where: str) -> BookError:
    said = {
        "53100": "the server's disk is full. Nothing was changed. Make room there and try again",
        "55P03": "another program is writing to the book. Nothing was changed. Try again in a moment",
        "40P01": "two programs waited for each other. Nothing was changed. Try again",
        "25006": "the server lets this user read only. Nothing was changed. Ask for the right to write",
        "42501": "the server gives this user no right to do this. Nothing was changed. Ask for the right to write",
        "3D000": "the server has no such database. Make it first, or correct the address",
        "28P01": "the server refuses the name or password. Correct them in the address",
        "28000": "the server refuses the name or password. Correct them in the address",
        "53300": "the server has too many visitors. Nothing was changed. Try again in a moment",
    }.get(state, f"the book cannot be used ({' '.join(str(cause).split())}). Nothing was changed")
    return BookError(f"{where}: {said}.")
