"""A verdict on paper: printed, saved as PDF, or copied as text.  Text goes in as text; no markup is made of it."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QCoreApplication, QMarginsF
from PySide6.QtGui import (
    QColor,
    QGuiApplication,
    QPageLayout,
    QPageSize,
    QPdfWriter,
    QTextBlockFormat,
    QTextCharFormat,
    QTextCursor,
    QTextDocument,
)
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import QDialog, QWidget

from troubleshoot.advice import report
from troubleshoot.advice.verdict import Verdict
from ui.style import tokens

#: On paper text is set in points: what the base of the type scale is there, and the margin of a page in millimetres.
PAPER_BASE = 10.5
MARGIN_MM = 18.0
#: How each kind of block stands on paper: kind of text, space above and indent in points.
KINDS = {
    "title": ("title", 0.0, 0.0),
    "heading": ("heading", 12.0, 0.0),
    "strong": ("strong", 6.0, 0.0),
    "line": ("body", 2.0, 0.0),
    "step": ("body", 2.0, 14.0),
    "caution": ("strong", 4.0, 0.0),
}


def document(verdict: Verdict) -> QTextDocument:
    """Return a verdict as a document, in ink on white."""
    made = QTextDocument()
    made.setUndoRedoEnabled(False)
    cursor = QTextCursor(made)
    for number, block in enumerate(report.blocks(verdict, _tr)):
        role, above, indent = KINDS[block.kind]
        step, bold, heading = tokens.TYPE[role]
        characters = QTextCharFormat()
        characters.setFontFamilies(list(tokens.HEADING_FACES if heading else tokens.TEXT_FACES))
        characters.setFontPointSize(PAPER_BASE * tokens.RATIO**step)
        characters.setFontWeight(700 if bold else 400)
        characters.setForeground(QColor(tokens.LIGHT.caution if block.kind == "caution" else tokens.LIGHT.ink))
        form = QTextBlockFormat()
        form.setTopMargin(above)
        form.setLeftMargin(indent)
        if number:
            cursor.insertBlock(form, characters)
        else:
            cursor.setBlockFormat(form)
        cursor.insertText(block.text, characters)
    return made


def save_pdf(verdict: Verdict, path: Path) -> None:
    """Save a verdict as PDF.  Raises OSError when the file cannot be written."""
    path.parent.mkdir(parents=True, exist_ok=True)
    with path.open("ab"):  # says at once when the place cannot be written
        pass
    writer = QPdfWriter(str(path))
    writer.setPageLayout(_page())
    writer.setTitle(report.headline(verdict, _tr))
    writer.setCreator("Batchmend")
    document(verdict).print_(writer)
    del writer
    if path.stat().st_size == 0:
        raise OSError(f"nothing was written to {path}")


def print_verdict(verdict: Verdict, parent: QWidget) -> bool:
    """Ask for a printer and print; return whether it was printed."""
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setPageLayout(_page())
    dialog = QPrintDialog(printer, parent)
    if dialog.exec() != QDialog.DialogCode.Accepted:
        return False
    document(verdict).print_(printer)
    return True


def copy_text(verdict: Verdict) -> str:
    """Put a verdict on the clipboard as text and return it."""
    text = report.as_text(verdict, _tr)
    QGuiApplication.clipboard().setText(text)
    return text


def _tr(phrase: str) -> str:
    return QCoreApplication.translate("Report", phrase)


def _page() -> QPageLayout:
    margins = QMarginsF(MARGIN_MM, MARGIN_MM, MARGIN_MM, MARGIN_MM)
    size = QPageSize(QPageSize.PageSizeId.A4)
    return QPageLayout(size, QPageLayout.Orientation.Portrait, margins, QPageLayout.Unit.Millimeter)
