"""Settings hold at once, are kept, and the first start asks two things and no more."""

from __future__ import annotations

import time

from book_person import case, press, ready, write
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QApplication

from troubleshoot import settings as kept_settings
from troubleshoot.casebook.record import Outcome
from ui.style import tokens
from ui.style.sheet import look
from ui.widgets.basic import Option, Text


def choose(person, name):
    """Press the choice of that name."""
    person.click(next(o for o in person.window.findChildren(Option) if o.accessibleName() == name and o.isVisible()))


def test_first_start_asks_two_things_that_can_be_skipped(open_window):
    """Units and oven stand below the tiles; skipped, they do not come back."""
    person = open_window(welcomed=False)
    assert person.sees("Temperatures in")
    assert person.sees("Your oven")
    person.click("Skip units and oven")
    assert not person.sees("Temperatures in")
    assert kept_settings.load().settings.welcomed
    assert not kept_settings.load().settings.fahrenheit


def test_first_start_keeps_what_is_chosen(open_window):
    """A choice on the first page holds at once and is kept."""
    person = open_window(welcomed=False)
    choose(person, "Temperatures in: °F")
    choose(person, "Your oven: With a fan")
    person.click("Done with units and oven")
    kept = kept_settings.load().settings
    assert (kept.fahrenheit, kept.oven, kept.welcomed) == (True, "fan", True)
    assert person.interview.wording.fahrenheit


def test_units_hold_on_the_page_on_show(person):
    """Degrees change in a verdict that is open."""
    person.to_question("paste_runny")
    person.click("Verdict as it stands")
    assert any("°C" in text for text in person.texts())
    person.window.go("settings")
    choose(person, "Temperatures in: °F")
    person.window.go("case")
    person.settle()
    assert any("°F" in text for text in person.texts())
    assert not any("°C" in text for text in person.texts())


def test_text_size_and_theme_hold_at_once(person):
    """Larger text and dark colours are there as soon as they are chosen, and the choice keeps the focus."""
    small = next(t for t in person.window.findChildren(Text) if t.isVisible()).font().pixelSize()
    person.window.go("settings")
    choose(person, "Text size: 200 %")
    assert look().percent == 200
    assert QApplication.focusWidget().accessibleName() == "Text size: 200 %"
    choose(person, "Light or dark: Dark")
    assert look().dark
    assert QApplication.palette().color(QPalette.ColorRole.Window).name() == tokens.DARK.ground
    person.window.go("case")
    person.settle()
    assert next(t for t in person.window.findChildren(Text) if t.isVisible()).font().pixelSize() == 2 * small
    assert kept_settings.load().settings.text_size == 200


def test_learning_is_one_switch_in_two_places(person):
    """Chosen in the settings it holds in the Case book; switched there, the settings show it."""
    write(*(case(n, outcome=Outcome.RIGHT, true="egg_overdose") for n in range(2)))
    person.window.go("settings")
    choose(person, "The ranking begins with: The rules alone")
    assert not kept_settings.load().settings.learn
    person.window.go("book")
    ready(person)
    press(person, "What was learnt")
    assert person.sees("The ranking follows the rules alone.")
    press(person, "Heed this kitchen")
    assert person.sees("The ranking heeds this kitchen.")
    assert kept_settings.load().settings.learn
    person.window.go("settings")
    person.settle()
    (here,) = (o for o in person.window.findChildren(Option) if o.text() == "The rules alone" and o.isVisible())
    assert not here.isChecked()
    choose(person, "The ranking begins with: The rules alone")
    person.window.go("book")
    person.settle()
    assert person.sees("The ranking follows the rules alone.")


def test_markup_in_rules_is_shown_as_it_is_written(person):
    """Text of the rule base that looks like markup or like a letter to press is shown as plain text."""
    text = Text("<b>bold</b> & <img src=x>")
    person.qtbot.addWidget(text)
    assert text.text() == "<b>bold</b> & <img src=x>"
    assert text.sizeHint().width() >= text.fontMetrics().horizontalAdvance(text.text())


def test_the_next_question_is_shown_fast(person):
    """From the answer reasoned about to the painted question the window itself takes a few frames at most."""
    person.to_question("paste_runny")
    person.page.cant.click()
    took = []
    for _ in range(8):
        begun = time.process_time()
        person.window.case.page.enter(stay=False)
        QApplication.processEvents()
        took.append(time.process_time() - begun)
        person.settle()
    assert min(took) < 0.06


def test_pages_do_not_pile_up(person):
    """Old parts of a page go when new ones come."""
    person.to_question("paste_runny")
    counts = []
    for _ in range(4):
        person.desk.changed.emit()
        person.settle()
        counts.append(len(person.window.findChildren(Text)))
    assert counts[-1] == counts[0]
