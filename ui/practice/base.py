"""What the pages of practice share: going back, digits that press cards, looking through cards by typing."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication, QLineEdit, QWidget

from ui.pages.base import Page
from ui.style import tokens
from ui.widgets.basic import FieldLabel, Text
from ui.widgets.cards import Card
from ui.widgets.layouts import CardGrid, Column, Labelled
from ui.widgets.search import CardGroup, SearchField, keep_found_in_sight, matching, show_matching

if TYPE_CHECKING:
    from ui.practice_place import PracticePlace


class PracticePage(Page):
    """A page of the place of practice.  ``numbered`` are the cards that digits press."""

    def __init__(self, place: PracticePlace) -> None:
        super().__init__(place.desk)
        self.place = place
        self.practice = place.practice
        self.numbered: list[Card] = []

    def enter(self, stay: bool) -> None:
        """Show the page anew; digits press nothing but what it then shows."""
        self.numbered = []
        super().enter(stay)

    def go_back(self) -> None:
        """Go back to the page before."""
        self.place.back()

    def key(self, event: QKeyEvent) -> bool:
        """A digit presses the card of that number."""
        typed = event.text()
        writing = isinstance(QApplication.focusWidget(), QLineEdit)
        if typed.isdigit() and not writing and not event.isAutoRepeat() and 1 <= int(typed) <= len(self.numbered):
            self.numbered[int(typed) - 1].click()
            return True
        return super().key(event)


class FoundCards(Column):
    """Cards under titles, looked through by typing.  ``groups`` are titles with (card, words it is found by)."""

    def __init__(
        self,
        name: str,
        label: str,
        hint: str,
        groups: Sequence[tuple[str, Sequence[tuple[Card, str]]]],
        least: int = tokens.FAULT_WIDTH,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(gap=tokens.GAP, parent=parent)
        self.finder = SearchField(name, hint, self.focus_found, self.take_found)
        self.finder.textChanged.connect(self.filter)
        self.nothing = Text("", "lead")
        self.nothing.hide()
        self.add(Labelled(FieldLabel(label, self.finder), self.finder), self.nothing)
        self._groups: list[CardGroup] = []
        for title, cards in groups:
            grid = CardGrid(least, 4)
            grid.add(*(card for card, _ in cards))
            self._groups.append((Text(title, "heading"), grid, [(card, words.casefold()) for card, words in cards]))
            self.add(self._groups[-1][0], grid)

    def found(self) -> list[Card]:
        """Return the cards that hold every word typed."""
        return matching(self._groups)

    def filter(self, typed: str) -> None:
        """Show the cards that hold every word typed."""
        any_found = show_matching(self._groups, typed)
        self.nothing.setText(self.tr("Nothing here matches “{0}”. Try fewer letters.").format(typed.strip()))
        self.nothing.setVisible(not any_found)
        keep_found_in_sight(self.finder, next(iter(self.found()), self.nothing))

    def focus_found(self) -> None:
        """Go to the first card found."""
        found = self.found()
        if found:
            found[0].setFocus(Qt.FocusReason.TabFocusReason)

    def take_found(self) -> None:
        """Press the card when it is the only one found, else go to the first."""
        found = self.found()
        if len(found) == 1:
            found[0].click()
        else:
            self.focus_found()
