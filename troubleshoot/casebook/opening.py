"""Opening a book: where it lies, whether it is whole and of a known form, and making a new one in one step."""

from __future__ import annotations

import contextlib
import os
import sqlite3
import uuid
from pathlib import Path
from typing import Any

from sqlalchemy import URL, Connection, Engine, QueuePool, create_engine, event, inspect, make_url, text
from sqlalchemy.exc import ArgumentError, NoSuchModuleError, SQLAlchemyError

from troubleshoot import atomic, resources
from troubleshoot.casebook.errors import BookError, damaged, newer, of_file, plain
from troubleshoot.casebook.migrations import FORMS
from troubleshoot.casebook.tables import VERSION_TABLE

#: The mark of a case book in the head of an SQLite file: "BMCB".
APPLICATION_ID = 0x424D4342
NEWEST = str(FORMS[-1].revision)
_KNOWN = [str(form.revision) for form in FORMS]

#: How long a writer waits for another one.
WAIT_S = 5.0

#: Names the advisory lock under which a server's book is brought to its form.
_SERVER_LOCK = 0x424D4342


def place(named: str | Path | None) -> Path | URL:
    """Return where the book lies: as named, else in ``BATCHMEND_BOOK``, else in the user's data folder.

    Raises BookError for an address that is none.
    """
    chosen = named or os.environ.get("BATCHMEND_BOOK") or resources.user_data() / "book.db"
    if isinstance(chosen, Path) or "://" not in chosen:
        return Path(chosen).expanduser().absolute()
    try:
        url = make_url(chosen)
    except (ArgumentError, ValueError):
        raise BookError("The address of the case book cannot be read. Write postgresql://user@host/database.") from None
    kind = url.get_backend_name()
    if kind == "sqlite" and url.database:
        return Path(url.database).expanduser().absolute()
    if kind not in ("postgresql", "postgres"):
        raise BookError(
            f"The case book cannot lie in '{kind}'. Write postgresql://user@host/database, or a file's name."
        )
    return url.set(drivername="postgresql+psycopg")


def shown(where: Path | URL) -> str:
    """Return a place as it is told to people: never with a password."""
    return str(where) if isinstance(where, Path) else where.render_as_string(hide_password=True)


def open_engine(where: Path | URL, wait_s: float = WAIT_S) -> Engine:
    """Return an engine on the book at ``where``, brought to the newest form; a missing file is made.

    Raises BookError with a plain message; nothing that was there is overwritten.
    """
    if isinstance(where, Path):
        return _open_file(where, wait_s)
    return _open_server(where, wait_s)


# -- a file ----------------------------------------------------------------------------


def file_engine(path: Path, wait_s: float) -> Engine:
    """Return an engine on an SQLite file that exists; nothing is read or written yet."""

    def connect() -> sqlite3.Connection:
        connection = sqlite3.connect(
            f"{path.as_uri()}?mode=rw", uri=True, timeout=wait_s, isolation_level=None, check_same_thread=False
        )
        connection.execute("PRAGMA foreign_keys = ON")
        connection.execute("PRAGMA synchronous = FULL")
        connection.execute("PRAGMA trusted_schema = OFF")
        return connection

    engine = create_engine("sqlite://", creator=connect, poolclass=QueuePool)
    # The driver would begin late and only before some statements; a writer takes its lock at once, or waits for it.
    event.listen(engine, "begin", _begin_on_file)
    return engine


def _begin_on_file(connection: Connection) -> None:
    writes = connection.get_execution_options().get("writes", False)
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")


def _open_file(path: Path, wait_s: float) -> Engine:
    _ready(path)
    engine = file_engine(path, wait_s)
    try:
        with engine.connect() as connection:
            mark = connection.exec_driver_sql("PRAGMA application_id").scalar_one()
            kinds = set(connection.exec_driver_sql("SELECT DISTINCT type FROM sqlite_master").scalars())
            if mark != APPLICATION_ID or "table" not in kinds:
                raise damaged(str(path), "the file is not a case book")
            if kinds - {"table", "index"}:
                # Whoever sends such a file could let it change or leave out cases behind our back.
                raise damaged(str(path), "the file holds triggers or views, which no case book of ours has")
            form = _form(connection)
            _refuse_unknown(str(path), form)
            connection.rollback()
            if connection.exec_driver_sql("PRAGMA journal_mode").scalar_one() != "wal":
                connection.rollback()
                _raw(connection).execute("PRAGMA journal_mode = WAL")
        if form != NEWEST:
            _keep_old(path, form)
            _upgrade(engine)
    except SQLAlchemyError as error:
        engine.dispose()
        raise plain(error, str(path)) from None
    except (BookError, sqlite3.Error, OSError) as error:
        engine.dispose()
        raise _said(error, path) from None
    return engine


def _ready(path: Path) -> None:
    """See to it that a file is there, and refuse one that has lost its head."""
    try:
        if not path.exists():
            if Path(f"{path}-wal").exists():
                raise damaged(str(path), "the file is missing, but its journal (-wal) is there")
            atomic.own_folder(path.parent)
            _make_new(path)
        elif not path.is_file():
            raise BookError(f"{path}: this is no file. Name a file for the case book.")
        elif path.stat().st_size == 0:
            raise damaged(str(path), "the file is empty, cut off at its beginning")
        elif _cut_short(path):
            raise damaged(str(path), "the file is cut short")
    except (OSError, sqlite3.Error, SQLAlchemyError) as error:
        raise _said(error, path) from None


