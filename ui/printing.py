"""A verdict or a fault card on paper: printed, saved as PDF, or copied.  Text goes in as text, never as markup."""

from __future__ import annotations

import bisect
from collections.abc import Callable, Sequence
from pathlib import Path

from PySide6.QtCore import QBuffer, QCoreApplication, QIODevice, QMarginsF, QSizeF, QUrl
from PySide6.QtGui import (
    QColor,
    QGuiApplication,
    QImage,
    QPagedPaintDevice,
    QPageLayout,
    QPageSize,
    QPainter,
    QPdfWriter,
    QTextBlockFormat,
    QTextCharFormat,
    QTextCursor,
    QTextDocument,
    QTextImageFormat,
)
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import QDialog, QWidget

from troubleshoot import atomic
from troubleshoot.advice import fault_card, report
from troubleshoot.advice.fault_card import FaultCard
from troubleshoot.advice.report import Block
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
    "small": ("small", 6.0, 0.0),
}
#: A picture on paper is at most so large, with so much space above it, in points.
PICTURE_SIZE, PICTURE_GAP = 320.0, 8.0

#: A card is set as large as its one A5 page allows: the sizes of the base tried in points, and the margin.
CARD_BASES = tuple(quarter / 4 for quarter in range(48, 23, -1))
CARD_MARGIN_MM = 8.0
#: On a card the scale between kinds of text, the space above them and the lines (per cent) are closer than on a page.
CARD_RATIO, CARD_SPACE, CARD_LINE = 1.12, 0.5, 88


def document(verdict: Verdict, pictures: Sequence[QImage] = ()) -> QTextDocument:
    """Return a verdict as a document, in ink on white, with pictures of the batch at its end."""
    blocks = list(report.blocks(verdict, _tr))
    if pictures:
        blocks.append(Block("heading", _tr("Pictures")))
    made = _set(blocks, PAPER_BASE, tokens.RATIO, 1.0, 100)
    cursor = QTextCursor(made)
    cursor.movePosition(QTextCursor.MoveOperation.End)
    for number, picture in enumerate(pictures):
        name = f"picture:{number}"
        made.addResource(QTextDocument.ResourceType.ImageResource, QUrl(name), picture)
        size = QSizeF(picture.size())
        share = min(1.0, PICTURE_SIZE / max(size.width(), size.height(), 1.0))
        shown = QTextImageFormat()
        shown.setName(name)
        shown.setWidth(size.width() * share)
        shown.setHeight(size.height() * share)
        below = QTextBlockFormat()
        below.setTopMargin(PICTURE_GAP)
        cursor.insertBlock(below, QTextCharFormat())
        cursor.insertImage(shown)
    return made


def _set(blocks: Sequence[Block], base: float, ratio: float, space: float, line: int) -> QTextDocument:
    """Return blocks as a document; ``base`` is the size of plain text in points, ``line`` its leading in per cent."""
    made = QTextDocument()
    made.setUndoRedoEnabled(False)
    made.setDocumentMargin(0)
    cursor = QTextCursor(made)
    formats = {kind: _formats(kind, base, ratio, space, line) for kind in {block.kind for block in blocks}}
    for number, block in enumerate(blocks):
        form, characters = formats[block.kind]
        if number:
            cursor.insertBlock(form, characters)
        else:
            cursor.setBlockFormat(form)
        cursor.insertText(block.text, characters)
    return made


def _formats(kind: str, base: float, ratio: float, space: float, line: int) -> tuple[QTextBlockFormat, QTextCharFormat]:
    role, above, indent = KINDS[kind]
    step, bold, heading = tokens.TYPE[role]
    characters = QTextCharFormat()
    characters.setFontFamilies(list(tokens.HEADING_FACES if heading else tokens.TEXT_FACES))
    characters.setFontPointSize(base * ratio**step)
    characters.setFontWeight(700 if bold else 400)
    characters.setForeground(QColor(tokens.LIGHT.caution if kind == "caution" else tokens.LIGHT.ink))
    form = QTextBlockFormat()
    form.setTopMargin(above * space)
    form.setLeftMargin(indent)
    if line != 100:
        form.setLineHeight(line, QTextBlockFormat.LineHeightTypes.ProportionalHeight.value)
    return form, characters


def save_pdf(verdict: Verdict, path: Path, pictures: Sequence[QImage] = ()) -> None:
    """Save a verdict as PDF.  Raises OSError when the file cannot be written."""
    _save(path, report.headline(verdict, _tr), _page(), lambda writer: document(verdict, pictures).print_(writer))


