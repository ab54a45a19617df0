"""The window under test: on a display of its own, with folders of its own, used as a person uses it."""

from __future__ import annotations

import gc
import os
import re
import unicodedata
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from troubleshoot import settings as kept_settings
from troubleshoot.interview.shelf import Shelf
from troubleshoot.settings import Settings
from ui.app import make_window
from ui.sweep import Sweeper
from ui.widgets.basic import Button, Text
from ui.widgets.cards import Card
from ui.widgets.layouts import Sheet
from ui.window import Window

if not os.environ.get("DISPLAY"):
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

RULES = Path(__file__).parents[2] / "rules"
FAMILY, CAUSE = "choux", "egg_overdose"


class Person:
    """Somebody at the window: reads what is there, presses what can be pressed."""

    def __init__(self, window: Window, qtbot) -> None:
        self.window, self.qtbot, self.desk = window, qtbot, window.desk

    @property
    def page(self):
        """The page on show."""
        return self.window.case.page

    @property
    def interview(self):
        """The interview behind the window."""
        return self.desk.interview

    def button(self, name: str) -> QWidget:
        """Return the button of that name which is on show."""
        for kind in (Button, Card):
            for button in self.window.findChildren(kind):
                if button.accessibleName() == name and button.isVisible():
                    return button
        raise LookupError(f"there is no button '{name}' on show")

    def click(self, what: str | QWidget) -> None:
        """Press something with the mouse."""
        widget = self.button(what) if isinstance(what, str) else what
        self.bring_into_view(widget)
        self.qtbot.mouseClick(widget, Qt.MouseButton.LeftButton)
        self.settle()

    def bring_into_view(self, widget: QWidget) -> None:
        """Scroll to a part, as somebody does before pressing it."""
        holder = widget.parentWidget()
        while holder is not None and not isinstance(holder, Sheet):
            holder = holder.parentWidget()
        if holder is not None:
            holder.show_from_top(widget)

    def wait(self, until: Callable[[], bool]) -> None:
        """Wait until something has come about, and let the window finish."""
        self.qtbot.waitUntil(until, timeout=20_000)
        self.settle()

    def press(self, key, modifier=Qt.KeyboardModifier.NoModifier) -> None:
        """Press a key where the focus is."""
        QTest.keyClick(QApplication.focusWidget() or self.window, key, modifier)
        self.settle()

    def type(self, text: str) -> None:
        """Type where the focus is."""
        QTest.keyClicks(QApplication.focusWidget() or self.window, text)
        self.settle()

    def settle(self) -> None:
        """Let the window finish what it has begun."""
        for _ in range(3):
            QApplication.processEvents()
        QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)

    def texts(self) -> list[str]:
        """Return every text on show."""
        return [text.text() for text in self.window.findChildren(Text) if text.isVisible()]

    def sees(self, words: str) -> bool:
        """Return whether a text on show holds the words."""
        return any(words in text for text in self.texts())

    def to_question(self, fault: str | None = None, family: str = FAMILY) -> None:
        """Go to the first question of a family."""
        self.desk.act(lambda: self.interview.choose_family(family))
        self.desk.act(lambda: self.interview.choose_fault(fault))
        self.settle()


@pytest.fixture
def knows() -> tuple[str, str, Callable[[str], str | float]]:
    """A cause, with the complaint and the answers of a person in whose batch it is at work."""
    family = shared_shelf().rulebase(FAMILY).families[FAMILY]
    example = next(e for e in family.causes[CAUSE].examples if e.expect == "first")
    shows = family.causes[CAUSE].shows_as

    def answer(sign: str) -> str | float:
        if sign in example.answers:
            return example.answers[sign]
        levels = shows.get(sign)
        best = max(levels, key=lambda a: levels[a]) if levels else "cant-tell"
        return best if levels and levels[best] >= 0.8 else "cant-tell"

    assert example.fault is not None
    return CAUSE, example.fault, answer


_shelf: list[Shelf] = []


def shared_shelf() -> Shelf:
    """Return the shelf of the shipped rules, read once for all tests."""
    if not _shelf:
        _shelf.append(Shelf(RULES))
        gc.freeze()  # what all tests share is not looked through again after each of them
    return _shelf[0]


@pytest.fixture(autouse=True)
def _swept(qapp) -> Iterator[None]:
    """A window is swept up where it was made, as in the program, and before the next test begins."""
    sweeper = Sweeper(qapp)
    yield
    sweeper.deleteLater()
    QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    gc.collect()
    gc.enable()


@pytest.fixture(autouse=True)
def _own_folders(tmp_path, monkeypatch):
    monkeypatch.setenv("BATCHMEND_DATA", str(tmp_path / "data"))
    monkeypatch.setenv("BATCHMEND_SETTINGS", str(tmp_path / "settings"))
    monkeypatch.setattr("ui.reading.read_shelf", lambda folder: shared_shelf() if folder == RULES else Shelf(folder))
    yield
    QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)


@pytest.fixture
def make_person(qtbot):
    """Return a function that shows a window and gives the person at it."""

    def make(window: Window, size=(1180, 760)) -> Person:
        qtbot.addWidget(window)
        window.resize(*size)
        window.show()
        window.activateWindow()
        qtbot.waitActive(window)
        window.case.take_focus()
        person = Person(window, qtbot)
        person.settle()
        return person

    return make


@pytest.fixture
def open_window(make_person):
    """Return a function that opens a window and gives the person at it."""

    def make(rules: Path = RULES, size=(1180, 760), **settings) -> Person:
        wanted = replace(Settings(theme="light", welcomed=True), **settings)
        kept_settings.save(wanted)
        return make_person(make_window(rules), size)

    return make


@pytest.fixture
def squeezed() -> Callable[[str], str]:
    """Return a function that leaves spaces and ligatures out of a text: a page breaks lines where it likes."""
    return lambda text: re.sub(r"\s+", "", unicodedata.normalize("NFKC", text))


@pytest.fixture
def person(open_window) -> Person:
    """A person at a window of the usual size."""
    return open_window()
