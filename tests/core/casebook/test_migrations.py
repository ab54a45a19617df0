"""Books of every form open, come to the newest form, and are never turned back."""

from __future__ import annotations

import hashlib
import shutil
import sqlite3
import subprocess
import sys
import zipfile
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime, timedelta
from pathlib import Path

import psycopg
import pytest
from alembic.autogenerate import compare_metadata
from alembic.runtime.migration import MigrationContext
from sqlalchemy import Engine

import troubleshoot
from troubleshoot.casebook import opening
from troubleshoot.casebook.errors import BookError, NewerBookError
from troubleshoot.casebook.migrate import upgrade
from troubleshoot.casebook.migrations import FORMS, form_4
from troubleshoot.casebook.record import GivenAnswer, Outcome, Record, Suspected
from troubleshoot.casebook.store import Book
from troubleshoot.casebook.sums import SaidWord
from troubleshoot.casebook.tables import METADATA, VERSION_TABLE
from troubleshoot.casebook.upkeep import check

GOLDEN = Path(__file__).parents[2] / "golden"
NOON = datetime(2026, 3, 2, 12, 0, tzinfo=UTC)
MINUTE = timedelta(minutes=1)


def expected(pictures: tuple[str, ...]) -> tuple[Record, ...]:
    """The cases of the golden books, as ``make_book.py`` says them, oldest first."""
    right = Record(
        id="old-right",
        family="choux",
        begun=NOON,
        finished=NOON + 4 * MINUTE,
        fault="flat",
        stage="bake",
        answers=(
            GivenAnswer("door_opened", "yes", None, NOON + MINUTE),
            GivenAnswer("oven_true", None, 163.25, NOON + 2 * MINUTE),
        ),
        suspects=(Suspected("oven_cool", 0.9), Suspected("panade_undried", 0.05)),
        settled=True,
        rules_version="r1",
        batch=(("flour_g", 150.5),),
        kitchen="lakeside",
        role="commis",
        done=("measure_the_oven", "remake_choux"),
        outcome=Outcome.RIGHT,
        true_cause="oven_cool",
        pieces=24,
        pieces_saved=18,
        pieces_lost=6,
        minutes=12.5,
        pictures=pictures,
        note="Door was opened.\nTwice.",
    )
    wrong = Record(
        id="old-wrong",
        family="choux",
        begun=NOON + 60 * MINUTE,
        finished=NOON + 65 * MINUTE,
        fault=None,
        stage=None,
        answers=(GivenAnswer("profile", None, None, NOON + 61 * MINUTE),),
        suspects=(Suspected("oven_cool", 0.5),),
        settled=False,
        rules_version="r1",
        kitchen="lakeside",
        outcome=Outcome.WRONG,
        true_cause="panade_undried",
    )
    still_open = Record(
        id="old-open",
        family="shortbread",
        begun=NOON + 120 * MINUTE,
        finished=NOON + 125 * MINUTE,
        fault="crumbles",
        stage="bake",
        answers=(),
        suspects=(),
        settled=False,
        rules_version="r2",
        invented=True,
    )
    return (right, wrong, still_open)


@pytest.fixture(params=["1", "2", "3"])
def old(request: pytest.FixtureRequest, path: Path) -> tuple[str, Path]:
    """A book of an older form, and where it lies."""
    path.parent.mkdir()
    shutil.copyfile(GOLDEN / f"book-form{request.param}.db", path)
    return request.param, path


def test_every_older_form_has_a_golden_book():
    """No form is left behind: each but the newest has a book that a program of its time could have written."""
    assert {file.stem for file in GOLDEN.glob("*.db")} == {f"book-form{form.revision}" for form in FORMS[:-1]}


def test_an_old_book_opens_with_all_it_held(old: tuple[str, Path]):
    """Every case comes through; sums and near cases know what the old form had no place for."""
    form, path = old
    with Book.open(path) as book:
        assert tuple(book.each()) == expected(() if form == "1" else ("tray.jpg",))
        assert [(sum.cause, sum.pieces_lost) for sum in book.pieces_lost_by_cause()] == [
            ("oven_cool", 6),
            ("panade_undried", 0),
            (None, 0),
        ]
        matrix = book.answer_matrix("choux")
        assert matrix.starts.tolist() == [0, 3, 4]
        assert {matrix.words[word] for word in matrix.word_nos[:3]} == {
            SaidWord("", "flat", None),
            SaidWord("door_opened", "yes", None),
            SaidWord("oven_true", None, 163.25),
        }
        assert book.answer_matrix("shortbread").words == (SaidWord("", "crumbles", None),)
        assert check(book) == []


def test_the_old_file_is_kept_beside_the_new(old: tuple[str, Path]):
    """The older program still has a book to open."""
    form, path = old
    Book.open(path).close()
    with sqlite3.connect(path.with_name(f"book.db.form{form}")) as kept:
        assert kept.execute(f"SELECT version_num FROM {VERSION_TABLE}").fetchone() == (form,)
        assert kept.execute("SELECT count(*) FROM cases").fetchone() == (3,)
    kept.close()


