"""The window is there before the rules are: what is read meanwhile is said, and nobody has to wait for it."""

from __future__ import annotations

import sys
import threading
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtWidgets import QWidget

from troubleshoot import settings as kept_settings
from troubleshoot.errors import RuleBaseError
from troubleshoot.interview.shelf import Shelf
from troubleshoot.interview.state import State
from troubleshoot.interview.store import CaseStore
from troubleshoot.problems import Place, Problem
from troubleshoot.settings import Settings
from ui.app import make_window
from ui.reading import Reader

RULES = Path(__file__).parents[2] / "rules"


class SlowShelf(Shelf):
    """A shelf that reads no family before it is let."""

    def __init__(self) -> None:
        super().__init__(RULES)
        self.let = threading.Event()
        self.broken = False

    def reasoner(self, family):
        """Wait until let, as long as reading takes on a slow machine."""
        self.let.wait(20)
        if self.broken:
            raise RuleBaseError([Problem(Place("rules/choux/family.yaml", 3, 1), "name", "is empty", "write the name")])
        return super().reasoner(family)


@pytest.fixture
def slow(monkeypatch, make_person):
    """A person at a window whose families are read slowly, and the shelf."""
    shelf = SlowShelf()
    monkeypatch.setattr("ui.reading.read_shelf", lambda folder: shelf)
    monkeypatch.setattr(Reader, "read_ahead", lambda *_: None)
    kept_settings.save(replace(Settings(theme="light", welcomed=True)))
    person = make_person(make_window(RULES, wait=False))
    person.wait(lambda: person.desk.session is not None)
    yield person, shelf
    shelf.let.set()


def test_the_first_page_is_painted_before_the_rules_are_read(monkeypatch, make_person):
    """The window says what it reads; then the families stand there, under the same heading."""
    let = threading.Event()

    def read(folder):
        let.wait(20)
        return Shelf(folder)

    monkeypatch.setattr("ui.reading.read_shelf", read)
    monkeypatch.setattr(Reader, "read_ahead", lambda *_: None)
    kept_settings.save(replace(Settings(theme="light", welcomed=True)))
    person = make_person(make_window(RULES, wait=False))
    assert person.sees("What are you making?")
    assert person.sees("Reading the rule files …")
    let.set()
    person.wait(lambda: person.desk.session is not None)
    assert person.sees("What are you making?")
    assert not person.sees("Reading the rule files …")
    assert len(person.page.tiles) == 5


def test_a_family_is_read_while_the_page_says_so(slow):
    """After its tile is pressed the page names what is read, and goes on by itself."""
    person, shelf = slow
    person.press("2")
    assert person.sees("Reading what is known about Choux …")
    assert person.interview.step == "family"
    shelf.let.set()
    person.wait(lambda: person.interview.step == "fault")
    assert person.interview.state.family == "choux"


def test_nobody_has_to_wait_for_a_family(slow):
    """Back leads to the families at once, and what was read meanwhile changes nothing."""
    person, shelf = slow
    person.press("2")
    person.click("Back")
    assert len(person.page.tiles) == 5
    shelf.let.set()
    person.wait(lambda: shelf.holds("choux"))
    assert person.interview.step == "family"


def test_a_broken_family_is_said_after_the_wait(slow):
    """What is wrong stands there by file and line, and the other families can be gone back to."""
    person, shelf = slow
    shelf.broken = True
    shelf.let.set()
    person.press("2")
    person.wait(lambda: person.sees("rules/choux/family.yaml, line 3"))
    person.click("To the families")
    assert len(person.page.tiles) == 5


def test_families_are_read_ahead(monkeypatch, make_person):
    """Without anything pressed every family is read, so that a tile opens at once; that of an unfinished case first."""
    shelf = SlowShelf()
    asked = []
    monkeypatch.setattr(shelf, "reasoner", asked.append)
    monkeypatch.setattr("ui.reading.read_shelf", lambda folder: shelf)
    CaseStore().save("left", State(step="fault", family="shortbread", fault="spread"))
    person = make_person(make_window(RULES, wait=False))
    person.wait(lambda: len(asked) == 5)
    assert asked[0] == "shortbread"
    assert sorted(asked) == [header.id for header in shelf.headers]


@pytest.mark.parametrize("place", ["case", "amounts", "practice", "rules", "settings"])
def test_every_place_can_be_gone_to_while_the_rules_are_read(monkeypatch, make_person, place):
    """No button is dead and none fails before the rules are there."""
    let = threading.Event()

    def read(folder):
        let.wait(20)
        return Shelf(folder)

    monkeypatch.setattr("ui.reading.read_shelf", read)
    monkeypatch.setattr(Reader, "read_ahead", lambda *_: None)
    person = make_person(make_window(RULES, wait=False))
    person.click(person.window.buttons[place])
    let.set()
    person.wait(lambda: person.desk.session is not None)
    assert person.window.at == place
    assert person.window.stack.currentWidget().isVisible()


def test_no_session_is_too_long_for_the_toolkit(qtbot):
    """Calls that give back nothing cannot use up Python's nothing: some builds of the toolkit lose one each time."""
    widget = QWidget()
    qtbot.addWidget(widget)
    before = sys.getrefcount(None)
    for _ in range(1000):
        widget.update()
    lost = before - sys.getrefcount(None)
    assert lost < 500 or sys.getrefcount(None) > 1 << 30, "install another PySide6: this one ends the program"


def test_the_window_opens_within_the_screen(qapp):
    """On a small screen nothing of the first page lies beyond its edge."""
    room = qapp.primaryScreen().availableGeometry()
    window = make_window(RULES)
    try:
        assert window.width() <= room.width()
        assert window.height() <= room.height()
    finally:
        window.close()
