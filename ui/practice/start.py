"""Where practice begins: a batch in hand, a new one, cause and effect, and the trainer's view."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QWidget

from troubleshoot.practice.cases import LEVELS
from troubleshoot.practice.round import REASON
from ui.practice.base import PracticePage
from ui.practice.desk import DUE
from ui.practice.job import ProgressPanel
from ui.practice.learner import LearnerPanel, due_by_family
from ui.practice.sets import CodesField
from ui.style import tokens
from ui.widgets.basic import Button, Heading, Panel, Text
from ui.widgets.cards import Card
from ui.widgets.layouts import CardGrid, Column, WrapRow

if TYPE_CHECKING:
    from ui.practice_place import PracticePlace


class StartPage(PracticePage):
    """The first page of practice."""

    def __init__(self, place: PracticePlace) -> None:
        super().__init__(place)
        self.practice.busy_changed.connect(self._busy_changed)

    def fill(self) -> None:
        """Make the parts, or say that the rule files cannot be used."""
        heading = Heading(self.tr("Practice"), "display")
        content = Column(heading, gap=tokens.WIDE)
        if self.desk.session is None:
            content.add(Text(self.tr("The rule files cannot be used, so there is nothing to practise with.")))
            content.add(Text(self.tr("Mend them first: What went wrong says where.")))
        elif self.practice.job is not None:
            content.add(ProgressPanel(self.practice.job, self.tr("Making a batch ready")))
        else:
            content.add(Text(self.tr("Find out what went wrong with a batch: look at little, ask the cheap first.")))
            content.add(*self._in_hand(), LearnerPanel(self), self._new_batch(), self._elsewhere())
        content.column.addStretch(1)
        self.hold(content, heading, back=False)

    def go_back(self) -> None:
        """Nothing lies before the first page."""

    def _busy_changed(self) -> None:
        if self.place.page is self:
            self.enter(stay=True)

    def _in_hand(self) -> list[QWidget]:
        if not self.practice.in_hand:
            return []
        play = self.practice.play
        story = play.story()
        panel = Panel("notice")
        go_on = Button(self.tr("Go on with &it"), "main", self.tr("Go on with the batch in hand"))
        go_on.clicked.connect(lambda: self.place.go("reason" if play.step == REASON else "round"))
        panel.add(Text(self.tr("In hand: {0}, “{1}”").format(story.family_name, story.complaint), "strong"))
        panel.add(Text(play.tally().say), WrapRow(go_on))
        return [panel]

    # -- a new batch -------------------------------------------------------------------

    def _new_batch(self) -> QWidget:
        part = Column(Text(self.tr("A new batch: how hard?"), "title"), gap=tokens.GAP)
        levels = CardGrid(tokens.TILE_WIDTH, 5)
        phrases = self.practice.phrases
        choices = [(level, phrases.level_name(level), phrases.level_about(level)) for level in LEVELS]
        if self.practice.learner:
            about = self.tr("What you confused and is due again, else something new.")
            choices.insert(0, (DUE, self.tr("What comes next for you"), about))
        chosen = ""
        for level, name, about in choices:
            card = Card(name)
            card.setAccessibleDescription(about)
            card.setCheckable(True)
            card.setChecked(level == self.practice.level)
            card.clicked.connect(partial(self._choose_level, level))
            levels.add(card)
            if level == self.practice.level:
                chosen = about
        # Only the chosen one says what it means: with the words of all, what is made would lie below a small screen.
        part.add(Column(levels, Text(chosen, tone="soft"), gap=tokens.GRID))
        part.add(Text(self.tr("What is made: press one to begin"), "heading"))
        families = CardGrid(tokens.TILE_WIDTH, 5)
        due = due_by_family(self.practice.rounds())
        for number, tile in enumerate(self.desk.interview.tiles(), 1):
            note = self.tr("{0} due").format(due[tile.family]) if due[tile.family] else ""
            card = Card(tile.name, note, tile.drawing, str(number), above=True, roles=("heading", "body"))
            card.clicked.connect(partial(self._begin, tile.family))
            families.add(card)
            self.numbered.append(card)
        part.add(families)
        return part

    def _choose_level(self, level: int, _checked: bool = False) -> None:
        self.practice.level = level
        self.enter(stay=True)

    def _begin(self, family: str, _checked: bool = False) -> None:
        self.practice.begin(family, self.practice.level)

    # -- elsewhere ---------------------------------------------------------------------

    def _elsewhere(self) -> QWidget:
        part = Column(Text(self.tr("More"), "title"), gap=tokens.GAP)
        explore = Card(
            self.tr("Cause and effect"),
            self.tr("Pick a mistake and see what it does; pick a sign and see what can make it."),
        )
        explore.clicked.connect(lambda: self.place.go("explore"))
        grid = CardGrid(tokens.FAULT_WIDTH, 3)
        trainer = Card(self.tr("For the trainer"), self.tr("Who knows what, what is confused, and a set for all."))
        trainer.clicked.connect(lambda: self.place.go("trainer"))
        grid.add(explore, trainer)
        part.add(CodesField(self), grid)
        return part
