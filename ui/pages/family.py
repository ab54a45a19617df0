"""What is being made: one tile a family, and the cases that were left unfinished."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QWidget

from troubleshoot.interview.state import FAMILY
from troubleshoot.interview.store import SavedCase
from ui.pages.base import Page
from ui.style import tokens
from ui.widgets.basic import Button, Heading, Panel, Text
from ui.widgets.cards import Card
from ui.widgets.layouts import CardGrid, Column, WrapRow
from ui.widgets.preferences import Preferences

#: Unfinished cases shown.
MOST_CASES = 3


class FamilyPage(Page):
    """The first page."""

    step = FAMILY

    def fill(self) -> None:
        """Make the tiles, the unfinished cases, and on the first start the two questions."""
        interview = self.desk.interview
        content = Column(gap=tokens.WIDE)
        heading = Heading(self.tr("What are you making?"), "display")
        grid = CardGrid(tokens.TILE_WIDTH, 5, even=True)
        for place, tile in enumerate(interview.tiles(), 1):
            card = Card(tile.name, tile.about, tile.drawing, str(place), above=True, roles=("heading", "body"))
            card.clicked.connect(lambda _=False, family=tile.family: self.choose(family))
            grid.add(card)
        self.tiles = grid.findChildren(Card)
        content.add(heading, grid)
        cases = self.desk.unfinished()[:MOST_CASES]
        if cases:
            content.add(self._unfinished(cases))
        if not self.desk.settings.welcomed:
            content.add(self._welcome())
        content.column.addStretch(1)
        self.hold(content, heading, back=False)

    def choose(self, family: str) -> None:
        """Choose a family."""
        self.desk.choose_family(family)

    def go_back(self) -> None:
        """Nothing lies before the first page."""

    def key(self, event: QKeyEvent) -> bool:
        """A digit chooses the tile of that number."""
        if event.text().isdigit() and 1 <= int(event.text()) <= len(self.tiles) and not event.isAutoRepeat():
            self.tiles[int(event.text()) - 1].click()
            return True
        return super().key(event)

    def _welcome(self) -> QWidget:
        panel = Panel("notice")
        panel.add(
            Text(self.tr("Set once, or leave as it is"), "heading"),
            Preferences(self.desk, ("units", "oven")),
        )
        done = Button(self.tr("&Done"), "main", self.tr("Done with units and oven"))
        skip = Button(self.tr("S&kip"), name=self.tr("Skip units and oven"))
        for button in (done, skip):
            button.clicked.connect(self._welcomed)
        panel.add(WrapRow(done, skip))
        return panel

    def _welcomed(self) -> None:
        self.desk.set_settings(replace(self.desk.settings, welcomed=True))
        self.take_focus()

    def _unfinished(self, cases: tuple[SavedCase, ...]) -> QWidget:
        from troubleshoot.casebook.shown import when as moment_words  # brings much along that the first page can spare

        panel = Panel()
        panel.add(Text(self.tr("Left unfinished"), "heading"))
        names = {tile.family: tile.name for tile in self.desk.interview.tiles()}
        for case in cases:
            family = names.get(case.state.family or "", case.state.family or "")
            when = moment_words(datetime.fromtimestamp(case.changed_at, UTC), self.tr)
            answers = len(case.state.answers)
            said = self.tr("1 answer") if answers == 1 else self.tr("{0} answers").format(answers)
            words = self.tr("{0}, {1}, left {2}").format(family, said, when)
            take = Button(self.tr("&Take up again"), "main", self.tr("Take up again: {0}").format(words))
            forget = Button(self.tr("Throw away"), name=self.tr("Throw away: {0}").format(words))
            if case is not cases[0]:
                take.setText(self.tr("Take up again"))
            take.clicked.connect(lambda _=False, case=case: self.desk.take_up(case))
            forget.clicked.connect(lambda _=False, case=case: self.desk.forget(case))
            panel.add(Text(words), WrapRow(take, forget))
        return panel
