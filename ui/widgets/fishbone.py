"""A cause-and-effect picture: a spine that runs down the making to the effect, a rib a stage, a twig a cause."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRect, QSize
from PySide6.QtGui import QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QWidget

from ui.style import tokens
from ui.style.sheet import look
from ui.widgets.chain import ChainBox
from ui.widgets.picture import GroupTitle, Node, Picture, SpotGroup, least_width, line_pen, paint_arrow


@dataclass(slots=True)
class _Rib:
    """A stage: its title and nodes, the rib's outer end, where it turns, and where it meets the spine."""

    title: GroupTitle
    nodes: list[Node]
    outer: QPointF
    turns: QPointF
    meets: QPointF


class Fishbone(Picture):
    """The causes of an effect by stage, the earliest at the top; the effect is the head at the foot of the spine.

    Ribs stand on both sides of the spine where there is room, else all on the right of it.
    """

    def __init__(
        self, head: str, groups: Sequence[SpotGroup], title: str, words: str, parent: QWidget | None = None
    ) -> None:
        super().__init__(title, words, parent)
        self._ribs = [
            _Rib(GroupTitle(g.title, self), [self.node(s) for s in g.spots], QPointF(), QPointF(), QPointF())
            for g in groups
        ]
        self.head = ChainBox(1, 1, head, parent=self)
        self.head.setAccessibleName(self.tr("What is seen: {0}").format(head))
        self.reach([*(node for rib in self._ribs for node in rib.nodes), self.head])
        self._spine = 0.0

    def two_sided(self, width: int) -> bool:
        """Return whether ribs stand on both sides of the spine at a width."""
        return width >= 2 * (look().px(tokens.CARD_WIDTH) + self._gap()) and width >= 2 * (self._least() + self._gap())

    def sizeHint(self) -> QSize:
        """Return the size at the main column's width."""
        width = look().px(tokens.MAIN_WIDTH)
        return QSize(width, self.heightForWidth(width))

    def minimumSizeHint(self) -> QSize:
        """Return the width of the widest word beside the spine."""
        width = max(self._least() + self._gap() + look().px(tokens.GRID), self.head.minimumSizeHint().width())
        return QSize(width, tokens.TARGET)

    def hasHeightForWidth(self) -> bool:
        """Where it is narrower it is higher."""
        return True

    def heightForWidth(self, width: int) -> int:
        """Return the height of all ribs and the head."""
        return self._lay(width, really=False)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay the picture out for the new width."""
        self._lay(self.width(), really=True)
        super().resizeEvent(event)

    def _gap(self) -> int:
        return look().px(2 * tokens.WIDE)

    def _least(self) -> int:
        return least_width([part for rib in self._ribs for part in (rib.title, *rib.nodes)])

    def _lay(self, width: int, really: bool) -> int:
        if self.two_sided(width):
            return self._lay_both(width, really)
        return self._lay_right(width, really)

    def _lay_both(self, width: int, really: bool) -> int:
        """Lay each stage on the side that has room higher up, and never above the stage before it."""
        spine, gap = width / 2, self._gap()
        room = int(spine - gap)
        ends, least = {True: 0, False: look().px(tokens.GAP)}, 0
        for rib in self._ribs:
            on_left = ends[True] <= ends[False]
            top = max(ends[on_left], least)
            least = top + look().px(tokens.GAP)
            high = self._lay_rib(rib, 0 if on_left else int(spine + gap), top, room, on_left, spine, really)
            ends[on_left] = top + high + look().px(tokens.GAP)
        return self._lay_head(width, spine, max(ends.values()), really)

    def _lay_right(self, width: int, really: bool) -> int:
        spine, gap, top = float(look().px(tokens.GRID)), self._gap(), 0
        left = int(spine + gap)
        for rib in self._ribs:
            top += self._lay_rib(rib, left, top, width - left, False, spine, really) + look().px(tokens.GAP)
        return self._lay_head(width, spine, top, really)

    def _lay_rib(self, rib: _Rib, left: int, top: int, room: int, leftwards: bool, spine: float, really: bool) -> int:
        """Lay a stage's title and nodes; return the height it takes."""
        small = look().px(tokens.HALF)
        title = rib.title.heightForWidth(room)
        at = top + title + 2 * small
        places: list[QRect] = []
        for node in rib.nodes:
            high = node.heightForWidth(room)
            places.append(QRect(left, at, room, high))
            at += high + small
        if really:
            rib.title.setGeometry(left, top, room, title)
            for node, place in zip(rib.nodes, places, strict=True):
                node.setGeometry(place)
            line = float(top + title + tokens.STROKE)
            rib.outer = QPointF(left if leftwards else left + room, line)
            rib.turns = QPointF(left + room + small if leftwards else left - small, line)
            rib.meets = QPointF(spine, at + small)
        return at - top

    def _lay_head(self, width: int, spine: float, top: int, really: bool) -> int:
        top += look().px(tokens.WIDE)
        wide = min(width, look().px(tokens.MAIN_WIDTH))
        left = max(0, int(spine - wide / 2)) if self.two_sided(width) else 0
        high = self.head.heightForWidth(wide)
        if really:
            self._spine = spine
            self.head.setGeometry(left, top, wide, high)
        return top + high

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint spine, ribs and twigs."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(line_pen())
        first = min((rib.turns.y() for rib in self._ribs), default=0.0)
        paint_arrow(painter, QPointF(self._spine, first), QPointF(self._spine, self.head.y() - tokens.STROKE))
        for rib in self._ribs:
            painter.drawPolyline([rib.outer, rib.turns, rib.meets])
            for node in rib.nodes:
                self._twig(painter, rib, node)

    def _twig(self, painter: QPainter, rib: _Rib, node: Node) -> None:
        y = float(node.geometry().center().y())
        along = (y - rib.turns.y()) / ((rib.meets.y() - rib.turns.y()) or 1.0)
        x = rib.turns.x() + along * (rib.meets.x() - rib.turns.x())
        from_left = node.x() < self._spine and node.geometry().right() <= self._spine
        inset = tokens.RING_ROOM if node.hasFocus() else 0
        edge = node.geometry().right() + 1 - inset if from_left else node.x() + inset
        painter.drawLine(QPointF(edge, y), QPointF(x, y))
