"""Bars: how strongly something is suspected, how settled the matter is, what an answer weighs."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QCoreApplication, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from troubleshoot.advice.verdict import Weighed
from troubleshoot.advice.wording import weight_word
from troubleshoot.interview.views import SuspectBar
from ui.style import tokens
from ui.style.sheet import look
from ui.widgets.basic import Text
from ui.widgets.layouts import Column

#: From how settled on each word is used.
SETTLED_WORDS = ((0.9, "all but settled"), (0.65, "nearly settled"), (0.35, "getting clearer"), (0.0, "still open"))

#: The bar of a weight is full at a hundred to one.
FULL_WEIGHT = 20.0


class Bar(QWidget):
    """A bar filled from the left; the number is always said in words beside it."""

    def __init__(self, share: float, colour: str = "bar", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.share = min(1.0, max(0.0, share))
        self.colour = colour
        self.setFixedHeight(look().px(tokens.BAR))
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:
        """Return the usual size of a bar."""
        return QSize(look().px(tokens.FIELD_WIDTH), look().px(tokens.BAR))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the track and the bar."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(Qt.PenStyle.NoPen)
        radius = tokens.HALF / 2
        painter.setBrush(look().colour("track"))
        painter.drawRoundedRect(QRectF(self.rect()), radius, radius)
        painter.setBrush(look().colour(self.colour))
        width = self.width() * self.share
        if width >= 1:
            painter.drawRoundedRect(QRectF(0, 0, max(width, tokens.HALF), self.height()), radius, radius)


def settled_word(share: float) -> str:
    """Return the word for how settled the matter is."""
    word = next(word for least, word in SETTLED_WORDS if share >= least)
    return QCoreApplication.translate("Settled", word)


class SettledGauge(Column):
    """How settled the matter is: a word and a bar."""

    def __init__(self, share: float, parent: QWidget | None = None) -> None:
        super().__init__(gap=tokens.HALF, parent=parent)
        self.share = share
        word = settled_word(share)
        self.add(Text(self.tr("The matter is {0}.").format(word), "strong"), Bar(share, "accent"))
        self.setAccessibleName(self.tr("How settled: {0}, {1} per cent").format(word, round(share * 100)))


class SuspectBars(Column):
    """What is suspected now, likeliest first: name, per cent and a bar."""

    def __init__(self, suspects: Sequence[SuspectBar], parent: QWidget | None = None) -> None:
        super().__init__(gap=tokens.GRID, parent=parent)
        for suspect in suspects:
            line = Column(
                Text(f"{suspect.shown}  {suspect.name}"),
                Bar(suspect.probability),
                gap=tokens.HALF,
            )
            line.setAccessibleName(f"{suspect.name}, {suspect.shown}")
            self.add(line)
        if not suspects:
            self.add(Text(self.tr("Nothing stands out yet."), tone="soft"))


class WeightLine(Column):
    """One answer as evidence: the question, what was said, and its weight in a word and a bar."""

    def __init__(self, weighed: Weighed, parent: QWidget | None = None) -> None:
        super().__init__(gap=tokens.HALF, parent=parent)
        word = self.tr(weight_word(weighed.decibans))
        side = self.tr("for") if weighed.decibans >= 0 else self.tr("against")
        memory = self.tr(", from memory") if weighed.from_memory else ""
        said = self.tr("{0} ({1}: {2}{3})").format(weighed.said, side, word, memory)
        colour = "accent" if weighed.decibans >= 0 else "bar"
        self.add(Text(weighed.ask, tone="soft"), Text(said, "strong"), Bar(abs(weighed.decibans) / FULL_WEIGHT, colour))
        self.setAccessibleName(f"{weighed.ask} {said}")
