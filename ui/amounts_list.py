"""The list of calculations by topic, looked through by typing, and the tables that stand among them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from PySide6.QtCore import QCoreApplication, Qt, QTimer
from PySide6.QtWidgets import QWidget

from troubleshoot.kitchen.card import topics
from troubleshoot.kitchen.tables import TABLES, Table
from ui.style import tokens
from ui.widgets.basic import FieldLabel, Heading, Panel, Text
from ui.widgets.cards import Card
from ui.widgets.layouts import CardGrid, Column, Labelled, place_all
from ui.widgets.search import SearchField

#: Ids of the tables; calculations have no dash in their names.
STORAGE, ALLERGENS, SCHEDULE = TABLES

#: Cards made at once; the rest is made while the person is already reading.
AT_ONCE = 12


@dataclass(slots=True)
class Entry:
    """A calculation or a table in the list; its card is made when it is first to be seen."""

    name: str
    title: str
    note: str
    text: str
    wanted: bool = True
    card: Card | None = None


@dataclass(slots=True)
class Group:
    """A topic with its heading and its entries."""

    heading: Text
    grid: CardGrid
    entries: list[Entry] = field(default_factory=list)


class AmountList(Column):
    """Every calculation as a card, by topic.  The first cards are there at once, the others follow a few at a time."""

    def __init__(self, choose: Callable[[str], None], typed: str = "", parent: QWidget | None = None) -> None:
        super().__init__(gap=tokens.GAP, parent=parent)
        self.choose = choose
        self.search = SearchField(
            self.tr("Search the amounts"), self.tr("egg, syrup, dew …"), self.focus_found, self.take_found
        )
        self.search.setAccessibleDescription(self.tr("Type a word, such as egg, syrup or dew"))
        self.nothing = Text("", "lead")
        self.nothing.hide()
        self.add(
            Heading(self.tr("Amounts"), "display"),
            Text(self.tr("The sums behind the advice, for use on their own. Each says where its figures come from.")),
            Labelled(FieldLabel(self.tr("Loo&k for"), self.search), self.search),
            self.nothing,
        )
        self.groups = [self._group(topic, entries) for topic, entries in _entries().items()]
        self.column.addStretch(1)
        self._more = QTimer(self)
        self._more.setInterval(0)
        self._more.timeout.connect(self._make_more)
        self.search.setText(typed)
        self.filter(typed)
        self.search.textChanged.connect(self.filter)

    def _group(self, topic: str, entries: list[Entry]) -> Group:
        group = Group(Text(topic, "heading"), CardGrid(tokens.FAULT_WIDTH, 4), entries)
        self.add(group.heading, group.grid)
        return group

    def found(self) -> list[Card]:
        """Return the cards that match what was typed; those not made yet are made."""
        self._make_some(len(self._missing()))
        found = [e.card for group in self.groups for e in group.entries if e.wanted and e.card is not None]
        for card in found:
            card.show()
        return found

    def card_of(self, name: str) -> Card | None:
        """Return the card of a calculation or table, when it matches what was typed."""
        self.found()
        entries = (e for group in self.groups for e in group.entries)
        return next((e.card for e in entries if e.name == name and e.wanted), None)

    def filter(self, typed: str) -> None:
        """Show the cards that hold every word typed."""
        words = typed.casefold().split()
        any_found = False
        for group in self.groups:
            for entry in group.entries:
                entry.wanted = all(word in entry.text for word in words)
                if entry.card is not None:
                    entry.card.setVisible(entry.wanted)
            shown = any(entry.wanted for entry in group.entries)
            group.heading.setVisible(shown)
            group.grid.setVisible(shown)
            group.grid.cards.invalidate()
            any_found = any_found or shown
        self.nothing.setText(self.tr("Nothing here matches “{0}”. Try fewer letters.").format(typed.strip()))
        self.nothing.setVisible(not any_found)
        self._make_some()

    def focus_found(self) -> None:
        """Go to the first card found."""
        found = self.found()
        if found:
            found[0].setFocus(Qt.FocusReason.TabFocusReason)

    def take_found(self) -> None:
        """Take the card when only one is found, else go to the first."""
        found = self.found()
        if len(found) == 1:
            found[0].click()
        else:
            self.focus_found()

    # -- cards, a few at a time --------------------------------------------------------

    def _missing(self) -> list[tuple[Group, int]]:
        return [
            (group, index)
            for group in self.groups
            for index, entry in enumerate(group.entries)
            if entry.wanted and entry.card is None
        ]

    def _make_some(self, count: int = AT_ONCE) -> None:
        missing = self._missing()
        for group, index in missing[:count]:
            self._make(group, index)
        if len(missing) > count:
            self._more.start()
        else:
            self._more.stop()

    def _make_more(self) -> None:
        """Make some more, and place them before anyone sees the page."""
        self._make_some()
        QCoreApplication.sendPostedEvents()
        place_all()

    def _make(self, group: Group, index: int) -> None:
        """Make a card in its place among those that are there, for the eye and for the Tab key."""
        entry = group.entries[index]
        entry.card = Card(entry.title, entry.note)
        entry.card.clicked.connect(lambda _=False: self.choose(entry.name))
        group.grid.add(entry.card)
        group.grid.cards.bring_last_to(sum(e.card is not None for e in group.entries[:index]))
        before: QWidget = self.search
        for one in self.groups:
            for other in one.entries:
                if other is entry:
                    QWidget.setTabOrder(before, entry.card)
                    return
                before = other.card or before


def _entries() -> dict[str, list[Entry]]:
    entries = {
        topic: [Entry(c.name, c.title, c.does, f"{topic} {c.title} {c.does} {c.name}".casefold()) for c in cards]
        for topic, cards in topics().items()
    }
    for table in reversed([make() for make in TABLES.values()]):
        held = " ".join(group.heading for group in table.groups)
        text = f"{table.topic} {table.title} {table.note} {table.name} {held}".casefold()
        entries[table.topic].insert(0, Entry(table.name, table.title, table.note, text))
    return entries


def table_page(table: Table, words: Callable[[str], str]) -> QWidget:
    """Return a table as a panel for each thing in it; ``words`` puts temperatures into words."""
    grid = CardGrid(tokens.FAULT_WIDTH, 3)
    for group in table.groups:
        panel = Panel()
        panel.add(Text(group.heading, "heading"))
        for entry in group.entries:
            line = Column(Text(words(entry.says), "strong"), gap=tokens.HALF)
            line.add(*(Text(words(text)) for text in entry.mind))
            if entry.source:
                line.add(Text(f"Source: {entry.source}.", "small", "soft"))
            panel.add(line)
        panel.column.addStretch(1)
        grid.add(panel)
    return grid