def print_verdict(verdict: Verdict, parent: QWidget, pictures: Sequence[QImage] = ()) -> bool:
    """Ask for a printer and print; return whether it was printed."""
    return _print(parent, _page(), lambda printer: document(verdict, pictures).print_(printer))


def copy_text(verdict: Verdict) -> str:
    """Put a verdict on the clipboard as text and return it."""
    return _copy(report.as_text(verdict, _tr))


def save_card(card: FaultCard, path: Path) -> None:
    """Save a fault card as PDF: one A5 page, always.  Raises OSError when the file cannot be written."""
    _save(path, card.complaint, _card_page(), lambda writer: _paint_card(card, writer))


def print_card(card: FaultCard, parent: QWidget) -> bool:
    """Ask for a printer and print a fault card; return whether it was printed."""
    return _print(parent, _card_page(), lambda printer: _paint_card(card, printer))


def copy_card(card: FaultCard) -> str:
    """Put a fault card on the clipboard as text and return it."""
    return _copy(fault_card.as_text(card, _tr))


def save_sheet(title: str, blocks: Sequence[Block], path: Path) -> None:
    """Save blocks of text as PDF.  Raises OSError when the file cannot be written."""
    _save(path, title, _page(), lambda writer: _sheet(blocks).print_(writer))


def print_sheet(blocks: Sequence[Block], parent: QWidget) -> bool:
    """Ask for a printer and print blocks of text; return whether they were printed."""
    return _print(parent, _page(), lambda printer: _sheet(blocks).print_(printer))


def _sheet(blocks: Sequence[Block]) -> QTextDocument:
    return _set(blocks, PAPER_BASE, tokens.RATIO, 1.0, 100)


def card_blocks(card: FaultCard) -> tuple[Block, ...]:
    """Return a card as blocks in the language of the window."""
    return fault_card.blocks(card, _tr)


def card_base(card: FaultCard, device: QPagedPaintDevice) -> float:
    """Return the largest size of plain text, in points, at which a card stands on its page; the least if none does."""
    room = device.pageLayout().paintRectPixels(device.logicalDpiY()).height()
    # The higher the text the higher the card, so the first size that fits is found by halving.
    first = bisect.bisect_left(CARD_BASES, True, key=lambda base: _card(card, base, device).size().height() <= room)
    return CARD_BASES[min(first, len(CARD_BASES) - 1)]


def _card(card: FaultCard, base: float, device: QPagedPaintDevice) -> QTextDocument:
    made = _set(card_blocks(card), base, CARD_RATIO, CARD_SPACE, CARD_LINE)
    made.documentLayout().setPaintDevice(device)
    made.setTextWidth(device.pageLayout().paintRectPixels(device.logicalDpiX()).width())
    return made


def _paint_card(card: FaultCard, device: QPagedPaintDevice) -> None:
    made = _card(card, card_base(card, device), device)
    room = device.pageLayout().paintRectPixels(device.logicalDpiY()).height()
    painter = QPainter(device)
    if made.size().height() > room:
        # Rules can be written that fill more than a page at the least size; the page is kept all the same.
        painter.scale(room / made.size().height(), room / made.size().height())
    made.drawContents(painter)
    painter.end()


def _save(path: Path, title: str, page: QPageLayout, paint: Callable[[QPdfWriter], None]) -> None:
    # Made in memory: on a full disk the writer would leave half a page and say nothing.
    made = QBuffer()
    made.open(QIODevice.OpenModeFlag.WriteOnly)
    writer = QPdfWriter(made)
    writer.setPageLayout(page)
    writer.setTitle(title)
    writer.setCreator("Batchmend")
    paint(writer)
    del writer
    atomic.write_bytes(path, made.data().data())


def _print(parent: QWidget, page: QPageLayout, paint: Callable[[QPrinter], None]) -> bool:
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setPageLayout(page)
    dialog = QPrintDialog(printer, parent)
    if dialog.exec() != QDialog.DialogCode.Accepted:
        return False
    paint(printer)
    return True


def _copy(text: str) -> str:
    QGuiApplication.clipboard().setText(text)
    return text


def _tr(phrase: str) -> str:
    return QCoreApplication.translate("Report", phrase)


def _page() -> QPageLayout:
    return _layout(QPageSize.PageSizeId.A4, MARGIN_MM)


def _card_page() -> QPageLayout:
    return _layout(QPageSize.PageSizeId.A5, CARD_MARGIN_MM)


def _layout(size: QPageSize.PageSizeId, margin_mm: float) -> QPageLayout:
    margins = QMarginsF(margin_mm, margin_mm, margin_mm, margin_mm)
    return QPageLayout(QPageSize(size), QPageLayout.Orientation.Portrait, margins, QPageLayout.Unit.Millimeter)
