"""The learner's own decisions: a remedy, the cause, and the reason."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt

from troubleshoot.practice.views import CauseLine
from ui.practice.base import FoundCards, PracticePage
from ui.style import tokens
from ui.widgets.basic import Button, Heading, Panel, Text
from ui.widgets.cards import Card
from ui.widgets.chain import Chain
from ui.widgets.layouts import CardGrid, Column

if TYPE_CHECKING:
    from ui.practice_place import PracticePlace


class RemedyPage(PracticePage):
    """The remedies that can be taken now."""

    def fill(self) -> None:
        """Make a card for each, by kind."""
        play = self.practice.play
        heading = Heading(self.tr("Take a remedy"), "display")
        about = self.tr("It takes its minutes, whether it helps or not. You can still look and name the cause after.")
        content = Column(heading, Text(about), Text(play.tally().say, "strong"), gap=tokens.GAP)
        grids: dict[str, CardGrid] = {}
        for line in play.remedies():
            note = self.practice.phrases.min_words(line.minutes)
            card = Card(line.name, self.tr("{0}, taken").format(note) if line.taken else note)
            card.setEnabled(not line.taken)
            card.clicked.connect(partial(self._take, line.remedy))
            if line.kind_name not in grids:
                grids[line.kind_name] = CardGrid(tokens.FAULT_WIDTH, 4)
                content.add(Text(line.kind_name, "heading"), grids[line.kind_name])
            grids[line.kind_name].add(card)
        if not grids:
            content.add(Text(self.tr("Nothing can be done to this batch at this stage. Name the cause.")))
        content.column.addStretch(1)
        self.hold(content, heading)

    def _take(self, remedy: str, _checked: bool = False) -> None:
        if self.practice.take(remedy):
            self.place.go("round")


class NamePage(PracticePage):
    """The causes that can be named, by stage, looked through by typing; for a hard batch a second one after that."""

    def __init__(self, place: PracticePlace) -> None:
        super().__init__(place)
        self._first_named: CauseLine | None = None

    def enter(self, stay: bool) -> None:
        """Begin with the first cause, unless the page is only shown anew."""
        if not stay:
            self._first_named = None
        super().enter(stay)

    def fill(self) -> None:
        """Make a card for each cause."""
        content, first = Column(gap=tokens.GAP), self._first_named
        if first is None:
            content.add(Heading(self.tr("What is the cause?"), "display"))
            content.add(Text(self.tr("Choose the mistake that explains what you saw. Back leads to the batch.")))
        else:
            content.add(Heading(self.tr("Is there a second one?"), "display"))
            content.add(Text(self.tr("You named: {0}").format(first.name), "strong"))
        groups: dict[str, list[tuple[Card, str]]] = {}
        for line in self.practice.play.causes():
            card = Card(line.name)
            card.clicked.connect(partial(self._name, line))
            groups.setdefault(line.stage, []).append((card, line.words))
        self.causes = FoundCards(
            self.tr("Search the causes"), self.tr("&Look for"), self.tr("egg, oven, flour …"), list(groups.items())
        )
        content.add(self.causes)
        content.column.addStretch(1)
        actions = []
        if first is not None:
            only = Button(self.tr("&No, only this"), "main", self.tr("No, only this"))
            only.clicked.connect(lambda: self._decide(first.cause, None))
            actions.append(only)
        self.hold(content, self.causes.finder, actions)

    def go_back(self) -> None:
        """Take the first cause back, or go back to the batch."""
        if self._first_named is not None:
            self.enter(stay=False)
        else:
            super().go_back()

    def _name(self, line: CauseLine, _checked: bool = False) -> None:
        if self._first_named is not None:
            self._decide(self._first_named.cause, line.cause)
        elif self.practice.play.case.hard:
            self._first_named = line
            super().enter(stay=False)
        else:
            self._decide(line.cause, None)

    def _decide(self, cause: str, also: str | None) -> None:
        if self.practice.decide(cause, also):
            self.place.go("reason")


class ReasonPage(PracticePage):
    """The chains of why that can be chosen as the reason."""

    def fill(self) -> None:
        """Make a part for each chain, with the button that chooses it."""
        heading = Heading(self.tr("Why does it come out so?"), "display")
        named = self.tr("You named: {0}").format(self.practice.named)
        about = self.tr("Choose the chain that leads from the mistake to what was seen.")
        content = Column(heading, Text(named, "strong"), Text(about), gap=tokens.GAP)
        grid = CardGrid(tokens.MAIN_WIDTH, 2)
        for reason in self.practice.play.reasons():
            panel = Panel()
            choose = Button(
                self.tr("Choose reason {0}").format(reason.number),
                name=self.tr("Choose reason {0}: {1}").format(reason.number, " ".join(reason.links)),
            )
            choose.setAccessibleDescription(self.tr("Key {0}").format(reason.number))
            choose.clicked.connect(partial(self._choose, reason.number))
            chain = Chain(reason.links)
            for box in chain.boxes:
                box.setFocusPolicy(Qt.FocusPolicy.NoFocus)  # the button reads the links out, and Tab goes to it at once
            panel.add(chain, choose)
            panel.column.addStretch(1)
            self.numbered.append(choose)
            grid.add(panel)
        content.add(grid)
        content.column.addStretch(1)
        self.hold(content, heading, back=False)

    def go_back(self) -> None:
        """Stay: the cause has been named, and only the reason is left."""

    def _choose(self, number: int, _checked: bool = False) -> None:
        if self.practice.choose(number):
            self.place.go("marked")
