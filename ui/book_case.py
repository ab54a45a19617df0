"""One case of the book: what was said and concluded, and what came of it, said with big buttons and a few fields."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import partial

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLineEdit, QWidget

from troubleshoot.casebook.names import NO_CAUSE
from troubleshoot.casebook.record import Outcome, Record
from troubleshoot.casebook.shown import CaseView
from troubleshoot.casebook.valid import MOST_NOTE
from ui.book_pictures import CasePictures
from ui.practice.base import FoundCards
from ui.style import tokens
from ui.style.sheet import look
from ui.widgets.basic import FieldLabel, Heading, NumberEdit, Panel, Text
from ui.widgets.cards import Card
from ui.widgets.layouts import CardGrid, Column, Labelled, TwoColumns, WrapRow
from ui.widgets.strips import Section

Change = Callable[[Record], Record]


class CasePanel(Column):
    """A case.  ``change`` is asked to change it; ``refuse`` gets a text that is no number."""

    def __init__(
        self,
        view: CaseView,
        change: Callable[[Change], None],
        refuse: Callable[[str], None],
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(gap=tokens.GAP, parent=parent)
        self.view, self._change, self._refuse = view, change, refuse
        self.heading = Heading(view.title, "display")
        self.add(self.heading)
        if view.record.invented:
            self.add(Text(self.tr("This case is invented."), "strong"))
        main, side = Column(gap=tokens.GAP), Column(gap=tokens.GAP)
        main.add(self._right(), self._took(), self._done())
        if view.pictures:
            main.add(CasePictures(view.pictures))
        main.column.addStretch(1)
        side.add(self._about())
        side.column.addStretch(1)
        self.columns = TwoColumns(main, side)
        self.add(self.columns)

    # -- whether the verdict was right -------------------------------------------------

    def _right(self) -> QWidget:
        record = self.view.record
        panel = Panel("notice")
        panel.add(Text(self.tr("Was the verdict right?"), "title"), Text(self.view.outcome))
        row = CardGrid(tokens.FIELD_WIDTH, 3)
        right = self._answer(self.tr("It was right"), record.outcome is Outcome.RIGHT)
        right.clicked.connect(lambda: self._change(partial(_outcome, Outcome.RIGHT, record.cause)))
        wrong = self._answer(self.tr("It was wrong"), record.outcome is Outcome.WRONG)
        wrong.clicked.connect(self.ask_what_it_was)
        unknown = self._answer(self.tr("Not known"), record.outcome is Outcome.NOT_KNOWN)
        unknown.clicked.connect(lambda: self._change(partial(_outcome, Outcome.NOT_KNOWN, None)))
        row.add(right, wrong, unknown)
        panel.add(row)
        self.wrong = wrong
        self.chooser: FoundCards | None = None
        self._panel = panel
        return panel

    def _answer(self, words: str, chosen: bool) -> Card:
        card = Card(words, roles=("heading", "body"))
        card.setCheckable(True)
        card.setChecked(chosen)
        return card

    def ask_what_it_was(self) -> None:
        """Show the causes that it can have been."""
        self.wrong.setChecked(self.view.record.outcome is Outcome.WRONG)
        if self.chooser is None:
            cards = []
            for cause, name in (*self.view.causes, (None, self.tr(NO_CAUSE))):
                card = Card(name)
                card.clicked.connect(partial(self._was, cause))
                cards.append((card, name))
            self.chooser = FoundCards(
                self.tr("Find what it was"),
                self.tr("What was it?"),
                self.tr("Type a word, such as oven"),
                [(self.tr("It was …"), cards)],
            )
            self._panel.add(self.chooser)
        self.chooser.finder.setFocus(Qt.FocusReason.OtherFocusReason)

    def _was(self, cause: str | None, _on: bool = False) -> None:
        self._change(partial(_outcome, Outcome.WRONG, cause))

    # -- what it took ------------------------------------------------------------------

    def _took(self) -> QWidget:
        record = self.view.record
        panel = Panel()
        panel.add(Text(self.tr("What it took"), "heading"))
        row = WrapRow(gap=tokens.GAP)
        for name, words, value in (
            ("pieces", self.tr("Pieces in the batch"), record.pieces),
            ("pieces_saved", self.tr("Pieces saved"), record.pieces_saved),
            ("pieces_lost", self.tr("Pieces lost"), record.pieces_lost),
            ("minutes", self.tr("Minutes"), record.minutes),
        ):
            edit = NumberEdit(words)
            edit.set_number(value)
            edit.entered.connect(partial(self._number, name, edit))
            row.wrap.addWidget(Labelled(FieldLabel(words, edit), edit))
        panel.add(row)
        note = QLineEdit(record.note.replace("\n", " "))
        note.setFont(look().font("lead"))
        note.setMaxLength(MOST_NOTE)
        note.setAccessibleName(self.tr("Note"))
        note.setAccessibleDescription(self.tr("No names of people"))
        note.editingFinished.connect(lambda: self._note(note.text().strip()))
        panel.add(FieldLabel(self.tr("Note, without names of people"), note), note)
        return panel

    def _number(self, name: str, edit: NumberEdit, _text: str) -> None:
        try:
            value = edit.number()
        except ValueError:
            value = -1.0
        if value is not None and (value < 0 or (name != "minutes" and value != round(value))):
            self._refuse(edit.text())
            edit.set_number(getattr(self.view.record, name))
            return
        changed = value if name == "minutes" or value is None else round(value)
        if changed != getattr(self.view.record, name):
            self._change(partial(_with, name, changed))

    def _note(self, text: str) -> None:
        if text != self.view.record.note.replace("\n", " "):
            self._change(partial(_with, "note", text))

    def _done(self) -> QWidget:
        record = self.view.record
        panel = Panel()
        panel.add(Text(self.tr("What was done"), "heading"))
        if not self.view.remedies:
            panel.add(Text(self.tr("There is nothing to choose from for this cause."), tone="soft"))
        for remedy, name in self.view.remedies:
            card = Card(name)
            card.setCheckable(True)
            card.setChecked(remedy in record.done)
            card.clicked.connect(lambda on, remedy=remedy: self._toggle(remedy, on))
            panel.add(card)
        return panel

    def _toggle(self, remedy: str, on: bool) -> None:
        done = self.view.record.done
        self._change(partial(_with, "done", (*done, remedy) if on else tuple(one for one in done if one != remedy)))

    # -- what was said -----------------------------------------------------------------

    def _about(self) -> QWidget:
        about = Column(gap=tokens.GAP)
        panel = Panel()
        for what, words in self.view.about:
            panel.add(Column(Text(what, tone="soft"), Text(words, "strong"), gap=tokens.HALF))
        about.add(
            panel,
            Section(self.tr("What was said"), self._answers),
            Section(self.tr("What was suspected"), self._suspects),
        )
        return about

    def _answers(self) -> QWidget:
        panel = Panel()
        for ask, said in self.view.answers:
            panel.add(Column(Text(ask, tone="soft"), Text(said, "strong"), gap=tokens.HALF))
        if not self.view.answers:
            panel.add(Text(self.tr("No question was answered.")))
        return panel

    def _suspects(self) -> QWidget:
        panel = Panel()
        panel.add(*(Text(line) for line in self.view.suspects or (self.tr(NO_CAUSE),)))
        return panel


def _outcome(outcome: Outcome, cause: str | None, record: Record) -> Record:
    return replace(record, outcome=outcome, true_cause=cause)


def _with(name: str, value: object, record: Record) -> Record:
    changes = {name: value}
    return replace(record, **changes)  # type: ignore[arg-type]
