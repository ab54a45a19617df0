"""A chart of the case book: drawn by the plotting library off the event loop, in the colours of the window."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import QRect, QSize, Qt, QTimer
from PySide6.QtGui import QPainter, QPaintEvent, QPixmap, QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget
from shiboken6 import isValid

from troubleshoot.casebook.charts import Labels, Look, chart_bytes
from troubleshoot.casebook.figures import Figures
from ui.book_desk import BookDesk, translate
from ui.style import tokens
from ui.style.sheet import look

#: Pixels of an inch at 100 %, and points.
INCH_PX, INCH_PT = 96.0, 72.0

#: A chart is drawn again so long after the last change of its width.
PAUSE_MS = 120


class ChartView(QWidget):
    """The picture of a chart; ``words`` say what it shows."""

    def __init__(
        self,
        book: BookDesk,
        name: str,
        figures: Figures,
        cause: Callable[[str, str | None], str],
        words: str,
        height: int,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.book = book
        self._draw = partial(chart_bytes, name, figures, "png", Labels(cause, translate))
        self._picture = QPixmap()
        self._drawn_for = 0
        self.setAccessibleName(words)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setFixedHeight(look().px(height))
        self._pause = QTimer(self)
        self._pause.setSingleShot(True)
        self._pause.setInterval(PAUSE_MS)
        self._pause.timeout.connect(self._ask)

    @property
    def drawn(self) -> bool:
        """Whether the chart is on show."""
        return not self._picture.isNull()

    def sizeHint(self) -> QSize:
        """Return the usual size."""
        return QSize(look().px(tokens.MAIN_WIDTH), self.height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Have the chart drawn for the new width, once it stays."""
        super().resizeEvent(event)
        self._pause.start()

    def _ask(self) -> None:
        if self._drawn_for == self.width():
            return
        self._drawn_for = self.width()
        c, ratio = look().colours, self.devicePixelRatioF()
        text_pt = look().text_px("small") * INCH_PT / INCH_PX
        drawn = Look(c.card, c.ink, c.soft, c.line, c.accent, c.bar, c.caution, text_pt)
        size_in = (max(self.width(), tokens.FIELD_WIDTH) / INCH_PX, self.height() / INCH_PX)
        self.book.do(partial(self._draw, drawn, size_in, INCH_PX * ratio), partial(self._show, ratio))

    def _show(self, ratio: float, brought: object) -> None:
        if not isValid(self):
            return
        if not isinstance(brought, bytes):
            raise RuntimeError("the chart could not be drawn") from (
                brought if isinstance(brought, Exception) else None
            )
        self._picture.loadFromData(brought, "PNG")
        self._picture.setDevicePixelRatio(ratio)
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the picture; one drawn for another width is stretched until the new one is there."""
        painter = QPainter(self)
        if self._picture.isNull():
            painter.setFont(look().font())
            painter.setPen(look().colour("soft"))
            painter.drawText(self.rect(), int(Qt.AlignmentFlag.AlignCenter), self.tr("The chart is being drawn …"))
            return
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        painter.drawPixmap(QRect(0, 0, self.width(), self.height()), self._picture)
