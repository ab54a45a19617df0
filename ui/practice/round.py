"""A batch to find out about: what was said of it, what can be looked at and at what cost, what has been seen."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from PySide6.QtWidgets import QBoxLayout, QWidget

from troubleshoot.practice.views import LookLine, Story, TakenLine
from ui.practice.base import FoundCards, PracticePage
from ui.style import tokens
from ui.widgets.basic import Button, Heading, Panel, Text
from ui.widgets.cards import Card
from ui.widgets.drawn import Drawing, SeenLine
from ui.widgets.layouts import Column, TwoColumns, WrapRow


class SideAbove(TwoColumns):
    """Two columns of which the one beside goes above the other where there is no room for both."""

    def follow(self, width: int) -> None:
        """Choose one or two columns for a width."""
        two = width >= self._narrow
        self._box.setDirection(QBoxLayout.Direction.LeftToRight if two else QBoxLayout.Direction.BottomToTop)


class RoundPage(PracticePage):
    """The batch.  Every look is a card with its cost; what it showed then stands at the top."""

    def fill(self) -> None:
        """Make the story, the looks, and what has been seen and spent."""
        play = self.practice.play
        story, looks = play.story(), play.looks()
        top = self._story(story)
        heading = top.findChild(Heading)
        latest = self._latest()
        first: QWidget | None = heading
        if latest is not None:
            top.add(latest)
            first = latest.findChild(Heading)
        self.looks = self._looks(looks)
        columns = SideAbove(self.looks, self._side(looks))
        take = Button(self.tr("Take a re&medy"), name=self.tr("Take a remedy"))
        take.clicked.connect(lambda: self.place.go("remedy"))
        name = Button(self.tr("&Name the cause"), "main", self.tr("Name the cause"))
        name.clicked.connect(lambda: self.place.go("name"))
        assert first is not None
        self.hold(Column(top, columns, gap=tokens.GAP), first, [take, name], columns)

    def look(self, sign: str) -> None:
        """Look at something."""
        if self.practice.look(sign):
            self.enter(stay=False)

    def go_back(self) -> None:
        """Leave the batch as it is; it can be gone on with."""
        self.place.go("start")

    def _story(self, story: Story) -> Column:
        about = self.tr("{0}, {1}, batch {2}").format(story.family_name, story.level_name, story.code)
        top = Column(Text(about, "small", "soft"), Heading(self.tr("“{0}”").format(story.complaint)), gap=tokens.GRID)
        if self.practice.suggestion is not None:
            top.add(Text(self.practice.suggestion.say, "strong"))
        row = WrapRow(gap=tokens.GAP)
        if story.drawing is not None:
            row.wrap.addWidget(Drawing(story.drawing, story.complaint))
        row.wrap.addWidget(Column(*(Text(line) for line in story.lines), gap=tokens.HALF))
        top.add(row)
        return top

    def _latest(self) -> Panel | None:
        latest = self.practice.latest
        if isinstance(latest, TakenLine):
            panel = Panel("notice")
            panel.add(Heading(self.tr("You took: {0}").format(latest.name), "heading"), Text(latest.say))
            return panel
        if latest is None or latest.shown is None:
            return None
        panel = Panel("notice")
        panel.add(SeenLine(latest.ask, latest.shown.say, latest.shown.drawing, fresh=True))
        return panel

    def _looks(self, looks: Sequence[LookLine]) -> FoundCards:
        groups: dict[str, list[tuple[Card, str]]] = {}
        for line in looks:
            if not line.done:
                card = Card(line.ask, line.cost)
                card.setAccessibleDescription(line.look)
                card.clicked.connect(partial(self._pressed, line.sign))
                groups.setdefault(line.stage, []).append((card, f"{line.ask} {line.look} {line.stage}"))
        found = FoundCards(
            self.tr("Search what to look at"),
            self.tr("&Look at"),
            self.tr("inside, base, weigh …"),
            list(groups.items()),
        )
        found.column.addStretch(1)
        return found

    def _pressed(self, sign: str, _checked: bool = False) -> None:
        self.look(sign)

    def _side(self, looks: Sequence[LookLine]) -> QWidget:
        side = Column(gap=tokens.GAP)
        tally = self.practice.play.tally()
        spent = Panel()
        spent.add(Text(self.tr("Spent and left"), "heading"), Text(tally.say))
        side.add(spent)
        seen = Panel()
        seen.add(Text(self.tr("Seen so far"), "heading"))
        known = [line for line in looks if line.free]
        done = [*known, *self.practice.play.seen()]
        for line in done:
            assert line.shown is not None
            asked = self.tr("{0} (said already)").format(line.ask) if line.free else line.ask
            seen.add(SeenLine(asked, line.shown.say, line.shown.drawing))
        if not done:
            seen.add(Text(self.tr("Nothing yet. Begin with what is cheap and tells much."), tone="soft"))
        side.add(seen)
        side.column.addStretch(1)
        return side
