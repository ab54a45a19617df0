"""The place of the case book, and what goes into the book from a verdict, as a person uses them."""

from __future__ import annotations

import json
import subprocess
import sys
from functools import partial
from pathlib import Path

import pytest
from book_person import case, field, fold, held, option, place, press, ready, shown_cases, write
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QFileDialog

from troubleshoot.casebook import demo
from troubleshoot.casebook.record import Outcome, Record
from ui.book_chart import ChartView
from ui.widgets.basic import NumberEdit
from ui.widgets.cards import Card


@pytest.fixture
def at_book(open_window):
    """Return a function that opens a window on a book with these cases, and goes to the place of the book."""

    def go(*records: Record, **settings):
        if records:
            write(*records)
        person = open_window(**settings)
        person.window.go("book")
        ready(person)
        return person

    return go


# -- the place ---------------------------------------------------------------------------


def test_an_empty_book_says_what_to_do(at_book):
    person = at_book()
    assert person.sees("The case book is empty")
    assert person.sees("Put in the book")
    assert person.button("Show me a demo book").isEnabled()


def test_a_book_that_cannot_be_read_is_said_plainly(at_book, own_folders):
    file = own_folders / "data" / "book.db"
    file.parent.mkdir()
    file.write_bytes(b"no book at all")
    person = at_book()
    assert person.sees("The case book cannot be read")
    assert person.sees("The interview works without it")
    file.unlink()
    press(person, "Try again")
    assert person.sees("The case book is empty")


def test_cases_are_listed_newest_first(at_book):
    person = at_book(case(1), case(2, cause="oven_cool", outcome=Outcome.RIGHT, true="oven_cool"))
    titles = [card.title for card in shown_cases(person)]
    names = person.interview.shelf.rulebase("choux").families["choux"].causes
    assert titles == [names["oven_cool"].name, names["egg_overdose"].name]


def test_a_long_list_is_turned_page_by_page(at_book):
    person = at_book(*(case(n) for n in range(30)))
    assert person.sees("1 to 24 of 30 cases")
    press(person, "Older cases")
    assert person.sees("25 to 30 of 30 cases")
    press(person, "Newer cases")
    assert person.sees("1 to 24 of 30 cases")


def test_the_list_is_narrowed_by_outcome(at_book):
    person = at_book(case(1), case(2, outcome=Outcome.RIGHT, true="egg_overdose"))
    person.click(fold(person, "On show"))
    press(person, option(person, "How the verdict came out: Right"))
    assert person.sees("1 to 1 of 1 cases")
    press(person, option(person, "What was made: Shortbread"))
    assert person.sees("No case fits")


def test_somebody_says_that_a_verdict_was_right(at_book):
    person = at_book(case(1))
    press(person, shown_cases(person)[0])
    press(person, "It was right")
    assert (held()[0].outcome, held()[0].true_cause) == (Outcome.RIGHT, "egg_overdose")
    assert person.sees("The verdict was right.")


def test_somebody_says_what_it_was(at_book):
    """Wrong asks what it was; a word typed leaves the causes that hold it, and pressing one notes it."""
    person = at_book(case(1))
    press(person, shown_cases(person)[0])
    person.click("It was wrong")
    assert held()[0].outcome is Outcome.NOT_KNOWN
    person.type("too cool")
    name = person.interview.shelf.rulebase("choux").families["choux"].causes["oven_cool"].name
    press(person, person.button(name))
    assert (held()[0].outcome, held()[0].true_cause) == (Outcome.WRONG, "oven_cool")
    assert person.sees(f"it was: {name}")


def test_an_outcome_is_taken_back(at_book):
    person = at_book(case(1, outcome=Outcome.RIGHT, true="egg_overdose"))
    press(person, shown_cases(person)[0])
    press(person, "Not known")
    assert (held()[0].outcome, held()[0].true_cause) == (Outcome.NOT_KNOWN, None)


