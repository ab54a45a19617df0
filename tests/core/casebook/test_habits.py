"""From the book to the ranking: what counts, and from when on."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from troubleshoot.advice import report
from troubleshoot.casebook.habits import heed, learnt, of_kitchen
from troubleshoot.casebook.record import Outcome, Record, Suspected
from troubleshoot.casebook.store import Book
from troubleshoot.interview.session import Session
from troubleshoot.settings import Settings

NOON = datetime(2025, 6, 2, 12, tzinfo=UTC)


def cases(count: int, said="egg_overdose", was="egg_overdose", family="choux", prefix="c", **more) -> list[Record]:
    """Choux cases with a known outcome."""
    outcome = Outcome.RIGHT if said == was else Outcome.WRONG
    return [
        Record(
            f"{prefix}{n}", family, NOON, NOON, None, None, (), (Suspected(said, 0.9),), True, "r1",
            outcome=outcome, true_cause=was, **more,
        )
        for n in range(count)
    ]  # fmt: skip


@pytest.fixture
def book(tmp_path):
    with Book.open(tmp_path / "book.db") as opened:
        yield opened


def test_nine_outcomes_are_not_enough(book, choux):
    book.add_all(cases(9))
    assert learnt(book, choux).missing == 1
    assert heed(book, ["choux"])(choux) is choux


def test_from_ten_outcomes_on_the_ranking_heeds_them(book, choux):
    book.add_all(cases(10))
    heeding = heed(book, ["choux"])
    assert heeding(choux).habits.by_cause["egg_overdose"].count == 10
    assert heeding(choux) is heeding(choux)


def test_a_wrong_verdict_counts_for_what_it_was(book, choux):
    book.add_all(cases(3, said="egg_overdose", was="oven_cool"))
    habits = learnt(book, choux).habits
    assert (habits.by_cause["oven_cool"].count, habits.by_cause["egg_overdose"].count) == (3, 0)


def test_other_families_and_unknown_outcomes_do_not_count(book, choux):
    book.add_all(cases(4, family="shortbread", said="over_baked", was="over_baked"))
    book.add(Record("open", "choux", NOON, NOON, None, None, (), (Suspected("oven_cool", 0.9),), True, "r1"))
    assert learnt(book, choux).habits.confirmed == 0


def test_invented_cases_do_not_count_unless_asked(book, choux):
    book.add_all(cases(12, invented=True))
    assert learnt(book, choux).habits.confirmed == 0
    assert learnt(book, choux, invented=True).habits.confirmed == 12


def test_one_kitchen_of_several(book, choux):
    book.add_all(cases(11, kitchen="boathouse"))
    book.add_all(cases(2, kitchen="terrace", prefix="t"))
    assert learnt(book, choux).habits.confirmed == 13
    assert learnt(book, choux, "terrace").habits.confirmed == 2
    assert heed(book, ["choux"], "terrace")(choux) is choux


def test_the_weight_and_the_least_count_are_those_of_the_vocabulary(book, choux):
    """Forty cases and ten, as rules/vocabulary.yaml says: 10 of 10 raise a share s to (40 s + 10) / 50."""
    book.add_all(cases(10))
    habit = learnt(book, choux).habits.by_cause["egg_overdose"]
    assert habit.after == pytest.approx((40 * habit.before + 10) / 50)


def test_the_verdict_says_what_was_learnt(book, shelf):
    """An interview that heeds the book names the count; one that does not says nothing of it."""
    book.add_all(cases(7) + cases(5, said="oven_cool", was="oven_cool", prefix="o"))
    session = Session(shelf)
    session.heed = heed(book, ["choux"])
    session.choose_family("choux")
    session.choose_fault("paste_runny")
    session.volunteer("paste_hang", "runs_off")
    session.volunteer("egg_measure", "all_in_weighed")
    heeding = session.verdict()
    assert (heeding.cause, heeding.habit.count, heeding.habit.of) == ("egg_overdose", 7, 12)
    assert "in 7 of 12 confirmed cases" in report.as_text(heeding)
    session.heed = None
    assert session.verdict().habit is None
    assert "case book" not in report.as_text(session.verdict())


def test_a_kitchen_without_a_book_or_with_a_broken_one_follows_the_rules(own_folders):
    file = own_folders / "data" / "book.db"
    assert of_kitchen(["choux"], Settings()) is None
    assert not file.exists()
    file.parent.mkdir()
    file.write_bytes(b"no book")
    assert of_kitchen(["choux"], Settings()) is None


def test_the_setting_takes_it_back(choux, own_folders):
    """The kitchen's own book with ten outcomes is heeded, unless the setting says otherwise."""
    with Book.open() as own:
        own.add_all(cases(10))
    assert of_kitchen(["choux"], Settings())(choux).habits.confirmed == 10
    assert of_kitchen(["choux"], Settings(learn=False)) is None
