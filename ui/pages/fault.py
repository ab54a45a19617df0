"""The complaint, in a cook's own words, found by stage or by typing."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLineEdit, QWidget

from troubleshoot.interview.library import FAULT as COMPLAINT
from troubleshoot.interview.state import FAULT
from ui.pages.base import Page
from ui.rules_shown import CARD, Shown
from ui.style import tokens
from ui.widgets.basic import Button, FieldLabel, Heading, NumberEdit, Text
from ui.widgets.cards import Card
from ui.widgets.layouts import CardGrid, Column, Labelled, WrapRow
from ui.widgets.search import CardGroup, SearchField, keep_found_in_sight, matching, show_matching

#: The longest time to service that can be typed: a week.
MOST_MINUTES = 10_080.0
PIECES = "pieces"


class FaultPage(Page):
    """The page of complaints."""

    step = FAULT

    def fill(self) -> None:
        """Make the search field, the two optional facts, and the complaints by stage."""
        interview = self.desk.interview
        content = Column(gap=tokens.GAP)
        content.add(Heading(self.tr("What went wrong?"), "display"))
        self.search = SearchField(
            self.tr("Search the complaints"),
            self.tr("soggy, flat, sticks …"),
            self.focus_found,
            self.take_found,
            self.go_back,
        )
        self.search.setAccessibleDescription(self.tr("What went wrong? Type a word, such as soggy or flat"))
        self.search.textChanged.connect(self.filter)
        content.add(WrapRow(self._labelled(self.tr("Se&arch"), self.search), *self._facts(), gap=tokens.GAP))
        self.nothing = Text("", "lead")
        self.nothing.hide()
        content.add(self.nothing)
        self.groups: list[CardGroup] = []
        self.faults: list[tuple[Card, str]] = []
        lines = interview.faults()
        for stage in dict.fromkeys(line.stage for line in lines):
            title, grid, cards = Text(stage, "heading"), CardGrid(tokens.FAULT_WIDTH, 4), []
            for line in (line for line in lines if line.stage == stage):
                card = Card(line.say, drawing=line.drawing, loose=line.vague)
                card.setCheckable(True)
                card.setChecked(line.fault == interview.state.fault)
                card.clicked.connect(lambda _=False, fault=line.fault: self.choose(fault))
                grid.add(card)
                cards.append((card, line.words))
                self.faults.append((card, line.fault))
            content.add(title, grid)
            self.groups.append((title, grid, cards))
        content.column.addStretch(1)
        hard = Button(self.tr("&Hard to say"), name=self.tr("Hard to say: ask me"))
        hard.clicked.connect(lambda: self.choose(None))
        cards = Button(self.tr("Card for the wa&ll"), name=self.tr("Card for the wall"))
        cards.setAccessibleDescription(self.tr("One A5 page on a complaint: its causes, tests and rescues"))
        cards.clicked.connect(self.to_cards)
        self.hold(content, self.search, [cards, hard])

    def choose(self, fault: str | None) -> None:
        """Choose a complaint, or none."""
        self.desk.act(lambda: self.desk.interview.choose_fault(fault))

    def to_cards(self) -> None:
        """Show the card of the only complaint found, or of the one chosen, or all complaints to choose one from."""
        family = self.desk.interview.family.id
        found = [fault for card, fault in self.faults if not card.isHidden()]
        one = found[0] if len(found) == 1 else self.desk.interview.state.fault
        self.desk.going.emit("rules", Shown(family, CARD, one) if one else Shown(family, COMPLAINT))

    def found(self) -> list[Card]:
        """Return the complaints that match what was typed."""
        return matching(self.groups)

    def filter(self, typed: str) -> None:
        """Show the complaints that hold every word typed."""
        any_found = show_matching(self.groups, typed)
        self.nothing.setText(
            self.tr("Nothing here matches “{0}”. Try fewer letters, or press Hard to say below.").format(typed.strip())
        )
        self.nothing.setVisible(not any_found)
        keep_found_in_sight(self.search, next(iter(self.found()), self.nothing))

    def focus_found(self) -> None:
        """Go to the first complaint found."""
        found = self.found()
        if found:
            found[0].setFocus(Qt.FocusReason.TabFocusReason)
            self.sheet.ensureWidgetVisible(found[0])

    def take_found(self) -> None:
        """Take the complaint when only one is found, else go to the first."""
        found = self.found()
        if len(found) == 1:
            found[0].click()
        else:
            self.focus_found()

    def _facts(self) -> list[QWidget]:
        interview = self.desk.interview
        service = NumberEdit(self.tr("Minutes until it must be on the plate"), self.tr("You can leave this empty"))
        service.set_number(interview.state.service_in_min)
        service.entered.connect(lambda _: self._set_service(service))
        fields: list[QWidget] = [self._labelled(self.tr("On the plate in, &minutes"), service)]
        field = next((field for field in interview.batch() if field.quantity == PIECES), None)
        if field is not None:
            pieces = NumberEdit(self.tr("Pieces in the batch"), self.tr("You can leave this empty"))
            pieces.set_number(field.value)
            pieces.entered.connect(lambda _: self._set_pieces(pieces))
            fields.append(self._labelled(self.tr("How many p&ieces"), pieces))
        return fields

    def _labelled(self, words: str, field: QLineEdit) -> QWidget:
        return Labelled(FieldLabel(words, field), field)

    def _set_service(self, field: NumberEdit) -> None:
        try:
            minutes = field.number()
        except ValueError:
            minutes = -1.0
        if minutes is not None and not 0 <= minutes <= MOST_MINUTES:
            self.desk.say(
                self.tr("“{0}” is no number of minutes.").format(field.text()),
                self.tr("The time on record was kept."),
                self.tr("Type a number from 0 to {0}, or leave it empty.").format(f"{MOST_MINUTES:g}"),
            )
            field.set_number(self.desk.interview.state.service_in_min)
            return
        self.desk.interview.set_service(minutes)

    def _set_pieces(self, field: NumberEdit) -> None:
        try:
            value = field.number()
        except ValueError:
            self.desk.say(
                self.tr("“{0}” is no number.").format(field.text()),
                self.tr("The number on record was kept."),
                self.tr("Type a whole number, or leave it empty."),
            )
            field.set_number(self.desk.interview.state.batch.get(PIECES))
            return
        self.desk.set_batch(PIECES, value, show=False)
