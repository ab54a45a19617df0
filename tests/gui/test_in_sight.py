"""What matters is in sight: the field that is typed into, what is asked, and a number beside its unit."""

from __future__ import annotations

import practice_pages
import pytest
from PySide6.QtCore import QPoint, QRect, QSize, Qt
from PySide6.QtWidgets import QApplication, QLineEdit, QWidget

from ui.practice import pictures
from ui.practice.explore import Shown
from ui.rules_place import RulesPlace
from ui.widgets.basic import Text, keep_units
from ui.widgets.cards import Card
from ui.widgets.layouts import Sheet
from ui.widgets.rules_list import RulesList
from ui.widgets.search import SearchField

HELD = "\N{NO-BREAK SPACE}"
SMALL = (1024, 600)


def in_sight(widget: QWidget) -> bool:
    """Return whether the whole of a part lies in what can be seen of its page."""
    return _seen(widget, widget.height())


def begins_in_sight(text: Text) -> bool:
    """Return whether the first line of a text can be seen."""
    return _seen(text, text.fontMetrics().height())


def _seen(widget: QWidget, height: int) -> bool:
    sheet = next(s for s in widget.window().findChildren(Sheet) if s.isAncestorOf(widget))
    place = QRect(widget.mapTo(sheet.viewport(), QPoint(0, 0)), QSize(widget.width(), height))
    return sheet.viewport().rect().contains(place)


@pytest.fixture
def large_text(open_window):
    """Somebody who reads text at double size on a small screen."""
    return open_window(size=SMALL, text_size=200)


@pytest.mark.parametrize(
    ("written", "shown"),
    [
        ("how much protein in 100 g?", f"how much protein in 100{HELD}g?"),
        ("more than 12 g of it (36 %)", f"more than 12{HELD}g of it (36{HELD}%)"),
        ("30 °C to 40 °C, 2 cm deep", f"30{HELD}°C to 40{HELD}°C, 2{HELD}cm deep"),
        ("24 pieces, 5 minutes, 4 large eggs", "24 pieces, 5 minutes, 4 large eggs"),
    ],
)
def test_a_number_and_its_unit_stand_on_one_line(written, shown):
    """The space between a number and the sign of its unit does not break; other spaces do."""
    assert keep_units(written) == shown


def test_a_text_is_read_out_as_it_was_written(qapp):
    """Only what is painted holds a number to its unit."""
    assert Text("Weigh 100 g").text() == "Weigh 100 g"


def test_a_field_to_type_in_is_in_sight_when_its_page_opens(large_text):
    """In large text on a small screen the page of causes scrolls to the field that has the focus."""
    practice_pages.batch(large_text.window, 1)
    large_text.settle()
    large_text.click("Name the cause")
    field = QApplication.focusWidget()
    assert isinstance(field, QLineEdit)
    assert in_sight(field)


def test_a_letter_reaches_a_field_and_brings_it_into_sight(large_text):
    """Alt and the letter of the minutes leads to their field, which stood below the edge."""
    large_text.desk.act(lambda: large_text.interview.choose_family("choux"))
    large_text.settle()
    (minutes,) = (f for f in large_text.page.findChildren(QLineEdit) if f.accessibleName().startswith("Minutes"))
    assert not in_sight(minutes)
    large_text.press(Qt.Key.Key_M, Qt.KeyboardModifier.AltModifier)
    assert minutes.hasFocus()
    assert in_sight(minutes)


@pytest.mark.parametrize("typed", ["run", "zabaglione"])
def test_what_is_found_is_in_sight_while_it_is_typed(large_text, typed):
    """The field stays in sight, and below it the first stage with a complaint found, or that there is none."""
    large_text.desk.act(lambda: large_text.interview.choose_family("choux"))
    large_text.settle()
    large_text.type(typed)
    page = large_text.page
    first = next((title for title, _, _ in page.groups if title.isVisible()), page.nothing)
    assert begins_in_sight(first)
    assert in_sight(page.search)


def test_the_question_before_deleting_is_in_sight(large_text):
    """Forget me asks, and the answer that keeps the record has the focus where it can be seen."""
    place = practice_pages.learner(large_text.window)
    place.go("record")
    large_text.settle()
    large_text.click("Forget me: delete all that is kept")
    keep = QApplication.focusWidget()
    assert keep.accessibleName() == "Keep it"
    assert in_sight(keep)


def test_nothing_found_leaves_the_field_where_it_was(person):
    """The field of the rule base does not move under the words that are typed into it."""
    field = open_rules(person).search
    person.type("z")
    before = field.mapTo(person.window, QPoint(0, 0)).y()
    person.type("abaglione")
    assert person.sees("Nothing here matches “zabaglione”")
    assert field.mapTo(person.window, QPoint(0, 0)).y() == before


def test_a_page_opens_at_its_top_when_its_rules_were_read_before(person):
    """A page that is filled before it is shown is not scrolled by where its field stood then."""
    shelf = person.desk.session.shelf
    for header in shelf.headers:
        shelf.reasoner(header.id)
    rules = open_rules(person)
    assert person.window.stack.currentWidget().sheet.verticalScrollBar().value() == 0
    assert in_sight(rules.search)


def top_of(widget: QWidget) -> int:
    """Return how far below the top of its window a part begins."""
    return widget.mapTo(widget.window(), QPoint(0, 0)).y()


def open_rules(person) -> RulesList:
    """Go to the rule base, and return its list once it was read."""
    person.click(person.window.buttons["rules"])
    place = person.window.stack.currentWidget()
    assert isinstance(place, RulesPlace)
    person.wait(lambda: place.list is not None)
    return place.list


@pytest.mark.parametrize("typed", ["steam", "zabaglione"])
def test_what_is_found_in_the_rules_is_in_sight_while_typing(large_text, typed):
    """In large text on a small screen the rule base says how much was found beside the field."""
    rules = open_rules(large_text)
    large_text.type(typed)
    assert begins_in_sight(rules.said)
    assert in_sight(rules.search)


def test_a_sign_found_in_practice_is_in_sight_while_typing(large_text):
    """In large text on a small screen the heading of the signs found stands below the field."""
    practice_pages.explored(Shown(pictures.SIGN))(large_text.window)
    page = practice_pages.place_of(large_text.window).page
    finder = page.findChild(SearchField)
    finder.setFocus()
    large_text.type("oven")
    first = min((card for card in page.findChildren(Card) if card.isVisible()), key=top_of)
    assert top_of(first) > top_of(finder)
    assert _seen(first, first.fontMetrics().height())
    assert in_sight(finder)
