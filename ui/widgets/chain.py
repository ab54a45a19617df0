"""The chain from the mistake to what is seen, drawn as boxes and arrows."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QSize, Qt
from PySide6.QtGui import QFontMetrics, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QVBoxLayout, QWidget

from ui.style import tokens
from ui.style.sheet import look
from ui.widgets.basic import longest_word, paint_box, text_height


class ChainBox(QWidget):
    """One link: a box that can be reached by keyboard and is read out with its place in the chain."""

    def __init__(self, place: int, of: int, text: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.text = text
        self._last = place == of
        self._font = look().font("strong" if place in (1, of) else "body")
        self._metrics = QFontMetrics(self._font)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        kind = self.tr("the mistake") if place == 1 else self.tr("what is seen") if self._last else self.tr("leads to")
        self.setAccessibleName(self.tr("Link {0} of {1}, {2}: {3}").format(place, of, kind, text))
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def _room(self, width: int) -> int:
        line = self._metrics.averageCharWidth() * tokens.LINE_CHARACTERS
        return min(width - 2 * tokens.RING_ROOM - 2 * look().px(tokens.GAP), line)

    def hasHeightForWidth(self) -> bool:
        """The words wrap."""
        return True

    def heightForWidth(self, width: int) -> int:
        """Return the height of the wrapped words in their box."""
        words = text_height(self._metrics, self.text, self._room(width)) + look().px(tokens.GAP)
        return max(words, tokens.TARGET) + 2 * tokens.RING_ROOM

    def sizeHint(self) -> QSize:
        """Return the size at the main column's width."""
        width = look().px(tokens.MAIN_WIDTH)
        return QSize(width, self.heightForWidth(width))

    def minimumSizeHint(self) -> QSize:
        """Return the width of the widest word in its box."""
        width = longest_word(self._metrics, self.text) + 2 * tokens.RING_ROOM + 2 * look().px(tokens.GAP)
        return QSize(width, tokens.TARGET + 2 * tokens.RING_ROOM)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the box; the last one, what is seen, has a heavier line."""
        painter = QPainter(self)
        edge = look().colour("ink" if self._last else "edge")
        box = paint_box(
            painter,
            self.rect(),
            look().colour("card"),
            edge,
            tokens.RING if self._last else tokens.STROKE,
            self.hasFocus(),
        )
        painter.setFont(self._font)
        painter.setPen(look().colour("ink"))
        pad = look().px(tokens.GAP)
        flags = int(Qt.TextFlag.TextWordWrap | Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        words = box.adjusted(pad, 0, -pad, 0)
        words.setWidth(self._room(self.width()))
        painter.drawText(words, flags, self.text)


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


class Chain(QWidget):
    """All links of a chain with their arrows."""

    def __init__(self, links: Sequence[str], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        self.boxes = [ChainBox(place, len(links), text) for place, text in enumerate(links, 1)]
        for box in self.boxes:
            if box is not self.boxes[0]:
                column.addWidget(ChainArrow())
            column.addWidget(box)
        self.setAccessibleName(self.tr("How the mistake leads to what is seen, in {0} links").format(len(links)))
