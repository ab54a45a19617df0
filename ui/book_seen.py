"""Seen before?  The past cases most like the one in hand, beside its verdict."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import TYPE_CHECKING, cast

from PySide6.QtWidgets import QWidget
from shiboken6 import isValid

from ui.desk import Desk
from ui.style import tokens
from ui.widgets.basic import Text
from ui.widgets.cards import Card
from ui.widgets.layouts import Column

if TYPE_CHECKING:
    from troubleshoot.casebook.shown import NearLine


class SeenBefore(Column):
    """Looks in the book when it is made, and shows what was found; a case is opened in the place of the book."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(gap=tokens.GRID, parent=parent)
        self.desk = desk
        self.told = Text(self.tr("Looking in the case book …"), tone="soft")
        self.add(self.told)
        self.found: list[Card] = []
        desk.book.seen(desk.case_id, desk.interview, desk.settings, self._show)

    def _show(self, brought: object) -> None:
        if not isValid(self):
            return  # another page has taken its place meanwhile
        if isinstance(brought, Exception):
            self.told.setText(self.tr("The case book cannot be read: {0}").format(brought))
            return
        lines = cast("Sequence[NearLine]", brought)
        self.told.setText(
            self.tr("Likest first. Press one to read all of it.")
            if lines
            else self.tr("Nothing like this is in the case book.")
        )
        for line in lines:
            card = Card(line.title, line.note)
            card.clicked.connect(partial(self.desk.going.emit, "book", line.id))
            self.found.append(card)
            self.add(card)
