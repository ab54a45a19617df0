"""The list of calculations by topic, looked through by typing, and the two tables that stand beside them."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QLineEdit, QWidget

from troubleshoot.kitchen.card import topics
from troubleshoot.kitchen.service import CHOUX_STEPS, run_together, schedule
from troubleshoot.kitchen.storage import KEEPING, WAYS, span_in_words
from ui.style import tokens
from ui.style.sheet import look
from ui.widgets.basic import FieldLabel, Heading, Panel, Text
from ui.widgets.cards import Card
from ui.widgets.layouts import CardGrid, Column, Labelled

#: Ids of the two tables; calculations have no dash in their names.
STORAGE, SCHEDULE = "storage-table", "choux-schedule"
#: The topic that each table stands under.
TABLE_TOPICS = {STORAGE: "Time and safety", SCHEDULE: "Rescue or remake"}


class AmountSearch(QLineEdit):
    """The field that calculations are looked for in."""

    def __init__(self, down: Callable[[], None], take: Callable[[], None]) -> None:
        super().__init__()
        self._down, self._take = down, take
        self.setFont(look().font("lead"))
        self.setMaxLength(80)
        self.setMinimumWidth(look().px(tokens.SIDE_WIDTH))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Down goes to the first one found, Escape clears, Enter takes the only one."""
        if event.key() == Qt.Key.Key_Down:
            self._down()
        elif event.key() == Qt.Key.Key_Escape:
            self.clear()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._take()
        else:
            super().keyPressEvent(event)


class AmountList(Column):
    """Every calculation as a card, by topic."""

    def __init__(self, choose: Callable[[str], None], typed: str = "", parent: QWidget | None = None) -> None:
        super().__init__(gap=tokens.GAP, parent=parent)
        self.choose = choose
        self.search = AmountSearch(self.focus_found, self.take_found)
        self.search.setAccessibleName(self.tr("Search the amounts"))
        self.search.setAccessibleDescription(self.tr("Type a word, such as egg, syrup or dew"))
        self.search.setPlaceholderText(self.tr("egg, syrup, dew …"))
        self.search.textChanged.connect(self.filter)
        self.nothing = Text("", "lead")
        self.nothing.hide()
        self.add(
            Heading(self.tr("Amounts"), "display"),
            Text(self.tr("The sums behind the advice, for use on their own. Each says where its figures come from.")),
            Labelled(FieldLabel(self.tr("Loo&k for"), self.search), self.search),
            self.nothing,
        )
        self.groups: list[tuple[Text, CardGrid, list[tuple[Card, str]]]] = []
        for topic, entries in self._entries().items():
            grid, cards = CardGrid(tokens.FAULT_WIDTH, 4), []
            for entry, title, note, words in entries:
                card = Card(title, note)
                card.clicked.connect(lambda _=False, entry=entry: self.choose(entry))
                grid.add(card)
                cards.append((card, f"{topic} {title} {note} {words}".casefold()))
            self.groups.append((Text(topic, "heading"), grid, cards))
            self.add(self.groups[-1][0], grid)
        self.column.addStretch(1)
        self.search.setText(typed)

    def _entries(self) -> dict[str, list[tuple[str, str, str, str]]]:
        entries = {topic: [(c.name, c.title, c.does, c.name) for c in cards] for topic, cards in topics().items()}
        tables = {
            STORAGE: (self.tr("What keeps how long"), self.tr("Chilled, frozen, airtight or filled."), "storage table"),
            SCHEDULE: (
                self.tr("A fresh batch of choux, step by step"),
                self.tr("What can be done side by side, and when to begin."),
                "schedule remake",
            ),
        }
        for table, texts in tables.items():
            entries[TABLE_TOPICS[table]].insert(0, (table, *texts))
        return entries

    def found(self) -> list[Card]:
        """Return the cards that match what was typed."""
        return [card for _, _, cards in self.groups for card, _ in cards if not card.isHidden()]

    def filter(self, typed: str) -> None:
        """Show the cards that hold every word typed."""
        words = typed.casefold().split()
        any_found = False
        for title, grid, cards in self.groups:
            shown = 0
            for card, text in cards:
                match = all(word in text for word in words)
                card.setVisible(match)
                shown += match
            title.setVisible(shown > 0)
            grid.setVisible(shown > 0)
            grid.cards.invalidate()
            any_found = any_found or shown > 0
        self.nothing.setText(self.tr("Nothing here matches “{0}”. Try fewer letters.").format(typed.strip()))
        self.nothing.setVisible(not any_found)

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


def storage_table(words: Callable[[str], str]) -> QWidget:
    """Return what keeps how long, a card for each component; ``words`` puts temperatures into words."""
    grid = CardGrid(tokens.FAULT_WIDTH, 3)
    for component in dict.fromkeys(row.component for row in KEEPING):
        panel = Panel()
        panel.add(Text(component, "heading"))
        for row in (row for row in KEEPING if row.component == component):
            panel.add(
                Column(
                    Text(f"{WAYS[row.way][0].upper()}{WAYS[row.way][1:]}: {span_in_words(row)}", "strong"),
                    Text(words(row.mind)),
                    Text(f"Source: {row.source}.", "small", "soft"),
                    gap=tokens.HALF,
                )
            )
        panel.column.addStretch(1)
        grid.add(panel)
    return grid


def schedule_table() -> QWidget:
    """Return the steps of a fresh batch in the order in which they begin, and what runs side by side."""
    slots = sorted(schedule(CHOUX_STEPS), key=lambda slot: (slot.start_min, slot.end_min))
    beside: dict[str, list[str]] = {}
    for first, second in run_together(CHOUX_STEPS):
        beside.setdefault(first, []).append(second)
        beside.setdefault(second, []).append(first)
    panel = Panel()
    for slot in slots:
        hands = "with your hands" if slot.hands else "by itself"
        line = Column(
            Text(f"{slot.start_min:.0f} to {slot.end_min:.0f} minutes: {_words(slot.name)}, {hands}", "strong"),
            gap=tokens.HALF,
        )
        if slot.name in beside:
            line.add(Text(f"Beside it: {', '.join(_words(name) for name in beside[slot.name])}."))
        panel.add(line)
    panel.add(
        Text("Source: common practice for the steps. The times are worked for one pair of hands.", "small", "soft")
    )
    return panel


def _words(name: str) -> str:
    return name.replace("_", " ")
