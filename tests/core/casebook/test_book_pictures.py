"""Pictures lie in the book itself: copies carry them, other kitchens see them, and none is taken for what it is not."""

from __future__ import annotations

import hashlib
import shutil
import sqlite3
from dataclasses import replace
from pathlib import Path

import pytest
from small_records import record

from troubleshoot import resources
from troubleshoot.casebook import entry
from troubleshoot.casebook.errors import BookError
from troubleshoot.casebook.filters import EVERY
from troubleshoot.casebook.pictures import MOST_BYTES
from troubleshoot.casebook.record import Outcome
from troubleshoot.casebook.store import Book
from troubleshoot.casebook.upkeep import Copied, backup, check, restore
from troubleshoot.interview.pictures import PictureStore

#: The store asks nothing of a picture's inside; what decodes it does.
TRAY, PASTE = b"\xff\xd8\xff a tray of flat choux", b"\xff\xd8\xff paste that runs"


def named(jpeg: bytes) -> str:
    """Return the name that a picture is kept under."""
    return f"{hashlib.sha256(jpeg).hexdigest()}.jpg"


@pytest.fixture
def kept() -> tuple[str, str]:
    """Two pictures that lie on this machine, by name."""
    return PictureStore().keep(TRAY), PictureStore().keep(PASTE)


def on_another_machine() -> None:
    """From here on no picture lies on this machine."""
    shutil.rmtree(PictureStore().folder)


def test_another_kitchen_sees_the_pictures_of_a_shared_book(address: str, kept: tuple[str, str]):
    """A case put in on one machine shows its pictures on another."""
    with Book.open(address) as book:
        entry.put(book, record(1, pictures=kept))
    on_another_machine()
    with Book.open(address) as book:
        assert [entry.picture(book, name) for name in kept] == [TRAY, PASTE]
        assert book.pictures_missing() == ()


def test_a_copy_carries_the_pictures_and_brings_them_back(address: str, tmp_path: Path, kept: tuple[str, str]):
    """Copied from a file or a server and brought back where nothing is left, every picture is there, byte for byte."""
    copy = tmp_path / "copies" / "copy.db"
    with Book.open(address) as book:
        entry.put(book, record(1, pictures=kept))
        assert backup(book, copy) == Copied(cases=1, pictures=2, missing=0)
        book.replace_all([])
        assert book.count_pictures() == 0
    on_another_machine()
    done = restore(copy, address)
    assert (done.cases, done.pictures, done.missing) == (1, 2, 0)
    with Book.open(address) as book:
        assert dict(book.each_picture()) == dict(zip(kept, (TRAY, PASTE), strict=True))
        assert check(book) == []


def test_pictures_from_before_the_book_held_any_are_in_the_next_copy(path: Path, tmp_path: Path, kept: tuple[str, str]):
    """A case that only names its pictures gets them when a copy is made on the machine where they lie."""
    with Book.open(path) as book:
        book.add(record(1, pictures=(*kept, named(b"lies elsewhere"))))
        assert backup(book, tmp_path / "copy.db") == Copied(cases=1, pictures=2, missing=1)
    on_another_machine()
    with Book.open(tmp_path / "copy.db") as copy:
        assert copy.picture(kept[0]) == TRAY


def test_a_picture_goes_when_no_case_names_it_any_more(address: str, kept: tuple[str, str]):
    """Two cases share a picture: it stays with the second, and goes with the last."""
    with Book.open(address) as book:
        for number in (1, 2):
            entry.put(book, record(number, pictures=kept, invented=number == 2))
        book.replace(record(1, pictures=kept[1:]))
        assert book.count_pictures() == 2
        book.replace(replace(book.get("case2"), pictures=(), invented=True))
        assert [name for name, _ in book.each_picture()] == [kept[1]]
        book.set_outcome("case1", Outcome.RIGHT)
        assert book.count_pictures() == 1
        book.remove(EVERY)
        assert book.count_pictures() == 0


@pytest.mark.parametrize(
    ("name", "jpeg"),
    [
        ("../../settings.jpg", TRAY),
        (named(TRAY), PASTE),
        (named(b"x" * (MOST_BYTES + 1)), b"x" * (MOST_BYTES + 1)),
    ],
    ids=["a path", "other bytes", "too large"],
)
def test_what_is_no_picture_is_not_taken_in(path: Path, name: str, jpeg: bytes):
    """A name that is a path, bytes that belong to another name, and a giant are left out."""
    cases = [record(1, pictures=(name,) if "/" not in name else ())]
    with Book.open(path) as book:
        book.replace_all(cases, [(name, jpeg)])
        assert book.count_pictures() == 0
        assert book.add_pictures([(name, jpeg)]) == 0


@pytest.mark.parametrize(
    "planted",
    [f"zeroblob({MOST_BYTES + 1})", "1000000000000", "'text'", "x'ffd8ff'"],
    ids=["too large", "a number", "text", "other bytes"],
)
def test_a_hostile_picture_in_a_copy_is_left_out_and_its_case_comes_back(
    path: Path, tmp_path: Path, kept: tuple[str, str], planted: str
):
    """What somebody planted under a picture's name is never fetched; the case is brought back without it."""
    copy = tmp_path / "copy.db"
    with Book.open(path) as book:
        entry.put(book, record(1, pictures=kept))
        backup(book, copy)
        book.replace_all([])
    on_another_machine()
    with sqlite3.connect(copy) as planting:
        planting.execute(f"UPDATE picture_files SET jpeg = {planted} WHERE name = ?", (kept[0],))
    planting.close()
    with Book.open(copy) as opened:
        assert opened.picture(kept[0]) is None
        assert check(opened) == [f"the picture '{kept[0]}' is damaged; its case is whole"]
    done = restore(copy, path)
    assert (done.cases, done.pictures, done.missing) == (1, 1, 1)
    with Book.open(path) as book:
        assert book.get("case1").pictures == kept
        assert check(book) == []


def test_what_is_no_file_is_not_brought_back(path: Path, tmp_path: Path):
    """A folder, or a device without an end, is refused before anything is read."""
    for source in (tmp_path, Path("/dev/zero")):
        with pytest.raises(BookError, match="this is no file"):
            restore(source, path)


def test_a_waiting_case_takes_its_pictures_along(path: Path, kept: tuple[str, str]):
    """A case that waited for the book brings its pictures when it goes in."""
    shut = path.parent
    shut.parent.mkdir(parents=True, exist_ok=True)
    shut.write_text("in the way", encoding="utf-8")
    assert not entry.keep(record(1, pictures=kept), lambda: Book.open(path)).in_book
    shut.unlink()
    with Book.open(path) as book:
        assert entry.take_in_waiting(book) == 1
        assert book.count_pictures() == 2
    assert list((resources.user_data() / "waiting").iterdir()) == []
