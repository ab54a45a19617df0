"""The card for the wall in the window and on paper: one A5 page, with all of its text, for every complaint."""

from __future__ import annotations

import unicodedata
from dataclasses import replace
from pathlib import Path

import pypdf
import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QDialog

from troubleshoot import cli
from troubleshoot.advice.fault_card import as_text, fault_card
from troubleshoot.advice.wording import Wording
from troubleshoot.interview.shelf import Shelf
from ui import printing
from ui.rules_shown import CARD, Shown
from ui.widgets.rules_card import CardView

#: A5 in points: 148 by 210 mm.
A5 = (420, 595)

#: How many of a family's longest cards are set and read back; all 279 take two minutes.
LONGEST = 6

FAMILIES = ("candied-peel", "choux", "melted-chocolate", "shortbread", "whipped-cream")


def squeezed(text: str) -> str:
    """Text without the spaces and joined letters that a page sets between and within words."""
    return "".join(unicodedata.normalize("NFKC", text).split())


def card_view(person, qtbot) -> CardView:
    """The card on show, once it was made."""
    place = person.window.stack.currentWidget()
    qtbot.waitUntil(lambda: any(view.isVisible() for view in place.findChildren(CardView)))
    person.settle()
    return next(view for view in place.findChildren(CardView) if view.isVisible())


@pytest.mark.parametrize("family", FAMILIES)
def test_the_longest_cards_are_one_page(family, shelf: Shelf, qapp, tmp_path):
    """One A5 page holds every line of the family's longest cards, so it holds the shorter ones."""
    base, reasoner = shelf.rulebase(family), shelf.reasoner(family)
    path = tmp_path / "card.pdf"
    cards = [
        fault_card(reasoner, fault, base.cautions, base.sources, Wording()) for fault in base.families[family].faults
    ]
    for card in sorted(cards, key=lambda one: len(as_text(one)))[-LONGEST:]:
        printing.save_card(card, path)
        pages = pypdf.PdfReader(path).pages
        assert len(pages) == 1, card.fault
        assert (round(pages[0].mediabox.width), round(pages[0].mediabox.height)) == A5
        assert squeezed(pages[0].extract_text()) == squeezed(as_text(card)), card.fault


def test_a_card_that_is_far_too_long_is_still_one_page(shelf: Shelf, qapp, tmp_path):
    """Rules with endless texts do not make a second page."""
    base = shelf.rulebase("choux")
    card = fault_card(shelf.reasoner("choux"), "cracked", base.cautions, base.sources, Wording())
    card = replace(card, others=("A cause with a name that goes on and on",) * 400)
    printing.save_card(card, tmp_path / "card.pdf")
    (page,) = pypdf.PdfReader(tmp_path / "card.pdf").pages
    assert squeezed("Your local food code comes first.") in squeezed(page.extract_text())


def test_from_the_complaints_to_the_card(person, qtbot):
    """Typing until one complaint is left and pressing the button shows its card."""
    person.desk.act(lambda: person.interview.choose_family("choux"))
    person.page.search.setFocus()
    person.type("curds")
    person.click("Card for the wall")
    assert person.window.at == "rules"
    view = card_view(person, qtbot)
    assert view.card.fault == "paste_split"
    assert person.sees("It went into curds when I added the egg")


def test_from_the_complaints_without_one_chosen(person, qtbot):
    """With several complaints on show the button leads to all of them, to choose one from."""
    person.desk.act(lambda: person.interview.choose_family("choux"))
    person.settle()
    person.click("Card for the wall")
    place = person.window.stack.currentWidget()
    qtbot.waitUntil(lambda: place.list is not None)
    assert place.list.kind == "fault"


def test_from_the_rule_base_to_the_card(person, qtbot):
    """A complaint in the Rule base place has the button too."""
    person.window.go_to("rules", Shown("choux", "fault", "scrambled"))
    place = person.window.stack.currentWidget()
    qtbot.waitUntil(lambda: not place.busy)
    person.settle()
    person.click("Card for the wall")
    assert card_view(person, qtbot).card.fault == "scrambled"
    person.click("All about it")
    assert place.at == Shown("choux", "fault", "scrambled")


def test_save_copy_and_print(person, qtbot, tmp_path, monkeypatch):
    """The card is saved as PDF, copied as text, and sent to a printer."""
    person.window.go_to("rules", Shown("choux", CARD, "scrambled"))
    view = card_view(person, qtbot)
    assert view.save_pdf_as(tmp_path / "card.pdf")
    assert len(pypdf.PdfReader(tmp_path / "card.pdf").pages) == 1
    person.click("Copy as text")
    assert QGuiApplication.clipboard().text() == as_text(view.card)
    assert person.sees("Copied as text.")
    printed = []
    monkeypatch.setattr(printing.QPrintDialog, "exec", lambda self: QDialog.DialogCode.Accepted)
    monkeypatch.setattr(printing, "_paint_card", lambda card, printer: printed.append(card.fault))
    person.click("Print")
    assert printed == ["scrambled"]
    assert person.sees("Sent to the printer.")


def test_a_place_that_cannot_be_written(person, qtbot, tmp_path):
    """A PDF that cannot be saved is said, with what to do."""
    person.window.go_to("rules", Shown("choux", CARD, "scrambled"))
    view = card_view(person, qtbot)
    (tmp_path / "file").write_text("in the way")
    assert not view.save_pdf_as(tmp_path / "file" / "card.pdf")
    person.settle()
    assert any("could not be saved" in said for said in person.window.shown_strips())


def test_keyboard_alone(person, qtbot):
    """From the list to the card with keys only."""
    person.window.go_to("rules", Shown("choux", "fault"))
    place = person.window.stack.currentWidget()
    qtbot.waitUntil(lambda: place.list is not None)
    place.list.search.setFocus()
    person.type("curds")
    person.press(Qt.Key.Key_Return)
    assert place.at.id == "paste_split"
    person.press(Qt.Key.Key_L, Qt.KeyboardModifier.AltModifier)
    assert card_view(person, qtbot).card.fault == "paste_split"


def test_the_command(capsys):
    """``batchmend card`` prints the same text."""
    assert cli.main(["card", "choux", "scrambled"]) == 0
    said = squeezed(capsys.readouterr().out)
    assert squeezed("Rescue A: Stop, cool the paste and sieve out the cooked egg") in said


def test_the_command_with_pdf(tmp_path, qapp):
    """``--pdf`` writes one A5 page."""
    path = tmp_path / "on the wall.pdf"
    assert cli.main(["card", "choux", "scrambled", "--pdf", str(path)]) == 0
    assert len(pypdf.PdfReader(path).pages) == 1


def test_the_command_without_such_a_complaint(capsys):
    """A wrong name is answered with the nearest one."""
    assert cli.main(["card", "choux", "scrambeld"]) == 2
    assert "did you mean 'scrambled'?" in capsys.readouterr().err


def test_the_command_where_it_may_not_write(capsys, tmp_path):
    """A file that cannot be written is named."""
    (tmp_path / "file").write_text("in the way")
    target: Path = tmp_path / "file" / "card.pdf"
    assert cli.main(["card", "choux", "scrambled", "--pdf", str(target)]) == 2
    assert "could not be written" in capsys.readouterr().err