def test_pieces_minutes_and_a_note_are_kept_at_once(at_book):
    person = at_book(case(1))
    press(person, shown_cases(person)[0])
    for name, typed in (("Pieces lost", "2"), ("Minutes", "22.5"), ("Note", "=1+1 <b>hot day</b>")):
        edit = field(person, name)
        edit.setFocus()
        edit.selectAll()
        person.type(typed)
        person.press(Qt.Key.Key_Return)
        ready(person)
    (record,) = held()
    assert (record.pieces_lost, record.minutes, record.note) == (2, 22.5, "=1+1 <b>hot day</b>")


def test_more_pieces_than_there_are_is_refused_and_nothing_is_lost(at_book):
    person = at_book(case(1))
    press(person, shown_cases(person)[0])
    edit = field(person, "Pieces lost")
    edit.setFocus()
    edit.selectAll()
    person.type("500")
    person.press(Qt.Key.Key_Return)
    ready(person)
    assert any("could not be noted" in strip for strip in person.window.shown_strips())
    assert held()[0].pieces_lost == 4
    assert next(f for f in person.window.findChildren(NumberEdit) if f.accessibleName() == "Pieces lost").text() == "4"


def test_a_word_is_no_number_of_pieces(at_book):
    person = at_book(case(1))
    press(person, shown_cases(person)[0])
    edit = field(person, "Pieces saved")
    edit.setFocus()
    edit.selectAll()
    person.type("some")
    person.press(Qt.Key.Key_Return)
    assert any("“some” is no number" in strip for strip in person.window.shown_strips())
    assert field(person, "Pieces saved").text() == "16"


def test_what_was_done_is_ticked(at_book):
    person = at_book(case(1))
    press(person, shown_cases(person)[0])
    family = person.interview.shelf.rulebase("choux").families["choux"]
    remedy = next(r for r in family.causes["egg_overdose"].remedies if family.remedies[r].kind != "next-time")
    press(person, person.button(family.remedies[remedy].name))
    assert held()[0].done == (remedy,)


def test_back_leads_from_a_case_to_the_list(at_book):
    person = at_book(case(1))
    press(person, shown_cases(person)[0])
    press(person, "Back")
    assert person.sees("1 to 1 of 1 cases")


def test_what_comes_back_is_drawn_and_said(at_book):
    """Two causes lost 12 and 4 pieces: the chart is drawn, and the figures stand below it."""
    person = at_book(case(1, lost=6), case(2, lost=6), case(3, cause="oven_cool", lost=4))
    press(person, "What comes back")
    assert person.sees("3 cases: 16 pieces lost")
    person.wait(lambda: all(chart.drawn for chart in person.window.findChildren(ChartView) if chart.isVisible()))
    person.click(fold(person, "The same in figures"))
    notes = [card.note for card in place(person).findChildren(Card) if "pieces lost in" in card.note]
    assert notes[0].startswith("12 pieces lost in 2 cases")
    assert "75 %" in notes[0]


def test_a_cause_leads_to_its_cases(at_book):
    person = at_book(case(1, lost=6), case(2, cause="oven_cool", lost=4), case(3, lost=6))
    press(person, "What comes back")
    person.click(fold(person, "The same in figures"))
    press(person, next(c for c in place(person).findChildren(Card) if "12 pieces lost" in c.note))
    assert person.sees("1 to 2 of 2 cases")


@pytest.mark.parametrize("view", ["What comes back", "Week by week", "How often right"])
def test_every_chart_is_drawn_in_the_dark_too(at_book, view):
    cases = [case(n, outcome=Outcome.RIGHT, true="egg_overdose") for n in range(20)]
    person = at_book(*cases, theme="dark", text_size=200)
    press(person, view)
    charts = [chart for chart in place(person).findChildren(ChartView) if chart.isVisible()]
    assert charts
    person.wait(lambda: all(chart.drawn for chart in charts))
    assert all(chart.accessibleName() for chart in charts)


