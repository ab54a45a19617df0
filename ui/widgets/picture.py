"""What the pictures of cause and effect share: spots to stop at, keys that go along them, and lines between."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import QEvent, QObject, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QScrollArea, QSizePolicy, QWidget

from ui.style import tokens
from ui.style.sheet import look
from ui.widgets.basic import Text
from ui.widgets.cards import Card

_BACK, _ON = (Qt.Key.Key_Up, Qt.Key.Key_Left), (Qt.Key.Key_Down, Qt.Key.Key_Right)


@dataclass(frozen=True, slots=True)
class Spot:
    """One thing in a picture: what following it leads to, its words, and how often it is so (0..1), if that is known.

    ``said`` is what is read out for it where title and note alone would not say enough.
    """

    follow: str
    title: str
    note: str = ""
    share: float | None = None
    said: str = ""
    drawing: Path | None = None


@dataclass(frozen=True, slots=True)
class SpotGroup:
    """The spots of one stage of the making, under its name."""

    title: str
    spots: tuple[Spot, ...]


class Node(Card):
    """A spot that can be pressed.  How often is said in its note and drawn as a bar along its foot."""

    def __init__(self, spot: Spot, parent: QWidget | None = None) -> None:
        super().__init__(spot.title, spot.note, spot.drawing, parent=parent)
        self.spot = spot
        if spot.said:
            self.setAccessibleName(spot.said)

    def foot(self) -> int:
        """Keep room for the bar."""
        return look().px(tokens.GRID) if self.spot.share is not None else 0

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the card and the bar."""
        super().paintEvent(event)
        if self.spot.share is None:
            return
        painter = QPainter(self)
        painter.setPen(Qt.PenStyle.NoPen)
        pad, high = tokens.RING_ROOM + look().px(tokens.GRID), look().px(tokens.HALF)
        track = QRectF(pad, self.height() - pad - high + tokens.STROKE, self.width() - 2 * pad, high)
        painter.setBrush(look().colour("track"))
        painter.drawRect(track)
        painter.setBrush(look().colour("bar"))
        painter.drawRect(QRectF(track.left(), track.top(), track.width() * self.spot.share, high))


class Picture(QWidget):
    """A picture whose spots are reached as one: Tab comes to it, arrow keys go along it, Enter follows a spot.

    ``followed`` carries what the spot leads to.  The same in words stands in ``words`` and is shown beneath.
    """

    followed = Signal(str)

    def __init__(self, title: str, words: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.words = words
        self.stops: list[QWidget] = []
        self.setAccessibleName(title)
        self.setAccessibleDescription(
            self.tr("Arrow keys go along it, Enter follows. The same in words stands below it.")
        )
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def node(self, spot: Spot) -> Node:
        """Return a node that follows its spot when it is pressed."""
        node = Node(spot, self)
        node.clicked.connect(lambda: self.followed.emit(spot.follow))
        return node

    def reach(self, stops: Sequence[QWidget]) -> None:
        """Say in which order the keys go along the picture."""
        self.stops = list(stops)
        for stop in self.stops:
            stop.setFocusPolicy(Qt.FocusPolicy.ClickFocus)
            stop.installEventFilter(self)
        if self.stops:
            self.stops[0].setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def go_to(self, stop: QWidget) -> None:
        """Give a stop the focus and bring it into sight."""
        stop.setFocus(Qt.FocusReason.OtherFocusReason)
        above = self.parentWidget()
        while above is not None and not isinstance(above, QScrollArea):
            above = above.parentWidget()
        if isinstance(above, QScrollArea):
            above.ensureWidgetVisible(stop, 0, look().px(tokens.WIDE))

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Arrow keys go along; what has the focus last is where Tab comes back to."""
        if watched in self.stops:
            if event.type() == QEvent.Type.FocusIn:
                for stop in self.stops:
                    here = stop is watched
                    stop.setFocusPolicy(Qt.FocusPolicy.StrongFocus if here else Qt.FocusPolicy.ClickFocus)
            elif event.type() == QEvent.Type.KeyPress and isinstance(event, QKeyEvent):
                return self._along(self.stops.index(watched), event)
        return super().eventFilter(watched, event)

    def _along(self, at: int, event: QKeyEvent) -> bool:
        if event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier:
            return False
        if event.key() in _ON:
            to = at + 1
        elif event.key() in _BACK:
            to = at - 1
        elif event.key() in (Qt.Key.Key_Home, Qt.Key.Key_End):
            to = 0 if event.key() == Qt.Key.Key_Home else len(self.stops) - 1
        else:
            return False
        if 0 <= to < len(self.stops):
            self.go_to(self.stops[to])
        return True


class GroupTitle(Text):
    """The name of a stage in a picture."""

    def __init__(self, title: str, parent: QWidget | None = None) -> None:
        super().__init__(title, "strong", parent=parent)


def line_pen() -> QPen:
    """Return the pen that a picture's lines are drawn with."""
    return QPen(look().colour("ink"), tokens.STROKE, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap)


def paint_arrow(painter: QPainter, start: QPointF, end: QPointF) -> None:
    """Paint a line that ends in an arrow, going down or to the right."""
    wing = look().px(tokens.GRID) * 0.75
    painter.drawLine(start, end)
    if abs(end.x() - start.x()) > abs(end.y() - start.y()):
        painter.drawLine(end, QPointF(end.x() - wing, end.y() - wing))
        painter.drawLine(end, QPointF(end.x() - wing, end.y() + wing))
    else:
        painter.drawLine(end, QPointF(end.x() - wing, end.y() - wing))
        painter.drawLine(end, QPointF(end.x() + wing, end.y() - wing))


def least_width(parts: Sequence[QWidget]) -> int:
    """Return the width that the widest part cannot do without."""
    return max((part.minimumSizeHint().width() for part in parts), default=0)


def size_at(part: QWidget, width: int) -> QSize:
    """Return the size of a part at a width."""
    return QSize(width, part.heightForWidth(width))
