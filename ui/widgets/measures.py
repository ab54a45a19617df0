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


def paint_bar(painter: QPainter, room: QRectF, share: float, colour: str) -> None:
    """Paint a track and the bar on it, filled from the left."""
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(Qt.PenStyle.NoPen)
    radius = tokens.HALF / 2
    painter.setBrush(look().colour("track"))
    painter.drawRoundedRect(room, radius, radius)
    painter.setBrush(look().colour(colour))
    width = room.width() * min(1.0, max(0.0, share))
    if width >= 1:
        filled = QRectF(room.left(), room.top(), max(width, tokens.HALF), room.height())
        painter.drawRoundedRect(filled, radius, radius)


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
        paint_bar(QPainter(self), QRectF(self.rect()), self.share, self.colour)


def settled_word(share: float) -> str:
    """Return the word for how settled the matter is."""
    word = next(word for least, word in SETTLED_WORDS if share >= least)
    return QCoreApplication.translate("Settled", word)


class BarLine(Text):
    """Words with a bar below them, in one part: a page holds many, and each part costs time to lay out."""

    def __init__(self, role: str = "body", colour: str = "bar", parent: QWidget | None = None) -> None:
        super().__init__("", role, parent=parent)
        self.share, self.colour = 0.0, colour
        self._below = look().px(tokens.HALF) + look().px(tokens.BAR)

    def show_as(self, words: str, share: float, name: str) -> None:
        """Show words and how far the bar is filled, from 0 to 1; ``name`` is read out."""
        self.setText(words)
        self.share = share
        self.setAccessibleName(name)
        self.update()

    def heightForWidth(self, width: int) -> int:
        """Return the height of the wrapped words and the bar."""
        return super().heightForWidth(width) + self._below

    def minimumSizeHint(self) -> QSize:
        """Return the width of the widest word, and the height of a line with its bar."""
        return super().minimumSizeHint() + QSize(0, self._below)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the words and the bar."""
        super().paintEvent(event)
        room = QRectF(0, self.height() - look().px(tokens.BAR), self.width(), look().px(tokens.BAR))
        paint_bar(QPainter(self), room, self.share, self.colour)


class SettledGauge(BarLine):
    """How settled the matter is: a word and a bar."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__("strong", "accent", parent)

    def show_share(self, share: float) -> None:
        """Show how settled it is, from 0 to 1."""
        word = settled_word(share)
        name = self.tr("How settled: {0}, {1} per cent").format(word, round(share * 100))
        self.show_as(self.tr("The matter is {0}.").format(word), share, name)


class SuspectBars(Column):
    """What is suspected now, likeliest first: name, per cent and a bar."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(gap=tokens.GRID, parent=parent)
        self._lines: list[BarLine] = []
        self._nothing = Text(self.tr("Nothing stands out yet."), tone="soft")
        self.add(self._nothing)

    def show_suspects(self, suspects: Sequence[SuspectBar]) -> None:
        """Show these suspects."""
        while len(self._lines) < len(suspects):
            self._lines.append(BarLine())
            self.add(self._lines[-1])
        for line, suspect in zip(self._lines, suspects, strict=False):
            words = f"{suspect.shown}  {suspect.name}"
            line.show_as(words, suspect.probability, f"{suspect.name}, {suspect.shown}")
            line.setVisible(True)
        for line in self._lines[len(suspects) :]:
            line.setVisible(False)
        self._nothing.setVisible(not suspects)


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
