"""Every page, in both palettes, at 100 and 200 %, on a small and a large screen: names, keys, targets, room."""

from __future__ import annotations

from collections.abc import Callable

import book_pages
import case_pages
import practice_pages
import pytest
import rules_pages
from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence
from PySide6.QtWidgets import QAbstractButton, QApplication, QLabel, QLineEdit, QRadioButton, QWidget

from troubleshoot.problems import Place, Problem
from ui.amounts_list import SCHEDULE, STORAGE
from ui.style import tokens
from ui.widgets.basic import FieldLabel, Text
from ui.widgets.cards import Card
from ui.widgets.chain import ChainBox
from ui.widgets.layouts import Sheet

SIZES = {"small": (1024, 600), "large": (1920, 1080)}


def _family(person):
    other = person.interview.state
    person.desk.act(lambda: person.interview.choose_family("choux"))
    person.desk.act(lambda: person.interview.choose_fault("paste_runny"))
    person.desk.close()
    person.desk.case_id = person.desk.store.new_id()
    person.desk.act(lambda: person.interview.resume(other))


def _fault(person):
    person.desk.act(lambda: person.interview.choose_family("choux"))


def _drawn_question(person):
    person.to_question("paste_runny")
    person.click("Can't tell")
    person.desk.act(lambda: person.interview.show("paste_hang"))
    person.page.toggle_why()


def _number_question(person):
    person.to_question("paste_runny")
    person.click("Can't tell")
    person.desk.act(lambda: person.interview.show("panade_loss"))


def _trouble(person):
    person.to_question(None)
    person.press(Qt.Key.Key_Return)


def _verdict(person):
    person.to_question("paste_runny")
    person.desk.act(lambda: person.interview.volunteer("paste_hang", "runs_off"))
    person.desk.act(person.interview.to_verdict)
    for section in person.page.sections:
        section.head.setChecked(True)


def _unsure(person):
    person.to_question(None)
    person.desk.act(person.interview.to_verdict)


def _settings(person):
    person.window.go("settings")


def _amounts(person, name=None):
    person.window.go("amounts")
    person.window.stack.currentWidget().open(name)


def _no_such_amount(person):
    _amounts(person, "blend_up")
    person.window.stack.currentWidget().findChildren(QLineEdit)[3].setText("60")


def _problems(person):
    long = "a very long name of a cause that does not exist in any of the files of this family of pastry"
    person.desk.problems = (Problem(Place("rules/choux/causes/wet.yaml", 3, 1), "wet", long, "write another"),) * 3
    person.desk.changed.emit()


PAGES: dict[str, Callable] = {
    "family": _family,
    "fault": _fault,
    "question with drawings": _drawn_question,
    "question with a number": _number_question,
    "question with a strip": _trouble,
    "verdict": _verdict,
    "verdict, unsure": _unsure,
    "settings": _settings,
    "amounts": _amounts,
    "amounts, one with words": lambda person: _amounts(person, "ganache_chocolate"),
    "amounts, one with a plot": lambda person: _amounts(person, "cooling_forecast"),
    "amounts, refused": _no_such_amount,
    "amounts, storage": lambda person: _amounts(person, STORAGE),
    "amounts, schedule": lambda person: _amounts(person, SCHEDULE),
    **{name: lambda person, go=go: go(person.window) for name, go in book_pages.PAGES.items()},
    **{name: lambda person, go=go: go(person.window) for name, go in practice_pages.PAGES.items()},
    **{name: lambda person, go=go: go(person.window) for name, go in rules_pages.PAGES.items()},
    "problems": _problems,
}


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("percent", [100, 200])
@pytest.mark.parametrize("theme", ["light", "dark"])
def test_every_page(open_window, theme, percent, size):
    """Names, focus, targets and room hold on every page."""
    person = open_window(size=SIZES[size], theme=theme, text_size=percent, welcomed=False)
    wrong = []
    for name, reach in PAGES.items():
        person.window.go("case")
        person.desk.problems = ()
        person.desk.act(person.interview.restart)
        reach(person)
        person.settle()
        found = [*names(person), *targets(person, percent), *room(person), *letters(person), *plain(person)]
        found += [*focus_shows(person), *reached_by_tab(person)]
        wrong += [f"{name}: {one}" for one in found]
    assert wrong == []