def test_how_often_the_verdicts_were_right(at_book):
    """3 of 4: 75 %, with the interval from 30 to 95 % (Wilson)."""
    cases = [case(n, outcome=Outcome.RIGHT, true="egg_overdose") for n in range(3)]
    person = at_book(*cases, case(4, outcome=Outcome.WRONG, true="oven_cool"), case(5))
    press(person, "How often right")
    assert person.sees("The verdict was right in 3 of 4, 75 % (likely between 30 % and 95 %). Of 1 cases")


def test_what_was_learnt_is_shown_and_can_be_taken_back(at_book):
    cases = [case(n, outcome=Outcome.RIGHT, true="egg_overdose") for n in range(12)]
    person = at_book(*cases)
    press(person, "What was learnt")
    assert person.sees("In this kitchen 12 of 12.")
    press(person, "Follow the rules alone")
    assert person.sees("The ranking follows the rules alone.")
    assert not person.desk.settings.learn


def test_the_plotting_library_is_loaded_for_a_chart_alone():
    """Opening the window, its place of the book and the book's sums loads no plotting library."""
    code = "import sys, ui.app, ui.book_place, ui.book_chart; sys.exit('matplotlib' in sys.modules)"
    assert (
        subprocess.run([sys.executable, "-c", code], cwd=Path(__file__).parents[2], timeout=60, check=False).returncode
        == 0
    )


# -- taking away -------------------------------------------------------------------------


def test_export(at_book, tmp_path):
    person = at_book(case(1), case(2))
    place(person).export_to(tmp_path / "cases.jsonl")
    ready(person)
    lines = (tmp_path / "cases.jsonl").read_text(encoding="utf-8").splitlines()
    assert [json.loads(line)["id"] for line in lines] == ["case001", "case002"]
    assert person.sees("Cases written: 2.")


def test_export_leaves_the_keyboard_where_it_was(at_book, monkeypatch, tmp_path):
    """When the file is written, the focus is on the button that was pressed."""
    person = at_book(case(1))
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_, **__: (str(tmp_path / "cases.csv"), ""))
    person.button("Export").setFocus()
    person.click("Export")
    ready(person)
    assert person.sees("Cases written: 1.")
    assert QApplication.focusWidget().accessibleName() == "Export"


def test_export_overwrites_nothing(at_book, tmp_path):
    person = at_book(case(1))
    (tmp_path / "mine.csv").write_text("mine")
    place(person).export_to(tmp_path / "mine.csv")
    ready(person)
    assert (tmp_path / "mine.csv").read_text() == "mine"
    assert any("There is a file" in strip for strip in person.window.shown_strips())


# -- the demo book -----------------------------------------------------------------------


@pytest.fixture
def short_season(monkeypatch):
    """A season of few cases, so that nobody waits."""
    monkeypatch.setattr(demo, "season", partial(demo.season, weeks=1))
    monkeypatch.setattr(demo, "how_many", lambda seed=1: 5)


def test_the_demo_book_is_made_shown_and_thrown_away(at_book, short_season):
    """It is marked as invented and lies apart: the kitchen's own book stays empty."""
    person = at_book()
    person.click("Show me a demo book")
    person.wait(lambda: person.desk.book.demo and not person.desk.book.busy)
    assert person.sees("All of these cases are invented.")
    assert held() == ()
    press(person, "Throw the demo book away")
    assert person.sees("The case book is empty")
    assert not demo.place().exists()


def test_from_the_demo_book_to_the_own_one(at_book, short_season):
    person = at_book()
    person.click("Show me a demo book")
    person.wait(lambda: person.desk.book.demo and not person.desk.book.busy)
    press(person, "Your own book")
    assert person.sees("The case book is empty")
    press(person, "Show me a demo book")
    assert person.sees("All of these cases are invented.")


def test_making_the_demo_book_can_be_stopped(at_book):
    person = at_book()
    person.click("Show me a demo book")
    person.click("Stop: A season of cases is being invented")
    assert person.sees("The case book is empty")
    assert not demo.place().exists()
