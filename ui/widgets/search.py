"""Looking through cards by typing: the field, and what it leaves on show."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QLineEdit, QWidget

from ui.style import tokens
from ui.style.sheet import look
from ui.widgets.basic import Text
from ui.widgets.cards import Card
from ui.widgets.layouts import CardGrid, Sheet

#: A heading, its cards, and each card with the words it is found by, in lower case.
CardGroup = tuple[Text, CardGrid, Sequence[tuple[Card, str]]]


class SearchField(QLineEdit):
    """A field to look through cards with: Down goes to the first one found, Escape clears, Enter takes the only one.

    ``back`` is called on Backspace when nothing is typed; without it that key does nothing.
    """

    def __init__(
        self,
        name: str,
        hint: str,
        down: Callable[[], None],
        take: Callable[[], None],
        back: Callable[[], None] | None = None,
    ) -> None:
        super().__init__()
        self._down, self._take, self._back = down, take, back
        self.setFont(look().font("lead"))
        self.setMaxLength(80)
        self.setMinimumWidth(look().px(tokens.SIDE_WIDTH))
        self.setAccessibleName(name)
        self.setPlaceholderText(hint)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Handle the keys that go to the cards."""
        if event.key() == Qt.Key.Key_Down:
            self._down()
        elif event.key() == Qt.Key.Key_Escape:
            self.clear()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._take()
        elif event.key() == Qt.Key.Key_Backspace and not self.text() and self._back is not None:
            self._back()
        else:
            super().keyPressEvent(event)


def show_matching(groups: Sequence[CardGroup], typed: str) -> bool:
    """Show the cards that hold every word typed, and return whether there is one."""
    words = typed.casefold().split()
    any_found = False
    for title, grid, cards in groups:
        shown = 0
        for card, text in cards:
            match = all(word in text for word in words)
            card.setVisible(match)
            shown += match
        title.setVisible(shown > 0)
        grid.setVisible(shown > 0)
        grid.cards.invalidate()
        any_found = any_found or shown > 0
    return any_found


def keep_found_in_sight(field: SearchField, first: QWidget) -> None:
    """Scroll to what is found first, as far as leaves the field in sight.

    In large text on a small screen what is found begins below the edge.
    """
    sheet = Sheet.around(field)
    if sheet is not None and sheet.isVisible() and field.text():
        sheet.show_from_top(first)
        sheet.show_from_top(field)


def matching(groups: Sequence[CardGroup]) -> list[Card]:
    """Return the cards that were left on show."""
    return [card for _, _, cards in groups for card, _ in cards if not card.isHidden()]
