"""The interview's steps and the window's pages are the same, and the shell's places are data."""

from __future__ import annotations

import sys
from pathlib import Path

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication

import ui.pages
from troubleshoot.interview.state import STEPS
from ui.app import main
from ui.pages import PAGES, page_for
from ui.places import PLACES
from ui.window import Window

RULES = Path(ui.pages.__file__).parents[2] / "rules"


def test_every_step_has_a_page_and_every_page_a_step():
    """No step without a page, no page without a step."""
    assert tuple(PAGES) == STEPS
    assert [page_for(step).step for step in STEPS] == list(STEPS)


def test_pages_are_files_named_as_their_step():
    """A page is found where its step's name says."""
    files = {path.stem for path in Path(ui.pages.__file__).parent.glob("*.py")} - {"__init__", "base"}
    assert files == set(STEPS)


def test_every_place_has_a_button_and_every_button_works(person):
    """The shell shows no button that leads nowhere."""
    for place in PLACES:
        person.click(person.window.buttons[place.id])
        assert person.window.at == place.id
        assert person.window.stack.currentWidget().isVisible()


def test_tiles_are_those_of_the_rule_base(person):
    """One tile a family, in words and with the families' own names."""
    tiles = person.interview.tiles()
    assert [tile.title for tile in person.page.tiles] == [tile.name for tile in tiles]


def test_the_program_ends_when_its_window_is_closed(qapp, monkeypatch):
    """``main`` opens the window and returns 0 once it is closed."""
    monkeypatch.setattr(sys, "excepthook", sys.excepthook)
    QTimer.singleShot(0, QApplication.closeAllWindows)
    assert main(RULES) == 0


def test_a_mistake_of_the_program_is_said(qapp, monkeypatch, capsys):
    """An error nobody foresaw leaves the window open, says that answers are kept, and is written out."""
    monkeypatch.setattr(sys, "excepthook", sys.excepthook)
    said = []

    def go_wrong():
        window = next(w for w in QApplication.topLevelWidgets() if isinstance(w, Window) and w.isVisible())
        sys.excepthook(ValueError, ValueError("a bug"), None)
        said.extend(window.shown_strips())
        QApplication.closeAllWindows()

    QTimer.singleShot(0, go_wrong)
    assert main(RULES) == 0
    assert said == ["The program made a mistake (ValueError)."]
    assert "a bug" in capsys.readouterr().err
