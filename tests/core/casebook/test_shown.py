"""Days in the book's lists and charts are in the program's words, whatever language the system speaks."""

from __future__ import annotations

from datetime import UTC, date, datetime
from pathlib import Path

import pytest
from small_records import record

from troubleshoot.casebook import shown
from troubleshoot.casebook.charts import Labels, write_chart
from troubleshoot.casebook.figures import figures
from troubleshoot.casebook.store import Book

IN_GERMAN = {"Mar": "Mär", "May": "Mai", "Oct": "Okt", "Dec": "Dez"}


def in_german(phrase: str) -> str:
    """A translation that knows months alone."""
    return IN_GERMAN.get(phrase, phrase)


@pytest.mark.parametrize(("number", "name"), [(1, "Jan"), (3, "Mar"), (5, "May"), (8, "Aug"), (9, "Sep"), (12, "Dec")])
def test_a_month_has_its_own_name(number: int, name: str):
    """The twelve names stand in the order of the year."""
    assert shown.day(date(2026, number, 2)) == f"02 {name} 2026"


def test_a_day_is_translated_by_the_program():
    """The word for a month comes from the program's translation; the hour is this machine's."""
    moment = datetime(2026, 3, 2, 12, 30, tzinfo=UTC)
    here = moment.astimezone()
    assert shown.when(moment, in_german) == f"{here.day:02} Mär 2026, {here:%H:%M}"


def test_a_chart_of_weeks_is_marked_in_the_same_words(path: Path, tmp_path: Path):
    """Below the weeks of March to May stand the program's words for them."""
    with Book.open(path) as book:
        book.add_all(record(24 * number) for number in range(80))
        found = figures(book)
    write_chart("weeks", found, tmp_path / "weeks.svg", Labels(lambda *_: "", in_german))
    drawn = (tmp_path / "weeks.svg").read_text(encoding="utf-8")
    assert "Mär" in drawn
    assert "Mai" in drawn
    assert "May" not in drawn
