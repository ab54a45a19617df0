"""The list of a family's entries, looked through by typing and narrowed to one kind."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import QCoreApplication, Qt
from PySide6.QtWidgets import QWidget

from troubleshoot.interview.library import CAUSE, CAUTION, FAULT, KINDS, REMEDY, RULE, SIGN, SOURCE, Hit, Library
from ui.style import tokens
from ui.widgets.basic import Button, FieldLabel, Text
from ui.widgets.cards import Card
from ui.widgets.layouts import CardGrid, Column, Labelled, WrapRow
from ui.widgets.search import SearchField, keep_found_in_sight

#: Entries shown at once; more are shown when they are asked for.
SHOWN = 24


def kind_words(kind: str, many: bool = False) -> str:
    """Return what a kind of entry is called."""
    tr = QCoreApplication.translate
    words = {
        FAULT: (tr("Rules", "Complaint"), tr("Rules", "Complaints")),
        CAUSE: (tr("Rules", "Cause"), tr("Rules", "Causes")),
        SIGN: (tr("Rules", "Sign"), tr("Rules", "Signs")),
        REMEDY: (tr("Rules", "Remedy"), tr("Rules", "Remedies")),
        RULE: (tr("Rules", "Rule"), tr("Rules", "Rules")),
        SOURCE: (tr("Rules", "Source"), tr("Rules", "Sources")),
        CAUTION: (tr("Rules", "Caution"), tr("Rules", "Cautions")),
    }
    return words[kind][many]


class RulesList(Column):
    """The field, the kinds, and what is found."""

    def __init__(
        self,
        library: Library,
        typed: str,
        kind: str | None,
        choose: Callable[[str, str], None],
        remember: Callable[[str, str | None], None],
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(gap=tokens.GAP, parent=parent)
        self.library, self.kind = library, kind
        self._choose, self._remember = choose, remember
        self._most = SHOWN
        self.search = SearchField(
            self.tr("Search the rules of {0}").format(library.name),
            self.tr("steam, egg, sticks …"),
            self.focus_found,
            self.take_found,
        )
        self.search.setAccessibleDescription(self.tr("Type a word, such as steam or egg"))
        self.search.setText(typed)
        self.search.textChanged.connect(self._typed)
        self.add(Labelled(FieldLabel(self.tr("&Find"), self.search), self.search))
        self.said = Text("", "strong")
        self.kinds: dict[str | None, Button] = {}
        row = WrapRow()
        every = self.tr("All ({0})").format(len(library.hits))
        for one, words in ((None, every), *((k, f"{kind_words(k, True)} ({library.count(k)})") for k in KINDS)):
            button = Button(words, name=words)
            button.setCheckable(True)
            button.setChecked(one == kind)
            button.clicked.connect(lambda _=False, one=one: self.narrow(one))
            self.kinds[one] = button
            row.wrap.addWidget(button)
        self.add(self.said, row)
        self._results = Column(gap=tokens.GAP)
        self.add(self._results)
        self.cards: list[Card] = []
        self._show()

    def narrow(self, kind: str | None) -> None:
        """Show one kind of entry, or all."""
        self.kind, self._most = kind, SHOWN
        for one, button in self.kinds.items():
            button.setChecked(one == kind)
        self._show()

    def focus_found(self) -> None:
        """Go to the first entry found."""
        if self.cards:
            self.cards[0].setFocus(Qt.FocusReason.TabFocusReason)

    def take_found(self) -> None:
        """Take the entry when only one is found, else go to the first."""
        if len(self.cards) == 1:
            self.cards[0].click()
        else:
            self.focus_found()

    def _typed(self) -> None:
        self._most = SHOWN
        self._show()
        keep_found_in_sight(self.search, self.said)

    def _more(self) -> None:
        before = self._most
        self._most += SHOWN
        self._show()
        self.cards[before].setFocus(Qt.FocusReason.TabFocusReason)

    def _show(self) -> None:
        typed = self.search.text()
        self._remember(typed, self.kind)
        hits = self.library.search(typed, self.kind)
        self.said.setText(self._count(typed, hits))
        _empty(self._results)
        grid = CardGrid(tokens.FAULT_WIDTH, 3)
        self.cards = [self._card(hit) for hit in hits[: self._most]]
        grid.add(*self.cards)
        self._results.add(grid)
        left = len(hits) - self._most
        if left > 0:
            more = Button(self.tr("Show {0} more").format(min(left, SHOWN)))
            more.clicked.connect(self._more)
            self._results.add(WrapRow(more))

    def _count(self, typed: str, hits: Sequence[Hit]) -> str:
        if not hits:
            return self.tr("Nothing here matches “{0}”. Try fewer letters, or All.").format(typed.strip())
        if not typed.strip():
            return self.tr("{0} in {1}").format(len(hits), self.library.name)
        return self.tr("{0} found").format(len(hits))

    def _card(self, hit: Hit) -> Card:
        note = ", ".join(filter(None, (kind_words(hit.kind), hit.note)))
        card = Card(hit.title, note)
        card.clicked.connect(lambda: self._choose(hit.kind, hit.id))
        return card


def _empty(column: Column) -> None:
    while (item := column.column.takeAt(0)) is not None:
        widget = item.widget()
        if widget is not None:
            widget.hide()
            widget.deleteLater()
