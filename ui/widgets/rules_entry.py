"""One entry of the rule base in full, every line that names another leading to it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QWidget

from troubleshoot.advice.chain import ChainLink
from troubleshoot.interview.library import Entry, Item, Part, WrittenCase
from ui import drawings
from ui.style import tokens
from ui.style.sheet import look
from ui.widgets.basic import Button, Heading, Panel, Text
from ui.widgets.cards import Card
from ui.widgets.chain import Chain
from ui.widgets.layouts import Column, TwoColumns, WrapRow
from ui.widgets.remedy import Steps
from ui.widgets.rules_list import kind_words
from ui.widgets.strips import Section

#: Parts are open until this many lines are on show; the others open when they are pressed.
OPEN_LINES = 14

#: Under this name it is remembered whether all cases are open.
CASES = "cases"

#: So many cases are on show beside a cause; the others open when they are pressed.
CASES_SHOWN = 3

Follow = Callable[[str, str], None]


class EntryView(Column):
    """An entry: heading, facts, the chain, its parts, the cases written beside it, and where it stands."""

    def __init__(
        self,
        entry: Entry,
        follow: Follow,
        try_case: Callable[[WrittenCase], None],
        opened: dict[str, bool],
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(gap=tokens.GAP, parent=parent)
        self.entry, self._follow, self._try, self._opened = entry, follow, try_case, opened
        self._lines = 0
        self.heading = Heading(entry.title, "title")
        self.heading.setAccessibleName(f"{kind_words(entry.kind)}: {entry.title}")
        self.add(Column(Text(kind_words(entry.kind), "strong", "soft"), self.heading, gap=tokens.HALF))
        self.sections: list[Section] = []
        main, side = Column(gap=tokens.GAP), Column(gap=tokens.GAP)
        main.add(Column(*(Text(fact) for fact in entry.facts), gap=tokens.HALF))
        if entry.drawing is not None:
            main.add(self._drawing(entry))
        if entry.chain:
            main.add(Text(self.tr("How it comes about"), "heading"), self._chain(entry.chain))
        for part in entry.parts:
            main.add(self._part(part))
        self._cases(side, entry)
        self._lines = 0
        for part in entry.beside:
            side.add(self._part(part))
        side.add(Text(self.tr("Stands in {0}, line {1}.").format(entry.file, entry.line), "small", "soft"))
        main.column.addStretch(1)
        side.column.addStretch(1)
        self.columns = TwoColumns(main, side)
        self.add(self.columns)

    def _chain(self, links: Sequence[ChainLink]) -> Chain:
        notes = [self.tr("Seen as: {0}").format(link.shown_words) if link.shows else "" for link in links]
        return Chain([link.text for link in links], notes)

    def _drawing(self, entry: Entry) -> QLabel:
        shown = QLabel()
        shown.setTextFormat(Qt.TextFormat.PlainText)
        picture = drawings.pixmap(entry.drawing, look().px(tokens.TILE_DRAWING), self.devicePixelRatioF(), look().dark)
        if picture is not None:
            shown.setPixmap(picture)
        shown.setAccessibleName(self.tr("Drawing: {0}").format(entry.title))
        return shown

    def _part(self, part: Part) -> QWidget:
        lines = len(part.items) + len(part.steps)
        opened = self._opened.get(part.title, self._lines == 0 or self._lines + lines <= OPEN_LINES)
        if opened:
            self._lines += lines
        title = part.title if lines < 2 else self.tr("{0} ({1})").format(part.title, lines)
        section = Section(title, partial(self._body, part), opened)
        section.head.toggled.connect(lambda on: self._opened.__setitem__(part.title, on))
        self.sections.append(section)
        return section

    def _body(self, part: Part) -> QWidget:
        if part.steps:
            return Steps(part.steps)
        return Column(*(self._item(item) for item in part.items), gap=tokens.GRID)

    def _item(self, item: Item) -> QWidget:
        if not item.leads:
            words = Column(Text(item.title), gap=tokens.HALF)
            if item.note:
                words.add(Text(item.note, tone="soft"))
            return words
        card = Card(item.title, item.note)
        card.clicked.connect(lambda: self._follow(item.kind, item.id))
        return card

    def _cases(self, side: Column, entry: Entry) -> None:
        if not entry.cases:
            return
        side.add(Text(self.tr("Cases written beside it"), "heading"))
        cases = list(enumerate(entry.cases, 1))
        side.add(*(self._case(number, case) for number, case in cases[:CASES_SHOWN]))
        rest = cases[CASES_SHOWN:]
        if rest:
            title = self.tr("{0} more cases").format(len(rest)) if len(rest) > 1 else self.tr("One more case")
            make = partial(self._more_cases, rest)
            section = Section(title, make, self._opened.get(CASES, False))
            section.head.toggled.connect(lambda on: self._opened.__setitem__(CASES, on))
            self.sections.append(section)
            side.add(section)

    def _more_cases(self, cases: Sequence[tuple[int, WrittenCase]]) -> QWidget:
        return Column(*(self._case(number, case) for number, case in cases), gap=tokens.GAP)

    def _case(self, number: int, case: WrittenCase) -> Panel:
        panel = Panel()
        panel.add(Text(case.expected, "strong"), *(Text(line) for line in case.said))
        button = Button(self.tr("Try this case"), name=self.tr("Try case {0}").format(number))
        button.setAccessibleDescription(case.expected)
        button.clicked.connect(partial(self._try, case))
        panel.add(WrapRow(button))
        return panel
