"""A plot of the kitchen, painted from the tokens: curves, the batch's point, limits; with its words below it."""

from __future__ import annotations

import math

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QFontMetrics, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from troubleshoot.advice.wording import Wording
from troubleshoot.kitchen.plots import Plot
from troubleshoot.plotting import axis, beside, scaled
from troubleshoot.worked import shown
from ui.style import tokens
from ui.style.sheet import look

#: Steps between the lines of a scale, for one power of ten.
_STEPS = (1.0, 2.0, 2.5, 5.0, 10.0)


def scale(low: float, high: float, lines: int = 6) -> list[float]:
    """Return round numbers across a span, about as many as asked for."""
    span = max(high - low, 1e-9)
    power = 10.0 ** math.floor(math.log10(span / lines))
    step = next(power * step for step in _STEPS if span / (power * step) <= lines)
    first = math.ceil(low / step - 1e-9)
    return [step * at for at in range(first, math.floor(high / step + 1e-9) + 1)]


def in_words(plot: Plot, wording: Wording) -> str:
    """Return what the plot shows of the batch, for reading and for reading out."""
    parts = [f"{words}: {_at(plot, x, y, wording)}" for words, (x, y) in plot.marks]
    parts += [f"{level.words}: {shown(level.y, plot.y_unit, wording)}" for level in plot.levels]
    return f"{'. '.join(parts)}."


def _at(plot: Plot, x: float, y: float, wording: Wording) -> str:
    return f"{shown(x, plot.x_unit, wording)}, {shown(y, plot.y_unit, wording)}"


class PlotView(QWidget):
    """The picture of a plot."""

    def __init__(self, plot: Plot, wording: Wording, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.wording = wording
        self._font = look().font("small")
        self._metrics = QFontMetrics(self._font)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setFixedHeight(look().px(tokens.PLOT_HEIGHT))
        self.plot = plot
        self.show_plot(plot)

    def show_plot(self, plot: Plot) -> None:
        """Show another plot."""
        self.plot = plot
        self.setAccessibleName(self.tr("Plot: {0}").format(plot.title))
        self.setAccessibleDescription(in_words(plot, self.wording))
        heights = [y for line in plot.lines for _, y in line.points] + [level.y for level in plot.levels]
        heights = [scaled(y, plot.y_unit, self.wording) for y in (*heights, *(y for _, (_, y) in plot.marks))]
        places = [x for line in plot.lines for x, _ in line.points] + [x for _, (x, _) in plot.marks]
        margin = 0.06 * (max(heights) - min(heights) or 1.0)
        self._x = (min(places), max(places))
        self._y = (min(heights) - margin, max(heights) + margin)
        self.update()

    def sizeHint(self) -> QSize:
        """Return the size at the width of the column beside."""
        return QSize(look().px(tokens.SIDE_WIDTH), look().px(tokens.PLOT_HEIGHT))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint scales, limits, curves, points."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setFont(self._font)
        line, pad = self._metrics.height(), look().px(tokens.HALF)
        marks = [(y, f"{y:g}") for y in scale(*self._y)]
        left = max(self._metrics.horizontalAdvance(words) for _, words in marks) + 2 * pad
        box = QRectF(left, line + 2 * pad, self.width() - left - look().px(tokens.GAP), 0)
        box.setBottom(self.height() - 2 * line - 3 * pad)
        if box.width() <= 0 or box.height() <= 0:
            return
        self._scales(painter, box, marks)
        self._levels(painter, box)
        painter.save()
        painter.setClipRect(box.adjusted(-pad, -pad, pad, pad))
        for curve in self.plot.lines:
            style = Qt.PenStyle.DashLine if curve.dashed else Qt.PenStyle.SolidLine
            painter.setPen(QPen(look().colour("bar" if curve.dashed else "ink"), tokens.STROKE, style))
            painter.drawPolyline(QPolygonF([self._point(box, x, y) for x, y in curve.points]))
        painter.restore()
        for words, (x, y) in self.plot.marks:
            self._mark(painter, box, words, self._point(box, x, y), beside(self.plot, x))

    def _point(self, box: QRectF, x: float, y: float) -> QPointF:
        up = (scaled(y, self.plot.y_unit, self.wording) - self._y[0]) / (self._y[1] - self._y[0])
        along = (x - self._x[0]) / (self._x[1] - self._x[0] or 1.0)
        return QPointF(box.left() + along * box.width(), box.bottom() - up * box.height())

    def _scales(self, painter: QPainter, box: QRectF, marks: list[tuple[float, str]]) -> None:
        line, pad, plot = self._metrics.height(), look().px(tokens.HALF), self.plot
        for height, words in marks:
            y = box.bottom() - (height - self._y[0]) / (self._y[1] - self._y[0]) * box.height()
            painter.setPen(QPen(look().colour("line"), tokens.HAIR))
            painter.drawLine(QPointF(box.left(), y), QPointF(box.right(), y))
            painter.setPen(look().colour("soft"))
            painter.drawText(
                QRectF(0, y - line / 2, box.left() - pad, line),
                int(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter),
                words,
            )
        painter.drawText(QRectF(0, 0, self.width(), line), axis(plot.y_words, plot.y_unit, self.wording))
        ticks = list(plot.ticks) or [(x, f"{x:g}") for x in scale(*self._x, lines=5)]
        for x, words in ticks:
            at = self._point(box, x, 0).x()
            wide = self._metrics.horizontalAdvance(words) + 1
            start = min(max(at - wide / 2, 0), self.width() - wide)
            painter.drawText(QRectF(start, box.bottom() + pad, wide, line), words)
        painter.drawText(
            QRectF(0, self.height() - line, box.right(), line),
            int(Qt.AlignmentFlag.AlignRight),
            axis(plot.x_words, plot.x_unit, self.wording),
        )
        painter.setPen(QPen(look().colour("edge"), tokens.HAIR))
        painter.drawLine(box.bottomLeft(), box.bottomRight())
        painter.drawLine(box.bottomLeft(), box.topLeft())

    def _levels(self, painter: QPainter, box: QRectF) -> None:
        line = self._metrics.height()
        for index, level in enumerate(self.plot.levels):
            y = self._point(box, 0, level.y).y()
            style = Qt.PenStyle.SolidLine if level.own else Qt.PenStyle.DotLine
            painter.setPen(QPen(look().colour("accent" if level.own else "caution"), tokens.HAIR, style))
            painter.drawLine(QPointF(box.left(), y), QPointF(box.right(), y))
            side = Qt.AlignmentFlag.AlignRight if index % 2 == 0 else Qt.AlignmentFlag.AlignLeft
            heights = [self._point(box, 0, other.y).y() for other in self.plot.levels]
            top = y if any(0 < y - other < line for other in heights) else y - line
            painter.drawText(
                QRectF(box.left() + tokens.HALF, top, box.width() - tokens.GRID, line), int(side), level.words
            )

    def _mark(self, painter: QPainter, box: QRectF, words: str, at: QPointF, where: str) -> None:
        radius, line, gap = look().px(tokens.HALF + tokens.STROKE), self._metrics.height(), look().px(tokens.GRID)
        painter.setPen(QPen(look().colour("card"), tokens.STROKE))
        painter.setBrush(look().colour("accent"))
        painter.drawEllipse(at, radius, radius)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(look().colour("accent"))
        wide = self._metrics.horizontalAdvance(words) + 1
        after = where != "before" and at.x() + gap + wide < box.right()
        left = at.x() + gap if after else at.x() - gap - wide
        top = at.y() if after and where == "below" else at.y() - line - tokens.HALF
        painter.drawText(QRectF(max(left, box.left()), top, wide, line), words)
