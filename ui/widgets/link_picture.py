"""A mistake, what it leads to link by link, and how it shows: the chain, and the signs by stage beside it."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRect, QSize
from PySide6.QtGui import QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QWidget

from ui.style import tokens
from ui.style.sheet import look
from ui.widgets.chain import chain_boxes
from ui.widgets.picture import GroupTitle, Node, Picture, SpotGroup, least_width, line_pen, paint_arrow


class LinkPicture(Picture):
    """The links of a chain from the mistake on, and from the last of them a trunk to the signs of each stage."""

    def __init__(
        self,
        links: Sequence[str],
        groups: Sequence[SpotGroup],
        title: str,
        words: str,
        notes: Sequence[str] = (),
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(title, words, parent)
        self.links = chain_boxes(links, notes, self)
        self.groups: list[tuple[GroupTitle, list[Node]]] = [
            (GroupTitle(group.title, self), [self.node(spot) for spot in group.spots]) for group in groups
        ]
        self.nodes = [node for _, nodes in self.groups for node in nodes]
        self.reach([*self.links, *self.nodes])
        self._trunk = 0.0

    def beside(self, width: int) -> bool:
        """Return whether the signs stand beside the chain at a width, not below it."""
        gap = look().px(2 * tokens.WIDE)
        room = look().px(2 * tokens.CARD_WIDTH) + gap
        return width >= room and width >= 2 * least_width([*self.links, *self.nodes]) + gap

    def sizeHint(self) -> QSize:
        """Return the size at the main column's width."""
        width = look().px(tokens.MAIN_WIDTH)
        return QSize(width, self.heightForWidth(width))

    def minimumSizeHint(self) -> QSize:
        """Return the width of the widest word."""
        titles = [title for title, _ in self.groups]
        indent = look().px(tokens.WIDE) + look().px(tokens.GRID)
        width = max(least_width(self.links), least_width([*self.nodes, *titles]) + indent)
        return QSize(width, tokens.TARGET)

    def hasHeightForWidth(self) -> bool:
        """Where it is narrower it is higher."""
        return True

    def heightForWidth(self, width: int) -> int:
        """Return the height of the chain and the signs."""
        return self._lay(width, really=False)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay the picture out for the new width."""
        self._lay(self.width(), really=True)
        super().resizeEvent(event)

    def _lay(self, width: int, really: bool) -> int:
        if self.beside(width):
            gap = look().px(2 * tokens.WIDE)
            chain = max(int((width - gap) * 0.4), least_width(self.links))
            below = self._lay_chain(chain, really)
            if really:
                self._trunk = chain + gap / 2
            return max(below, self._lay_groups(chain + gap, width - chain - gap, 0, really))
        below = self._lay_chain(width, really) + look().px(tokens.ARROW)
        indent = look().px(tokens.WIDE) + look().px(tokens.GRID)
        if really:
            self._trunk = float(look().px(tokens.GRID))
        return self._lay_groups(indent, width - indent, below, really)

    def _lay_chain(self, width: int, really: bool) -> int:
        top = 0
        for link in self.links:
            high = link.heightForWidth(width)
            if really:
                link.setGeometry(0, top, width, high)
            top += high + look().px(tokens.ARROW)
        return top - look().px(tokens.ARROW) if self.links else 0

    def _lay_groups(self, left: int, room: int, top: int, really: bool) -> int:
        """Lay the signs of each stage in as many columns as fit; return where they end."""
        small = look().px(tokens.HALF)
        least = max(look().px(tokens.CARD_WIDTH), least_width(self.nodes))
        columns = max(1, min(3, (room + small) // (least + small)))
        wide = (room - small * (columns - 1)) // columns
        for title, nodes in self.groups:
            high = title.heightForWidth(room)
            if really:
                title.setGeometry(left, top, room, high)
            top += high + small
            for start in range(0, len(nodes), columns):
                row = nodes[start : start + columns]
                tallest = max(node.heightForWidth(wide) for node in row)
                if really:
                    for place, node in enumerate(row):
                        node.setGeometry(QRect(left + place * (wide + small), top, wide, tallest))
                top += tallest + small
            top += look().px(tokens.GRID)
        return top

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the arrows of the chain, the trunk, and a bracket for each stage."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(line_pen())
        x = float(look().px(tokens.GAP + tokens.WIDE))
        for one, following in zip(self.links, self.links[1:], strict=False):
            paint_arrow(painter, QPointF(x, one.geometry().bottom() + 1), QPointF(x, following.y() - 1))
        if not self.groups or not self.links:
            return
        last = self.links[-1].geometry()
        heights = [title.geometry().center().y() for title, _ in self.groups]
        if self.beside(self.width()):
            start = last.center().y()
            painter.drawLine(QPointF(last.right() + 1, start), QPointF(self._trunk, start))
            painter.drawLine(
                QPointF(self._trunk, min(start, heights[0])), QPointF(self._trunk, max(start, heights[-1]))
            )
        else:
            painter.drawLine(QPointF(self._trunk, last.bottom() + 1), QPointF(self._trunk, heights[-1]))
        for (title, _), y in zip(self.groups, heights, strict=True):
            paint_arrow(painter, QPointF(self._trunk, y), QPointF(title.x() - look().px(tokens.HALF), y))
