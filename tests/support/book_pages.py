"""The pages of the Case book place, each reached in a window: for the test of every page and for the album."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from troubleshoot.casebook.errors import BookError
from troubleshoot.casebook.record import GivenAnswer, Outcome, Record, Suspected
from troubleshoot.casebook.store import Book
from ui.book_case import CasePanel
from ui.book_chart import ChartView
from ui.book_place import BookPlace
from ui.widgets.cards import Fold
from ui.window import Window

_MONDAY = datetime(2025, 6, 2, 9, tzinfo=UTC)
_CAUSES = ("underbaked", "underbaked", "egg_overdose", "oven_cool", "skin_on_piped")


def _case(number: int) -> Record:
    at = _MONDAY + timedelta(days=2 * number)
    cause = _CAUSES[number % len(_CAUSES)]
    wrong = number % 7 == 3
    return Record(
        f"lakeside{number:03}", "choux", at, at, "rose_fell_in", "bake",
        (GivenAnswer("paste_hang", "v_slow", None, at), GivenAnswer("egg_in_temp", None, 41.0, at)),
        (Suspected(cause, 0.6 + 0.1 * (number % 4)), Suspected("altitude", 0.05)), True, "848e8904d541",
        kitchen="Lakeside", role="second cook", outcome=Outcome.WRONG if wrong else Outcome.RIGHT,
        true_cause="altitude" if wrong else cause, pieces=24, pieces_saved=18, pieces_lost=6, minutes=25.0,
        note="Hot afternoon",
    )  # fmt: skip


def settle(window: Window) -> None:
    """Wait until everything that was begun off the event loop is done and shown, every chart drawn."""
    charts: list[ChartView] = []
    for turn in range(200):
        QApplication.processEvents()
        charts = [chart for chart in window.findChildren(ChartView) if chart.isVisible()]
        if turn > 3 and not window.desk.book.busy and all(chart.drawn for chart in charts):
            return
        while window.desk.book.busy:
            QApplication.processEvents()
        QTest.qWait(10)


def _place(window: Window) -> BookPlace:
    window.go("book")
    settle(window)
    place = window.stack.currentWidget()
    assert isinstance(place, BookPlace)
    return place


def _empty(window: Window) -> None:
    _place(window)


def _view(view: str) -> Callable[[Window], None]:
    def reach(window: Window) -> None:
        with Book.open() as book:
            if not book.ids_beginning("lakeside"):
                book.add_all(_case(number) for number in range(60))
        _place(window)._view(view)
        settle(window)

    return reach


def _unfolded(view: str) -> Callable[[Window], None]:
    def reach(window: Window) -> None:
        _view(view)(window)
        for fold in window.findChildren(Fold):
            if fold.isVisible():
                fold.setChecked(True)
        settle(window)

    return reach


def _open_case(window: Window) -> None:
    _view("cases")(window)
    _place(window).show_case("lakeside003")
    settle(window)


def _what_was_it(window: Window) -> None:
    _open_case(window)
    _panel(window).ask_what_it_was()


def _panel(window: Window) -> CasePanel:
    return next(panel for panel in window.findChildren(CasePanel) if panel.isVisible())


def _unreadable(window: Window) -> None:
    place = _place(window)
    place._show(place._asked, BookError(f"{Path('book.db')}: the file is damaged. The file was left as it is."))


def _seen(window: Window) -> None:
    """The verdict with past cases like it."""
    desk = window.desk
    window.go("case")
    desk.act(lambda: desk.interview.choose_family("choux"))
    desk.act(lambda: desk.interview.choose_fault("rose_fell_in"))
    desk.act(lambda: desk.interview.volunteer("paste_hang", "v_slow"))
    desk.act(desk.interview.to_verdict)
    fold = next(f for f in window.findChildren(Fold) if f.title == "Seen before?" and f.isVisible())
    fold.setChecked(True)
    settle(window)


#: Every page, by its name; the first needs an empty book.
PAGES: dict[str, Callable[[Window], None]] = {
    "book, empty": _empty,
    "book, cases": _unfolded("cases"),
    "book, what comes back": _unfolded("causes"),
    "book, weeks": _view("weeks"),
    "book, how often right": _view("right"),
    "book, what was learnt": _view("habits"),
    "book, a case": _open_case,
    "book, what was it": _what_was_it,
    "book, seen before": _seen,
    "book, unreadable": _unreadable,
}