def _cut_short(path: Path) -> bool:
    """Return whether the file is shorter than its head says, which SQLite does not notice in the last page.

    While there is a journal (-wal), the end of the file may stand in it.  Source: https://www.sqlite.org/fileformat.html
    """
    journal = Path(f"{path}-wal")
    if journal.exists():
        return False
    with path.open("rb") as stream:
        head = stream.read(100)
    size = path.stat().st_size
    page = int.from_bytes(head[16:18], "big")
    pages = int.from_bytes(head[28:32], "big")
    known = head.startswith(b"SQLite format 3\0") and head[24:28] == head[92:96]
    return known and size < pages * (65536 if page == 1 else page) and not journal.exists()


def _make_new(path: Path) -> None:
    """Make a whole new book beside its place and put it there in one step; another's that came first stays."""
    part = path.with_name(f"{path.name}.{uuid.uuid4().hex}.part")
    os.close(os.open(part, os.O_CREAT | os.O_EXCL | os.O_RDWR, 0o600))
    try:
        engine = file_engine(part, WAIT_S)
        try:
            with engine.connect() as connection:
                _raw(connection).execute(f"PRAGMA application_id = {APPLICATION_ID}")
            _upgrade(engine)
            with engine.connect() as connection:
                _raw(connection).execute("PRAGMA journal_mode = WAL")
        finally:
            engine.dispose()
        put_in_place(part, path)
    finally:
        part.unlink(missing_ok=True)


def put_in_place(part: Path, path: Path) -> bool:
    """Give a finished file its name in one step, unless that name is taken; return whether it was free."""
    try:
        os.link(part, path)
    except FileExistsError:
        return False
    except OSError:
        # A file system without hard links.
        if path.exists():
            return False
        part.rename(path)
    return True


def _keep_old(path: Path, form: str | None) -> None:
    """Keep a copy of a book of an older form, so that the older program still has one."""
    copy_file(path, path.with_name(f"{path.name}.form{form}"))


def copy_file(path: Path, target: Path) -> bool:
    """Copy an SQLite book, also while it is in use, in one step; False when ``target`` is there already.

    Raises OSError or sqlite3.Error when it cannot be written; then nothing is left of it.
    """
    part = target.with_name(f"{target.name}.{uuid.uuid4().hex}.part")
    os.close(os.open(part, os.O_CREAT | os.O_EXCL | os.O_RDWR, 0o600))
    try:
        with (
            contextlib.closing(sqlite3.connect(f"{path.as_uri()}?mode=rw", uri=True)) as source,
            contextlib.closing(sqlite3.connect(part)) as copy,
        ):
            source.backup(copy)
            # One file alone, that can be read from a read-only place.
            copy.execute("PRAGMA journal_mode = DELETE")
        return put_in_place(part, target)
    finally:
        for leftover in (part, Path(f"{part}-wal"), Path(f"{part}-shm")):
            leftover.unlink(missing_ok=True)


def _raw(connection: Connection) -> Any:
    """Return the driver's own connection, for what cannot stand inside a transaction."""
    return connection.connection.dbapi_connection


def _said(error: Exception, path: Path) -> BookError:
    if isinstance(error, BookError):
        return error
    if isinstance(error, SQLAlchemyError):
        return plain(error, str(path))
    if isinstance(error, sqlite3.Error):
        return of_file(error, str(path))
    reason = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
    return BookError(
        f"{path}: the book cannot be made or opened here ({reason}). Nothing was changed. "
        "Check the folder's permissions and the room on the disk, or name another place in BATCHMEND_BOOK."
    )


# -- a server --------------------------------------------------------------------------


def create_server_engine(url: URL, wait_s: float) -> Engine:
    """Return an engine on a server's book; nothing is read or written yet."""
    own = url.query.get("options", "")
    options = f"-c lock_timeout={int(wait_s * 1000)} -c timezone=UTC {own if isinstance(own, str) else ' '.join(own)}"
    try:
        return create_engine(url, connect_args={"options": options, "connect_timeout": 10}, pool_pre_ping=True)
    except (NoSuchModuleError, ImportError):
        raise BookError(
            "A case book on a server needs the package psycopg. Install it with: pip install 'batchmend[postgres]'"
        ) from None


def _open_server(url: URL, wait_s: float) -> Engine:
    engine = create_server_engine(url, wait_s)
    try:
        with engine.connect() as connection:
            form = _form(connection)
        _refuse_unknown(shown(url), form, empty_is_new=True)
        if form != NEWEST:
            _upgrade(engine)
    except SQLAlchemyError as error:
        engine.dispose()
        raise plain(error, shown(url)) from None
    except BookError:
        engine.dispose()
        raise
    return engine


# -- the form --------------------------------------------------------------------------


def _form(connection: Connection) -> str | None:
    """Return the form of the book, None when there is none."""
    if not inspect(connection).has_table(VERSION_TABLE):
        return None
    form: str | None = connection.execute(text(f"SELECT version_num FROM {VERSION_TABLE}")).scalar()
    return form


def _refuse_unknown(where: str, form: str | None, *, empty_is_new: bool = False) -> None:
    if form is None and not empty_is_new:
        raise damaged(where, "the file is not a case book")
    if form is not None and form not in _KNOWN:
        raise newer(where, form, NEWEST)


def _upgrade(engine: Engine) -> None:
    # Alembic is only loaded when there is something for it to do.
    from troubleshoot.casebook.migrate import upgrade

    with engine.connect().execution_options(writes=True) as connection, connection.begin():
        if engine.dialect.name == "postgresql":
            connection.execute(text("SELECT pg_advisory_xact_lock(:key)"), {"key": _SERVER_LOCK})
        upgrade(connection)