@pytest.mark.parametrize(("theme", "percent"), [("light", 100), ("dark", 200)])
@pytest.mark.parametrize("family", case_pages.FAMILIES)
def test_every_page_of_a_case(open_window, family, theme, percent):
    """The same holds in every family on a small screen, whatever its words and drawings are."""
    person = open_window(size=SIZES["small"], theme=theme, text_size=percent, welcomed=False)
    wrong = []
    for name in case_pages.PAGES:
        case_pages.reach(person.window, name, family)
        person.settle()
        found = [*names(person), *targets(person, percent), *room(person), *letters(person), *plain(person)]
        wrong += [f"{name}: {one}" for one in [*found, *reached_by_tab(person)]]
    assert wrong == []


def shown(person, *kinds: type) -> list[QWidget]:
    """Return the widgets of these kinds that are on show."""
    return [w for kind in kinds for w in person.window.findChildren(kind) if w.isVisible()]


def controls(person) -> list[QWidget]:
    """Return everything that can be reached by the keyboard."""
    every = shown(person, QWidget)
    return [w for w in every if w.isEnabled() and w.focusPolicy() & Qt.FocusPolicy.TabFocus]


def label(widget: QWidget) -> str:
    """Return words that tell which widget is meant."""
    return f"{type(widget).__name__} '{widget.accessibleName()[:60]}'"


def names(person):
    """Every control says what it is."""
    yield from (f"{label(w)} has no name" for w in controls(person) if not w.accessibleName().strip())


def targets(person, percent):
    """Everything to press or type into is at least 44 px high, and higher where its text is."""
    least = max(tokens.TARGET, 1.5 * tokens.BASE * percent / 100)
    for widget in shown(person, QAbstractButton, QLineEdit):
        if widget.height() < least or widget.width() < least:
            yield f"{label(widget)} is only {widget.width()} x {widget.height()}"


def room(person):
    """Nothing is cut off, and nothing needs scrolling sideways."""
    for sheet in shown(person, Sheet):
        if sheet.horizontalScrollBar().maximum() > 0:
            yield f"the page scrolls sideways by {sheet.horizontalScrollBar().maximum()}"
    for widget in shown(person, Text, QAbstractButton, QLineEdit, ChainBox):
        if widget.width() < widget.minimumSizeHint().width():
            yield f"{label(widget)} {getattr(widget, 'title', '')} is too narrow: {widget.width()}"
        needed = (
            widget.heightForWidth(widget.width()) if widget.hasHeightForWidth() else widget.minimumSizeHint().height()
        )
        if widget.height() < needed:
            yield f"{label(widget)} is cut off: {widget.height()} of {needed}"
        parent = widget.parentWidget()
        if not isinstance(parent, Sheet) and not parent.rect().contains(widget.geometry()):
            yield f"{label(widget)} sticks out of what holds it"


def letters(person):
    """No letter stands for two things."""
    seen: dict[str, str] = {}
    for widget in shown(person, QAbstractButton, FieldLabel):
        key = QKeySequence.mnemonic(widget.text()).toString()
        if key and key in seen:
            yield f"{key} is both {seen[key]} and {label(widget)}"
        if key:
            seen[key] = label(widget)


def plain(person):
    """No text is ever read as markup."""
    for text in shown(person, QLabel):
        if text.textFormat() != Qt.TextFormat.PlainText:
            yield f"{text.text()[:40]} could be read as markup"


def focus_shows(person):
    """What has the focus looks different."""
    for widget in controls(person):
        widget.clearFocus()
        before = widget.grab().toImage()
        widget.setFocus(Qt.FocusReason.TabFocusReason)
        if not widget.hasFocus():
            yield f"{label(widget)} does not take the focus"
        elif isinstance(widget, QLineEdit):
            continue  # its ring is a rule of the style sheet, and a caret blinks in it
        elif widget.grab().toImage() == before:
            yield f"{label(widget)} does not show that it has the focus"


def reached_by_tab(person):
    """Tab comes past everything that can be reached, cards in their order."""
    wanted = [w for w in controls(person) if not isinstance(w, QRadioButton)]
    wanted[0].setFocus(Qt.FocusReason.TabFocusReason)
    passed = [QApplication.focusWidget()]
    for _ in range(3 * len(controls(person)) + 10):
        person.qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Tab)
        now = QApplication.focusWidget()
        if now is passed[0]:
            break
        passed.append(now)
    yield from (f"Tab does not reach {label(w)}" for w in wanted if w not in passed)
    for grid in {card.parentWidget() for card in shown(person, Card)}:
        order = [w for w in passed if w.parentWidget() is grid]
        reading = sorted(order, key=lambda w: (w.y(), w.x()))
        if order != reading:
            yield f"Tab jumps about among {[label(w) for w in order]}"


def test_no_empty_scrolling(open_window):
    """A page that fits has nothing to scroll."""
    person = open_window(size=SIZES["large"], welcomed=False)
    assert person.page.sheet.verticalScrollBar().maximum() == 0
