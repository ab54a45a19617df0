"""What stands beside a question: how settled the matter is, what is suspected, and what was said so far.

The parts are made once and shown with other words after each answer: making them anew takes longer than a frame.
"""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from troubleshoot.interview.views import AnsweredLine, SuspectBar
from ui.style import tokens
from ui.widgets.basic import Button, Panel, Text
from ui.widgets.cards import Card
from ui.widgets.layouts import Column, WrapRow
from ui.widgets.measures import SettledGauge, SuspectBars


class Standing(Panel):
    """How settled the matter is and what is suspected, with the way to the verdict."""

    wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__("card", parent)
        self._gauge, self._bars = SettledGauge(), SuspectBars()
        verdict = Button(self.tr("&Verdict as it stands"), name=self.tr("Verdict as it stands"))
        verdict.clicked.connect(self.wanted.emit)
        self.add(self._gauge, Text(self.tr("Suspected now"), "heading"), self._bars, WrapRow(verdict))

    def show_as(self, settled: float, suspects: Sequence[SuspectBar]) -> None:
        """Show how things stand now."""
        self._gauge.show_share(settled)
        self._bars.show_suspects(suspects)


class SaidSoFar(Panel):
    """The complaint and the answers, each a card that leads back to where it is changed."""

    complaint_wanted = Signal()
    sign_wanted = Signal(str)
    latest_wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__("card", parent)
        self.add(Text(self.tr("Said so far"), "heading"))
        self._complaint = Card("", self.tr("The complaint"))
        self._complaint.clicked.connect(lambda: self.complaint_wanted.emit())
        self._lines = Column()
        self._cards: list[Card] = []
        self._signs: list[str] = []
        latest = Button(self.tr("To the &latest question"), name=self.tr("To the latest question"))
        latest.clicked.connect(lambda: self.latest_wanted.emit())
        self._latest = WrapRow(latest)
        self.add(self._complaint, self._lines, self._latest)

    def show_as(self, complaint: str | None, answered: Sequence[AnsweredLine], now: str, earlier: bool) -> None:
        """Show what was said; the answer to the question on show is marked.

        ``earlier`` says that a later question is waiting.
        """
        self.setVisible(bool(complaint or answered))
        self._complaint.setVisible(complaint is not None)
        if complaint is not None:
            self._complaint.show_as(complaint, self.tr("The complaint"))
            self._complaint.setAccessibleName(self.tr("Change the complaint: {0}").format(complaint))
        while len(self._cards) < len(answered):
            self._add_card()
        self._lines.setVisible(bool(answered))
        self._signs = [line.sign for line in answered]
        for card, line in zip(self._cards, answered, strict=False):
            memory = self.tr(" (from memory)") if line.from_memory else ""
            card.show_as(line.said, line.ask + memory, chosen=line.sign == now)
            card.setAccessibleName(self.tr("Change: {0} {1}").format(line.ask, line.said))
            card.setVisible(True)
        for card in self._cards[len(answered) :]:
            card.hide()
        self._latest.setVisible(earlier)

    def _add_card(self) -> None:
        place = len(self._cards)
        card = Card("")
        card.clicked.connect(lambda: self.sign_wanted.emit(self._signs[place]))
        self._lines.add(card)
        QWidget.setTabOrder(self._cards[-1] if self._cards else self._complaint, card)
        self._cards.append(card)


class Beside(Column):
    """The whole column beside a question."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(gap=tokens.WIDE, parent=parent)
        self.standing, self.said = Standing(), SaidSoFar()
        self.add(self.standing, self.said)
        self.column.addStretch(1)
