"""The chain from the mistake to what is seen, drawn as boxes and arrows."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QVBoxLayout, QWidget

from ui.style import tokens
from ui.style.sheet import look
from ui.widgets.basic import keep_units, measure, paint_box


class ChainBox(QWidget):
    """One link: a box that can be reached by keyboard and is read out with its place in the chain.

    ``note`` stands below in smaller type: what is seen of the link.
    """

    def __init__(self, place: int, of: int, text: str, note: str = "", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.text, self.note = text, note
        self._text_shown, self._note_shown = keep_units(text), keep_units(note)
        self._last = place == of
        self._words = measure("strong" if place in (1, of) else "body", look().percent)
        self._notes = measure("small", look().percent)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        kind = self.tr("the mistake") if place == 1 else self.tr("what is seen") if self._last else self.tr("leads to")
        self.setAccessibleName(self.tr("Link {0} of {1}, {2}: {3}").format(place, of, kind, text))
        self.setAccessibleDescription(note)
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def _room(self, width: int) -> int:
        return min(width - 2 * tokens.RING_ROOM - 2 * look().px(tokens.GAP), self._words.line)

    def _heights(self, width: int) -> tuple[int, int]:
        """Return how high the words and the note stand, the gap between them in the note's."""
        room = self._room(width)
        note = self._notes.height(self._note_shown, room) + look().px(tokens.HALF) if self.note else 0
        return self._words.height(self._text_shown, room), note

    def hasHeightForWidth(self) -> bool:
        """The words wrap."""
        return True

    def heightForWidth(self, width: int) -> int:
        """Return the height of the wrapped words in their box."""
        return max(sum(self._heights(width)) + look().px(tokens.GAP), tokens.TARGET) + 2 * tokens.RING_ROOM

    def sizeHint(self) -> QSize:
        """Return the size at the main column's width."""
        width = look().px(tokens.MAIN_WIDTH)
        return QSize(width, self.heightForWidth(width))

    def minimumSizeHint(self) -> QSize:
        """Return the width of the widest word in its box."""
        widest = max(self._words.word(self._text_shown), self._notes.word(self._note_shown))
        width = widest + 2 * tokens.RING_ROOM + 2 * look().px(tokens.GAP)
        return QSize(width, tokens.TARGET + 2 * tokens.RING_ROOM)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the box; the last one, what is seen, has a heavier line."""
        painter = QPainter(self)
        edge = look().colour("ink" if self._last else "edge")
        stroke = tokens.RING if self._last else tokens.STROKE
        box = paint_box(painter, self.rect(), look().colour("card"), edge, stroke, self.hasFocus())
        pad = look().px(tokens.GAP)
        words, note = self._heights(self.width())
        at = QRectF(box.x() + pad, box.center().y() - (words + note) / 2, self._room(self.width()), words)
        flags = int(Qt.TextFlag.TextWordWrap | Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignBottom)
        painter.setFont(self._words.font)
        painter.setPen(look().colour("ink"))
        painter.drawText(at, flags, self._text_shown)
        if self.note:
            painter.setFont(self._notes.font)
            painter.setPen(look().colour("soft"))
            painter.drawText(at.translated(0, words).adjusted(0, 0, 0, note - words), flags, self._note_shown)


class ChainArrow(QWidget):
    """The arrow from one link to the next."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setFixedHeight(look().px(tokens.ARROW))
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the arrow below the start of the text."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(look().colour("ink"), tokens.STROKE, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap))
        x, bottom, wing = float(look().px(tokens.GAP + tokens.WIDE)), self.height() - 1.0, look().px(tokens.GRID) * 0.75
        painter.drawLine(QPointF(x, 0), QPointF(x, bottom))
        painter.drawLine(QPointF(x, bottom), QPointF(x - wing, bottom - wing))
        painter.drawLine(QPointF(x, bottom), QPointF(x + wing, bottom - wing))


def chain_boxes(links: Sequence[str], notes: Sequence[str], parent: QWidget | None = None) -> list[ChainBox]:
    """Return a box for each link; ``notes`` say what is seen of it, and may be fewer than the links."""
    of = len(links)
    below = itertools.chain(notes, itertools.repeat(""))
    return [
        ChainBox(place, of, text, note, parent) for place, (text, note) in enumerate(zip(links, below, strict=False), 1)
    ]


class Chain(QWidget):
    """All links of a chain with their arrows; ``notes`` say what is seen of each, where anything is."""

    def __init__(self, links: Sequence[str], notes: Sequence[str] = (), parent: QWidget | None = None) -> None:
        super().__init__(parent)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        self.boxes = chain_boxes(links, notes)
        for box in self.boxes:
            if box is not self.boxes[0]:
                column.addWidget(ChainArrow())
            column.addWidget(box)
        self.setAccessibleName(self.tr("How the mistake leads to what is seen, in {0} links").format(len(links)))
