"""A complaint's card for the wall, as it will stand on paper."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtWidgets import QFileDialog, QWidget

from troubleshoot.advice.fault_card import FaultCard
from ui import printing
from ui.desk import Desk
from ui.style import tokens
from ui.widgets.basic import Button, Heading, Panel, Text
from ui.widgets.layouts import Column, WrapRow

#: How each kind of block is shown: the kind of text and its tone.
LOOK = {
    "title": ("title", "ink"),
    "heading": ("heading", "ink"),
    "strong": ("strong", "ink"),
    "line": ("body", "ink"),
    "step": ("body", "ink"),
    "caution": ("strong", "caution"),
    "small": ("small", "soft"),
}


class CardView(Column):
    """The blocks of a card below one another on a sheet, and ways to take it away."""

    def __init__(self, card: FaultCard, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(gap=tokens.GAP, parent=parent)
        self.card, self.desk = card, desk
        self.heading = Heading(card.complaint, "title")
        prints = Button(self.tr("Pri&nt"), "main", self.tr("Print"))
        prints.clicked.connect(self.print)
        pdf = Button(self.tr("Save as P&DF"), name=self.tr("Save as PDF"))
        pdf.clicked.connect(self.save_pdf)
        copy = Button(self.tr("Copy as &text"), name=self.tr("Copy as text"))
        copy.clicked.connect(self.copy)
        self.done = Text(self.tr("A card for the wall: one A5 page."), tone="soft")
        self.add(self.heading, WrapRow(prints, pdf, copy), self.done, self._sheet())

    def _sheet(self) -> Panel:
        sheet, group = Panel(), Column(gap=tokens.HALF)
        for block in printing.card_blocks(self.card)[1:]:
            if block.kind == "heading":
                sheet.add(group)
                group = Column(gap=tokens.HALF)
            group.add(Text(block.text, *LOOK[block.kind]))
        sheet.add(group)
        return sheet

    def print(self) -> None:
        """Print the card."""
        if printing.print_card(self.card, self):
            self.done.setText(self.tr("Sent to the printer."))

    def save_pdf(self) -> None:
        """Ask where to, and save the card as PDF."""
        name = f"{self.card.fault}.pdf"
        chosen, _ = QFileDialog.getSaveFileName(self, self.tr("Save as PDF"), name, self.tr("PDF (*.pdf)"))
        if chosen:
            self.save_pdf_as(Path(chosen))

    def save_pdf_as(self, path: Path) -> bool:
        """Save the card as PDF; what goes wrong is said."""
        try:
            printing.save_card(self.card, path)
        except OSError as error:
            self.desk.say(
                self.tr("The PDF could not be saved ({0}).").format(error.strerror or error),
                self.tr("The card is still shown here."),
                self.tr("Choose a folder you may write in."),
            )
            return False
        self.done.setText(self.tr("Saved as {0}").format(path))
        return True

    def copy(self) -> None:
        """Copy the card as text."""
        printing.copy_card(self.card)
        self.done.setText(self.tr("Copied as text."))
