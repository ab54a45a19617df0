"""What parts two mistakes: the two side by side, and below them the signs that they show differently."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QFontMetrics, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QWidget

from ui.style import tokens
from ui.style.sheet import look
from ui.widgets.picture import Node, Picture, Spot, least_width, line_pen, paint_arrow

#: The two mistakes are told apart by a letter each.
LETTERS = ("A", "B")


@dataclass(frozen=True, slots=True)
class PartingSpot:
    """A sign with one of its answers, and how often (0..1) each of the two mistakes shows it."""

    spot: Spot
    shares: tuple[float, float]


class PairNode(Node):
    """A sign with a bar for each of the two."""

    def __init__(self, parting: PartingSpot, parent: QWidget | None = None) -> None:
        self.shares = parting.shares
        self._small = QFontMetrics(look().font("strong"))
        super().__init__(parting.spot, parent)

    def foot(self) -> int:
        """Keep room for the two bars."""
        return len(self.shares) * self._small.height() + look().px(tokens.HALF)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the card, and along its foot a bar for each with its letter."""
        super().paintEvent(event)
        painter = QPainter(self)
        painter.setFont(look().font("strong"))
        pad, line = tokens.RING_ROOM + look().px(tokens.GAP), self._small.height()
        wide = self._small.horizontalAdvance("M") + look().px(tokens.GRID)
        top = self.height() - tokens.RING_ROOM - look().px(tokens.HALF) - len(self.shares) * line
        for place, (letter, share) in enumerate(zip(LETTERS, self.shares, strict=True)):
            y = top + place * line
            painter.setPen(look().colour("ink"))
            painter.drawText(QRect(pad, y, wide, line), int(Qt.AlignmentFlag.AlignVCenter), letter)
            painter.setPen(Qt.PenStyle.NoPen)
            high = look().px(tokens.GRID)
            track = QRectF(pad + wide, y + (line - high) / 2, self.width() - 2 * pad - wide, high)
            painter.setBrush(look().colour("track"))
            painter.drawRect(track)
            painter.setBrush(look().colour("bar" if place else "accent"))
            painter.drawRect(QRectF(track.left(), track.top(), track.width() * share, high))


class Parting(Picture):
    """Two mistakes and the signs that part them, the best first."""

    def __init__(
        self,
        heads: tuple[Spot, Spot],
        signs: Sequence[PartingSpot],
        title: str,
        words: str,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(title, words, parent)
        self.heads = [self.node(head) for head in heads]
        self.nodes = [PairNode(sign, self) for sign in signs]
        for node in self.nodes:
            node.clicked.connect(lambda _=False, node=node: self.followed.emit(node.spot.follow))
        self.reach([*self.heads, *self.nodes])

    def sizeHint(self) -> QSize:
        """Return the size at the main column's width."""
        width = look().px(tokens.MAIN_WIDTH)
        return QSize(width, self.heightForWidth(width))

    def minimumSizeHint(self) -> QSize:
        """Return the width of the widest word."""
        return QSize(least_width([*self.heads, *self.nodes]), tokens.TARGET)

    def hasHeightForWidth(self) -> bool:
        """Where it is narrower it is higher."""
        return True

    def heightForWidth(self, width: int) -> int:
        """Return the height of the two and of all signs."""
        return self._lay(width, really=False)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay the picture out for the new width."""
        self._lay(self.width(), really=True)
        super().resizeEvent(event)

    def _columns(self, width: int, least: int, most: int) -> tuple[int, int]:
        """Return how many columns fit, and how wide each is."""
        gap = look().px(tokens.GRID)
        columns = max(1, min(most, (width + gap) // (least + gap)))
        return columns, (width - gap * (columns - 1)) // columns

    def _lay(self, width: int, really: bool) -> int:
        card = look().px(tokens.CARD_WIDTH)
        columns, wide = self._columns(width, max(card, least_width(self.heads)), 2)
        top = self._rows(self.heads, columns, wide, 0, really)
        if not self.nodes:
            return top
        top += look().px(tokens.WIDE) - look().px(tokens.GRID)
        columns, wide = self._columns(width, max(card, least_width(self.nodes)), 3)
        return self._rows(self.nodes, columns, wide, top, really) - look().px(tokens.GRID)

    def _rows(self, nodes: Sequence[Node], columns: int, wide: int, top: int, really: bool) -> int:
        gap = look().px(tokens.GRID)
        for start in range(0, len(nodes), columns):
            row = nodes[start : start + columns]
            high = max(node.heightForWidth(wide) for node in row)
            if really:
                for place, node in enumerate(row):
                    node.setGeometry(QRect(place * (wide + gap), top, wide, high))
            top += high + gap
        return top

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint an arrow from each of the two to the signs."""
        if not self.nodes:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(line_pen())
        foot = self.nodes[0].y()
        for head in self.heads:
            if head.geometry().bottom() + look().px(tokens.WIDE) * 2 > foot:
                x = float(head.geometry().center().x())
                paint_arrow(painter, QPointF(x, head.geometry().bottom() + 1), QPointF(x, foot - tokens.STROKE))
