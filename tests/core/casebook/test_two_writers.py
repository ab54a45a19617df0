"""Several programs at one book, and programs that are killed: nothing that was said to be written is lost."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

from kill_book import WRITER, kill_some

from troubleshoot.casebook.store import Book
from troubleshoot.casebook.upkeep import check

#: The bench ``tests/bench/kill_book.py`` kills two hundred times.
KILLS = 8


def test_two_programs_write_a_thousand_cases_each(address: str):
    """Two processes that write at once, each case in a transaction of its own: all two thousand are there."""
    writers = [
        subprocess.Popen(
            [sys.executable, str(WRITER), address, name, "0", "1000", "once"], stdout=subprocess.PIPE, text=True
        )
        for name in ("left", "right")
    ]
    said = [writer.communicate()[0].count("ok ") for writer in writers]
    assert said == [1000, 1000]
    with Book.open(address) as book:
        assert {case.id for case in book.each()} == {f"{n}-{i}" for n in ("left", "right") for i in range(1000)}
        assert len(book.answer_matrix("shortbread").case_nos) == 2000
        assert check(book) == []


def test_killed_writers_lose_nothing_they_had_said(path: Path):
    """However a writer ends, each answer it had acknowledged is there, in the book and in hand, and both are whole."""
    tally = kill_some(path, KILLS, seed=7)
    assert tally.kills == KILLS
    assert tally.said
    assert tally.held
    assert tally.lost == []


def test_a_program_killed_while_it_makes_a_book_leaves_none_or_a_whole_one(path: Path):
    """Half a new book never stands under the book's name; what is left over does not hinder the next."""
    path.parent.mkdir()
    code = (
        "import os, sys\nfrom troubleshoot.casebook import migrate, opening\n"
        "from troubleshoot.casebook.migrations import form_3\n"
        "form_3._fill_shapes = lambda _: os._exit(9)\nopening.open_engine(opening.place(sys.argv[1]))\n"
    )
    done = subprocess.run([sys.executable, "-c", code, str(path)], check=False)
    assert done.returncode == 9
    assert not path.exists()
    with Book.open(path) as book:
        assert book.count() == 0


def test_programs_that_open_a_new_book_at_once_share_one(address: str):
    """Whoever comes first makes it; the others find it, and each case is there."""
    writers = [
        subprocess.Popen([sys.executable, str(WRITER), address, f"w{n}", "0", "5", "once"], stdout=subprocess.DEVNULL)
        for n in range(3)
    ]
    assert [writer.wait() for writer in writers] == [os.EX_OK] * 3
    with Book.open(address) as book:
        assert book.count() == 5 * 3
