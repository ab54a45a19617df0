"""A finished interview becomes a case of the book, with the times of its answers, and goes on being the same case."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest
from small_records import NOON, record

from troubleshoot.casebook import entry
from troubleshoot.casebook.lines import to_line
from troubleshoot.casebook.record import Outcome, Suspected
from troubleshoot.casebook.store import Book
from troubleshoot.inference.facts import Given
from troubleshoot.inference.reason import Reasoner
from troubleshoot.interview.state import State
from troubleshoot.settings import Settings

MINUTE = timedelta(minutes=1)


def test_a_verdict_becomes_a_case_of_this_kitchen(choux: Reasoner, path: Path):
    """Complaint, answers with their times, the verdict, the rules' version, kitchen and role stand in the book."""
    said = State(family="choux", fault="piped_spreads", begun=NOON)
    said = said.with_answer("paste_hang", Given("runs_off"), NOON + MINUTE)
    conclusion = choux.reason(said.case())
    house = Settings(kitchen="lakeside", role="commis")
    made, kept = entry.finish(conclusion, said, "r1", house, open_book=lambda: Book.open(path))
    assert kept.in_book
    with Book.open(path) as book:
        found = book.get(made.id)
    assert found == made
    assert (found.family, found.fault, found.kitchen, found.role) == ("choux", "piped_spreads", "lakeside", "commis")
    assert [(a.sign, a.answer, a.at) for a in found.answers] == [("paste_hang", "runs_off", NOON + MINUTE)]
    assert found.suspects[0] == Suspected(conclusion.suspects[0].cause, conclusion.suspects[0].probability)
    assert (found.rules_version, found.begun, found.outcome) == ("r1", NOON, Outcome.NOT_KNOWN)


def test_a_case_that_went_on_is_brought_up_to_date(path: Path):
    """The same id with another verdict replaces the first; what was said of the case since stays."""
    first = record(1)
    said = replace(first, done=("rest_dough",), pieces=10, pieces_lost=3, note="salvaged", minutes=4.0)
    with Book.open(path) as book:
        entry.put(book, first)
        book.replace(said)
        book.set_outcome("case1", Outcome.RIGHT)
        entry.put(book, replace(first, finished=first.finished + MINUTE, kitchen="lakeside"))
        kept = book.get("case1")
        assert (kept.done, kept.pieces_lost, kept.note, kept.outcome) == (("rest_dough",), 3, "salvaged", Outcome.RIGHT)
        assert (kept.kitchen, kept.finished) == ("lakeside", first.finished + MINUTE)
        entry.put(book, replace(first, suspects=(Suspected("flour_strong", 0.6),)))
        assert book.get("case1").outcome is Outcome.NOT_KNOWN
        assert book.count() == 1


def test_a_case_that_cannot_wait_either_is_told(path: Path, monkeypatch: pytest.MonkeyPatch):
    """With no room for the waiting case the message says so, and nothing is raised."""
    path.parent.mkdir()
    path.write_bytes(b"")
    entry.waiting_folder().parent.mkdir()
    entry.waiting_folder().write_text("in the way", encoding="utf-8")
    kept = entry.keep(record(1), lambda: Book.open(path))
    assert not kept.in_book
    assert "could not be kept" in (kept.message or "")
    assert "print the verdict" in (kept.message or "")


def test_a_waiting_file_that_is_broken_stays_and_hinders_nothing(path: Path):
    """The sound ones go in; the broken one is still there to be looked at."""
    entry.waiting_folder().mkdir(parents=True)
    (entry.waiting_folder() / "a.json").write_text("{", encoding="utf-8")
    (entry.waiting_folder() / "b.json").write_text(to_line(record(2)), encoding="utf-8")
    with Book.open(path) as book:
        assert entry.take_in_waiting(book) == 1
        assert book.get("case2") == record(2)
    assert [file.name for file in entry.waiting_folder().iterdir()] == ["a.json"]


def test_ids_are_short_and_do_not_repeat():
    """Ten letters and digits that are not taken for one another."""
    ids = {entry.new_id() for _ in range(1000)}
    assert len(ids) == 1000
    assert all(len(found) == 10 and not set(found) & set("01iloIO") for found in ids)
