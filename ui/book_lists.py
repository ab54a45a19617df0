"""What the place of the book shows of many cases: a list, what comes back, weeks, how often right, what was learnt."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial

from PySide6.QtWidgets import QWidget

from troubleshoot.casebook import shown
from troubleshoot.casebook.charts import MOST_BARS
from troubleshoot.casebook.figures import CauseRow
from troubleshoot.casebook.habits import Learnt
from ui.book_chart import ChartView
from ui.book_desk import BookDesk, translate
from ui.book_read import PAGE, Added, Listed, Taught
from ui.style import tokens
from ui.widgets.basic import Button, Panel, Text
from ui.widgets.cards import Card
from ui.widgets.layouts import CardGrid, Column, WrapRow
from ui.widgets.strips import Section

#: Heights of the charts at 100 %: one bar, what stands around the bars, and a chart over the weeks.
BAR_HEIGHT, AROUND_BARS, WEEKS_HEIGHT = 36, 120, 340

#: Causes listed below the chart, and causes of a family in what was learnt.
MOST_CAUSES, MOST_HABITS = 20, 6


class CaseList(Column):
    """A page of cases, newest first."""

    def __init__(
        self,
        listed: Listed,
        open_case: Callable[[str], None],
        turn: Callable[[int], None],
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(gap=tokens.GAP, parent=parent)
        self.cards: list[Card] = []
        if not listed.lines:
            self.add(Text(self.tr("No case fits. Choose less narrowly above."), "lead"))
            return
        last = listed.offset + len(listed.lines)
        self.add(
            Text(self.tr("{0} to {1} of {2} cases, newest first").format(listed.offset + 1, last, listed.fit), "strong")
        )
        grid = CardGrid(tokens.FAULT_WIDTH, 3)
        for line in listed.lines:
            card = Card(line.title, line.note)
            card.clicked.connect(lambda _=False, case=line.id: open_case(case))
            self.cards.append(card)
            grid.add(card)
        self.add(grid)
        turns = []
        if listed.offset:
            turns.append((self.tr("Newer"), self.tr("Newer cases"), max(0, listed.offset - PAGE)))
        if last < listed.fit:
            turns.append((self.tr("Older"), self.tr("Older cases"), listed.offset + PAGE))
        row = WrapRow()
        for words, name, offset in turns:
            button = Button(words, name=name)
            button.clicked.connect(lambda _=False, offset=offset: turn(offset))
            row.wrap.addWidget(button)
        if turns:
            self.add(row)


class Causes(Column):
    """The causes that come back, the worst first, by pieces, cases or minutes."""

    def __init__(
        self,
        book: BookDesk,
        added: Added,
        measure: str,
        choose: Callable[[str], None],
        open_cause: Callable[[CauseRow, str], None],
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(gap=tokens.GAP, parent=parent)
        self.add(Text(shown.cost_line(added.figures, translate), "lead"))
        row = WrapRow()
        for name, words in (
            ("pieces", self.tr("By pieces lost")),
            ("cases", self.tr("By cases")),
            ("minutes", self.tr("By minutes")),
        ):
            button = Button(words, name=words)
            button.setCheckable(True)
            button.setChecked(name == measure)
            button.clicked.connect(lambda _=False, name=name: choose(name))
            row.wrap.addWidget(button)
        self.add(row)
        rows = [one for one in added.figures.ranked(measure) if one.share > 0.0]
        if not rows:
            self.add(Text(self.tr("Nothing to add up. Say in each case how many pieces were lost and what it took.")))
            return
        bars = min(len(rows), MOST_BARS + 1)
        words = self.tr("Chart: what the causes took, the worst first")
        self.add(ChartView(book, measure, added.figures, added.cause, words, AROUND_BARS + bars * BAR_HEIGHT))
        self.add(
            Text(self.tr("Begin with the first bars: together they make four fifths. The line adds up."), tone="soft")
        )
        title = self.tr("The same in figures; press a cause to see its cases")
        self.figures = Section(title, partial(_cause_cards, added, rows[:MOST_CAUSES], open_cause))
        self.add(self.figures)


def _cause_cards(added: Added, rows: Sequence[CauseRow], open_cause: Callable[[CauseRow, str], None]) -> QWidget:
    grid = CardGrid(tokens.FAULT_WIDTH, 3)
    for row in rows:
        name = added.cause(row.family, row.cause)
        card = Card(name, shown.cause_note(row, translate))
        card.clicked.connect(partial(_press, open_cause, row, name))
        grid.add(card)
    return grid


def _press(open_cause: Callable[[CauseRow, str], None], row: CauseRow, name: str, _on: bool = False) -> None:
    open_cause(row, name)


class Weeks(Column):
    """Week by week: cases with the limits of chance, pieces and hours, and verdicts that were wrong."""

    def __init__(self, book: BookDesk, added: Added, parent: QWidget | None = None) -> None:
        super().__init__(gap=tokens.GAP, parent=parent)
        found = added.figures
        for line in shown.week_lines(found, translate):
            self.add(Text(line))
        if not found.trend.ended:
            return
        charts = [
            ("weeks", self.tr("Cases week by week")),
            ("cost", self.tr("What the weeks took")),
        ]
        if found.trend.judged:
            charts.append(("wrong", self.tr("Verdicts that were wrong, week by week")))
        for name, title in charts:
            words = self.tr("Chart: {0}").format(title)
            self.add(Text(title, "heading"), ChartView(book, name, found, added.cause, words, WEEKS_HEIGHT))


class Rightness(Column):
    """How often the verdicts were right, and whether what they said of themselves held."""

    def __init__(self, book: BookDesk, added: Added, parent: QWidget | None = None) -> None:
        super().__init__(gap=tokens.GAP, parent=parent)
        found = added.figures
        self.add(Text(shown.confirmed_line(found.confirmed, translate), "lead"))
        if not found.calibration:
            return
        words = self.tr("Chart: what the verdicts said against how often they were right")
        self.add(ChartView(book, "calibration", found, added.cause, words, WEEKS_HEIGHT))
        self.add(Column(*(Text(line) for line in shown.calibration_lines(found, translate)), gap=tokens.HALF))


class Habits(Column):
    """What the ranking learns of this kitchen, and the switch that takes it back."""

    def __init__(
        self,
        taught: Taught,
        families: dict[str, str],
        learns: bool,
        switch: Callable[[bool], None],
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(gap=tokens.GAP, parent=parent)
        self.add(
            Text(
                self.tr(
                    "When it is known what a case was, the ranking can begin with what is common in this kitchen. "
                    "The rules stay as they are."
                )
            )
        )
        now = self.tr("The ranking heeds this kitchen.") if learns else self.tr("The ranking follows the rules alone.")
        other = self.tr("Follow the rules a&lone") if learns else self.tr("Heed this &kitchen")
        button = Button(other, name=other.replace("&", ""))
        button.clicked.connect(lambda: switch(not learns))
        self.add(Text(now, "strong"), WrapRow(button))
        if not taught.families:
            self.add(Text(self.tr("Of no case is it known yet what it was.")))
        for family, one in taught.families:
            self.add(self._family(families.get(family, family), one, taught))

    def _family(self, name: str, one: Learnt, taught: Taught) -> QWidget:
        panel = Panel()
        panel.add(Text(name, "heading"))
        if one.enough:
            panel.add(Text(self.tr("{0} confirmed cases: they count.").format(one.habits.confirmed)))
        else:
            said = self.tr("{0} confirmed cases. From {1} on they count; {2} to go.")
            panel.add(Text(said.format(one.habits.confirmed, one.needed, one.missing)))
        counted = sorted(one.habits.by_cause.values(), key=lambda habit: (-habit.count, habit.cause))
        for habit in counted[:MOST_HABITS]:
            if habit.count:
                line = Text(taught.causes[(one.habits.family, habit.cause)], "strong")
                panel.add(Column(line, Text(shown.habit_note(habit, translate)), gap=tokens.HALF))
        return panel
