"""A copy of the book, from a file or a server, and back again."""

from __future__ import annotations

from pathlib import Path

import pytest
from small_records import FULL, at_random, record

from troubleshoot import resources
from troubleshoot.casebook.errors import BookError
from troubleshoot.casebook.store import Book
from troubleshoot.casebook.upkeep import backup, check, restore


def test_a_copy_of_any_book_is_a_book_and_can_be_brought_back(address: str, tmp_path: Path):
    """Copied from a file or a server, the copy holds every case, is one file alone, and brings the book back."""
    copy = tmp_path / "copies" / "copy.db"
    cases = [FULL, *at_random(30)]
    with Book.open(address) as book:
        book.add_all(cases)
        assert backup(book, copy).cases == 31
        book.set_outcome("full-1", book.get("full-1").outcome.NOT_KNOWN)
        book.add(record(1))
    assert [file.name for file in copy.parent.iterdir()] == ["copy.db"]
    resources.user_data().mkdir(exist_ok=True)
    done = restore(copy, address, over=True)
    assert done.cases == 31
    with Book.open(address) as book:
        assert {case.id: case for case in book.each()} == {case.id: case for case in cases}
        assert check(book) == []
    assert done.kept is not None
    with Book.open(done.kept) as kept:
        assert kept.count() == 32


def test_a_copy_is_made_while_others_write(path: Path, tmp_path: Path):
    """What another program has not finished writing is not in the copy, and the copy is whole."""
    with Book.open(path) as book, Book.open(path) as other:
        book.add_all([record(1), record(2)])
        with other._writing() as connection:
            other._insert(connection, [record(3)])
            assert backup(book, tmp_path / "copy.db").cases == 2
        assert book.count() == 3
    with Book.open(tmp_path / "copy.db") as copy:
        assert [case.id for case in copy.each()] == ["case1", "case2"]
        assert check(copy) == []


def test_a_damaged_copy_is_not_brought_back(path: Path, tmp_path: Path):
    """A copy that is cut short is refused before anything of the book is touched."""
    copy = tmp_path / "copy.db"
    with Book.open(path) as book:
        book.add_all(record(hour) for hour in range(50))
        backup(book, copy)
    copy.write_bytes(copy.read_bytes()[:-4096])
    with pytest.raises(BookError) as refused:
        restore(copy, path, over=True)
    assert str(refused.value).startswith(f"{copy}: ")
    with Book.open(path) as book:
        assert book.count() == 50


def test_bringing_back_stops_as_a_whole(path: Path, tmp_path: Path):
    """When a case of the copy cannot stand in a book, the book keeps what it held."""
    copy = tmp_path / "copy.db"
    with Book.open(copy) as source:
        source.add_all([record(1), record(2)])
        with source._writing() as connection:
            connection.exec_driver_sql("UPDATE cases SET pieces = -3 WHERE id = 'case2'")
    with Book.open(path) as book:
        book.add(record(9))
    with pytest.raises(BookError, match="-3 pieces cannot be"):
        restore(copy, path, over=True)
    with Book.open(path) as book:
        assert list(book.each()) == [record(9)]