def test_a_migration_that_fails_changes_nothing(old: tuple[str, Path], monkeypatch: pytest.MonkeyPatch):
    """When the last step of the way breaks off, the first ones are undone too, and the next opening goes all the way."""
    form, path = old

    last_step = form_4.upgrade

    def full() -> None:
        last_step()
        raise OSError("disk full")

    with monkeypatch.context() as patch:
        patch.setattr(form_4, "upgrade", full)
        with pytest.raises(BookError, match="disk full"):
            Book.open(path)
    with sqlite3.connect(path) as left:
        assert left.execute(f"SELECT version_num FROM {VERSION_TABLE}").fetchone() == (form,)
        assert left.execute("SELECT count(*) FROM sqlite_master WHERE name = 'picture_files'").fetchone() == (0,)
        assert ("blamed" in [row[1] for row in left.execute("PRAGMA table_info(cases)")]) == (form == "3")
    left.close()
    with Book.open(path) as book:
        assert book.count() == 3


def test_two_programs_may_open_an_old_book_at_once(old: tuple[str, Path]):
    """Whichever comes first brings it to its form; the other finds it so."""
    _, path = old
    with ThreadPoolExecutor(4) as pool:
        books = list(pool.map(lambda _: Book.open(path), range(4)))
    assert [book.count() for book in books] == [3] * 4
    for book in books:
        book.close()


def test_a_newer_book_is_refused_and_left_alone(path: Path):
    """A form of the future is not opened, not turned back, and not a byte of it changes."""
    Book.open(path).close()
    with sqlite3.connect(path) as later:
        later.execute(f"UPDATE {VERSION_TABLE} SET version_num = '99'")
    later.close()
    before = hashlib.sha256(path.read_bytes()).hexdigest()
    with pytest.raises(NewerBookError) as refused:
        Book.open(path)
    assert "form 99" in str(refused.value)
    assert "never turned back" in str(refused.value)
    assert "Update Batchmend" in str(refused.value)
    assert hashlib.sha256(path.read_bytes()).hexdigest() == before


def test_a_newer_book_on_a_server_is_refused(server_address: str):
    """The same on a server."""
    Book.open(server_address).close()
    with psycopg.connect(server_address, autocommit=True) as connection:
        connection.execute(f"UPDATE {VERSION_TABLE} SET version_num = '99'")
    with pytest.raises(NewerBookError, match="form 99"):
        Book.open(server_address)


def test_no_form_has_a_way_back():
    """Forms go forward one by one, and none can be undone."""
    assert [form.revision for form in FORMS] == [str(number) for number in range(1, len(FORMS) + 1)]
    assert [form.down_revision for form in FORMS] == [None, *(form.revision for form in FORMS[:-1])]
    assert not [form for form in FORMS if hasattr(form, "downgrade")]


@pytest.fixture
def engine(address: str) -> Iterator[Engine]:
    """An engine on a book, without the book."""
    opened = opening.open_engine(opening.place(address))
    yield opened
    opened.dispose()


def test_the_migrations_lead_to_the_tables_that_the_program_uses(engine: Engine):
    """What the forms make, one after the other, is what ``tables.py`` says, column by column and index by index."""
    with engine.connect() as connection:
        context = MigrationContext.configure(
            connection, opts={"version_table": VERSION_TABLE, "compare_type": True, "target_metadata": METADATA}
        )
        assert compare_metadata(context, METADATA) == []


def test_an_old_book_on_a_server_comes_to_the_newest_form(server_address: str):
    """A server's book of the first form keeps its case and gains what came later."""
    engine = opening.create_server_engine(opening.place(server_address), 5.0)
    with engine.begin() as connection:
        upgrade(connection, "1")
    engine.dispose()
    at = int(NOON.timestamp() * 1e6)
    with psycopg.connect(server_address) as connection:
        connection.execute(
            "INSERT INTO cases (id, family, begun_us, finished_us, fault, cause, probability, settled, rules_version, "
            "kitchen, role, outcome, true_cause, invented) VALUES "
            "('one', 'choux', %s, %s, 'flat', 'oven_cool', 0.5, true, 'r1', '', '', 'wrong', 'scale_out', false)",
            (at, at),
        )
        connection.execute("INSERT INTO details VALUES (1, '[[\"oven_cool\", 0.5]]', '[]', '')")
    with Book.open(server_address) as book:
        assert book.get("one").blamed == "scale_out"
        assert [sum.cause for sum in book.pieces_lost_by_cause()] == ["scale_out"]
        assert book.answer_matrix("choux").words == (SaidWord("", "flat", None),)


def test_the_forms_are_found_inside_a_zip(path: Path, tmp_path: Path):
    """A book of the first form comes to the newest with the whole package inside one zip file."""
    package = Path(troubleshoot.__file__).parent
    archive = tmp_path / "package.zip"
    with zipfile.ZipFile(archive, "w") as packed:
        for file in sorted(package.rglob("*.py")):
            packed.write(file, file.relative_to(package.parent))
    path.parent.mkdir()
    shutil.copyfile(GOLDEN / "book-form1.db", path)
    code = (
        "import sys; sys.path.insert(0, sys.argv[1])\n"
        "from troubleshoot.casebook import store\n"
        "assert store.__file__.startswith(sys.argv[1]), store.__file__\n"
        "with store.Book.open(sys.argv[2]) as book: print(book.count())\n"
    )
    done = subprocess.run(
        [sys.executable, "-I", "-c", code, str(archive), str(path)], capture_output=True, text=True, check=False
    )
    assert (done.stdout, done.stderr) == ("3\n", "")
