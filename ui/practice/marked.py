"""The marks of a batch: what was right, what was at work, and the question that was best at each point."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from troubleshoot.practice.views import Marks, Point, StepReview
from ui.practice import pictures
from ui.practice.base import PracticePage
from ui.practice.explore import Shown
from ui.style import tokens
from ui.widgets.basic import Button, Heading, Panel, Text
from ui.widgets.chain import Chain
from ui.widgets.layouts import Column, TwoColumns
from ui.widgets.measures import Bar


class MarkedPage(PracticePage):
    """The marks.  Nothing here scolds: what was right comes first, then one thing to do next time."""

    def fill(self) -> None:
        """Make the marks, what was at work, and the looks one by one."""
        marks = self.practice.marks
        heading = Heading(marks.said, "display")
        total = Text(self.tr("{0} marks of 100").format(marks.total), "lead")
        content = Column(heading, total, Bar(marks.total / 100, "accent"), gap=tokens.GAP)
        main, side = Column(gap=tokens.GAP), Column(gap=tokens.GAP)
        self._next_time(main, marks)
        main.add(*(self._point(point) for point in marks.points))
        main.add(Text(self.tr("Look by look"), "title"), *(self._step(step) for step in marks.steps))
        self._at_work(side, marks)
        side.add(self._spent(marks))
        main.column.addStretch(1)
        side.column.addStretch(1)
        columns = TwoColumns(main, side)
        content.add(columns)
        picture = Button(self.tr("See &how it works"), name=self.tr("See how it works"))
        picture.clicked.connect(self._explore)
        again = Button(self.tr("&Next batch"), "main", self.tr("Next batch"))
        again.clicked.connect(self._again)
        self.hold(content, heading, [picture, again], columns)

    def go_back(self) -> None:
        """Go back to the start; what is marked cannot be changed."""
        self.place.go("start")

    def _again(self) -> None:
        self.place.go("start")
        if self.practice.queue:
            self.practice.go_on_with_set()
        else:
            self.practice.begin(self.practice.family, self.practice.level)

    def _explore(self) -> None:
        self.place.explore(self.practice.play.family.id, Shown(pictures.MISTAKE, self.practice.marks.causes[0]))

    def _next_time(self, column: Column, marks: Marks) -> None:
        if marks.next_time:
            panel = Panel("notice")
            panel.add(Text(self.tr("Next time"), "heading"), *(Text(line) for line in marks.next_time))
            column.add(panel)

    def _point(self, point: Point) -> QWidget:
        panel = Panel()
        got = self.tr("{0}: {1} of {2}").format(point.name, point.got, point.most)
        panel.add(Text(got, "strong"), Bar(point.got / max(1, point.most), "accent" if point.full else "bar"))
        panel.add(Text(point.say))
        panel.setAccessibleName(f"{got}. {point.say}")
        return panel

    def _step(self, step: StepReview) -> QWidget:
        panel = Panel()
        if step.ask:
            panel.add(Text(self.tr("{0}  {1}").format(step.number, step.ask), "strong"), Text(step.shown, tone="soft"))
        if step.good:
            panel.add(Text(step.why))
        else:
            if step.best_ask:
                panel.add(Text(self.tr("Best here: {0}").format(step.best_ask), "strong"))
            panel.add(Text(step.why))
        return panel

    def _at_work(self, column: Column, marks: Marks) -> None:
        column.add(Text(self.tr("What was at work"), "title"))
        for name, chain in zip(marks.cause_names, marks.chains, strict=True):
            said = self.tr("The batch showed: {0}")
            showed = [said.format(link.seen_words) if link.seen_words else "" for link in chain]
            column.add(Chain([name, *(link.text for link in chain)], ["", *showed]))
        if marks.parts:
            column.add(Text(marks.parts))

    def _spent(self, marks: Marks) -> QWidget:
        panel = Panel()
        panel.add(Text(self.tr("Against the program's own looks"), "heading"))
        for words, yours, programs in (
            (self.tr("Minutes"), marks.minutes, marks.program_minutes),
            (self.tr("Pieces used up"), marks.pieces, marks.program_pieces),
            (self.tr("Pieces saved"), marks.saved, marks.program_saved),
        ):
            said = self.tr("{0}: you {1}, the program {2}").format(words, f"{yours:.0f}", f"{programs:.0f}")
            panel.add(Text(said))
        if marks.program_looks:
            panel.add(Text(self.tr("The program asked"), "strong"), *(Text(line) for line in marks.program_looks))
        return panel
