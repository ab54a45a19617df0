"""Layouts that follow the width: cards in as many columns as fit, and two columns that become one."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from PySide6.QtCore import QCoreApplication, QEvent, QPoint, QRect, QSize, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QBoxLayout,
    QFrame,
    QHBoxLayout,
    QLayout,
    QLayoutItem,
    QScrollArea,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from ui.style import tokens
from ui.style.sheet import look

#: Layouts stand in one another no deeper than this; each passes a change on to the next.
_DEEPEST = 12


def place_all() -> None:
    """Place what was added or changed now, and not only when the window next comes to it."""
    for _ in range(_DEEPEST):
        QCoreApplication.sendPostedEvents(None, QEvent.Type.LayoutRequest)


class ItemLayout(QLayout):
    """What the two layouts share: a list of items, and a height that follows the width."""

    def __init__(self, parent: QWidget, gap: int) -> None:
        super().__init__(parent)
        self._items: list[QLayoutItem] = []
        self._heights: dict[int, int] = {}
        self.setSpacing(look().px(gap))
        self.setContentsMargins(0, 0, 0, 0)

    def addItem(self, item: QLayoutItem) -> None:
        """Take an item in."""
        self._items.append(item)

    def count(self) -> int:
        """Return how many items there are."""
        return len(self._items)

    def itemAt(self, index: int) -> QLayoutItem | None:
        """Return an item."""
        return self._items[index] if 0 <= index < len(self._items) else None

    def takeAt(self, index: int) -> QLayoutItem | None:
        """Give an item away."""
        return self._items.pop(index) if 0 <= index < len(self._items) else None

    def bring_last_to(self, index: int) -> None:
        """Move the item that was taken in last to a place among the others."""
        self._items.insert(index, self._items.pop())

    def hasHeightForWidth(self) -> bool:
        """Where it is narrower it is higher."""
        return True

    def heightForWidth(self, width: int) -> int:
        """Return the height of all lines at a width; it is worked out once for each change of the parts."""
        if width not in self._heights:
            self._heights[width] = self._place(QRect(0, 0, width, 0), False)
        return self._heights[width]

    def invalidate(self) -> None:
        """Forget what was worked out."""
        self._heights.clear()
        super().invalidate()

    def minimumSize(self) -> QSize:
        """Return the size of the widest part that cannot be narrower."""
        size = QSize()
        for item in self._shown():
            size = size.expandedTo(item.minimumSize())
        return size

    def setGeometry(self, rect: QRect) -> None:
        """Place the parts."""
        super().setGeometry(rect)
        self._place(rect, True)

    def _shown(self) -> list[QLayoutItem]:
        return [item for item in self._items if not item.isEmpty()]

    def _place(self, rect: QRect, really: bool) -> int:
        raise NotImplementedError


class CardLayout(ItemLayout):
    """Equal columns, as many as fit at ``least`` wide; the cards of a row are equally high."""

    def __init__(self, parent: QWidget, least: int, most_columns: int = 6, even: bool = False) -> None:
        super().__init__(parent, tokens.GRID + tokens.HALF)
        self._least = least
        self._most = most_columns
        self._even = even

    def expandingDirections(self) -> Qt.Orientation:
        """Grow sideways."""
        return Qt.Orientation.Horizontal

    def sizeHint(self) -> QSize:
        """Return the size of two columns of cards."""
        width = 2 * self._least + self.spacing()
        return QSize(width, self.heightForWidth(width))

    def _place(self, rect: QRect, really: bool) -> int:
        shown = self._shown()
        if not shown:
            return 0
        gap = self.spacing()
        least = max(self._least, max(item.minimumSize().width() for item in shown))
        columns = max(1, min(self._most, (rect.width() + gap) // (least + gap)))
        if self._even:  # no more columns than fill the rows: three and two, not four and one
            columns = -(-len(shown) // -(-len(shown) // columns))
        width = (rect.width() - gap * (columns - 1)) // columns
        top = rect.top()
        for start in range(0, len(shown), columns):
            row = shown[start : start + columns]
            height = max(
                item.heightForWidth(width) if item.hasHeightForWidth() else item.sizeHint().height() for item in row
            )
            if really:
                for place, item in enumerate(row):
                    item.setGeometry(QRect(rect.left() + place * (width + gap), top, width, height))
            top += height + gap
        return top - gap - rect.top()


class CardGrid(QWidget):
    """A widget whose children stand in a ``CardLayout``; with ``even``, in rows as equally long as can be."""

    def __init__(
        self,
        least: int = tokens.CARD_WIDTH,
        most_columns: int = 6,
        even: bool = False,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.cards = CardLayout(self, look().px(least), most_columns, even)
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def add(self, *widgets: QWidget) -> None:
        """Add cards after the others."""
        for widget in widgets:
            self.cards.addWidget(widget)


class Column(QWidget):
    """Parts below one another."""

    def __init__(self, *widgets: QWidget, gap: int = tokens.GRID, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.column = QVBoxLayout(self)
        self.column.setContentsMargins(0, 0, 0, 0)
        self.column.setSpacing(look().px(gap))
        self.add(*widgets)

    def add(self, *widgets: QWidget) -> None:
        """Add parts below the others."""
        for widget in widgets:
            self.column.addWidget(widget)


class Labelled(QWidget):
    """A field below its label, each as wide as it wants to be."""

    def __init__(self, label: QWidget, field: QWidget, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(look().px(tokens.HALF))
        column.addStretch(1)
        column.addWidget(label)
        column.addWidget(field, 0, Qt.AlignmentFlag.AlignLeft)


class Wrap(ItemLayout):
    """Parts of their own width beside one another, on as many lines as they need."""

    def __init__(self, parent: QWidget, gap: int = tokens.GRID) -> None:
        super().__init__(parent, gap)

    def sizeHint(self) -> QSize:
        """Return the size of one line."""
        shown = [item.sizeHint() for item in self._shown()]
        width = sum(size.width() for size in shown) + self.spacing() * max(0, len(shown) - 1)
        return QSize(width, max((size.height() for size in shown), default=0))

    def _place(self, rect: QRect, really: bool) -> int:
        lines: list[list[tuple[QLayoutItem, int, int]]] = [[]]
        left = 0
        for item in self._shown():
            size = item.sizeHint()
            width = min(size.width(), rect.width())
            height = item.heightForWidth(width) if item.hasHeightForWidth() else size.height()
            if lines[-1] and left + width > rect.width():
                lines.append([])
                left = 0
            lines[-1].append((item, width, height))
            left += width + self.spacing()
        top = rect.top()
        for line in lines:
            left, highest = rect.left(), max((height for _, _, height in line), default=0)
            for item, width, _ in line:
                if really:
                    item.setGeometry(QRect(left, top, width, highest))
                left += width + self.spacing()
            top += highest + self.spacing()
        return top - self.spacing() - rect.top()


class WrapRow(QWidget):
    """A widget whose children stand in a ``Wrap``."""

    def __init__(self, *widgets: QWidget, gap: int = tokens.GRID, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.wrap = Wrap(self, gap)
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Preferred)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        for widget in widgets:
            self.wrap.addWidget(widget)


class TwoColumns(QWidget):
    """A main column and one beside it, which goes below where there is no room for both."""

    def __init__(self, main: QWidget, side: QWidget, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.side = side
        self._box = QBoxLayout(QBoxLayout.Direction.LeftToRight, self)
        self._box.setContentsMargins(0, 0, 0, 0)
        self._box.setSpacing(look().px(tokens.WIDE))
        self._box.addWidget(main, 2)
        self._box.addWidget(side, 1)
        self._box.setAlignment(side, Qt.AlignmentFlag(0))
        self._narrow = look().px(tokens.MAIN_WIDTH + tokens.SIDE_WIDTH + tokens.WIDE)

    def beside(self) -> bool:
        """Return whether the columns stand beside one another."""
        return self._box.direction() == QBoxLayout.Direction.LeftToRight

    def follow(self, width: int) -> None:
        """Choose one or two columns for a width."""
        wanted = QBoxLayout.Direction.LeftToRight if width >= self._narrow else QBoxLayout.Direction.TopToBottom
        if self._box.direction() != wanted:
            self._box.setDirection(wanted)

    def minimumSizeHint(self) -> QSize:
        """Ask for no more width than one column needs; the other can go below."""
        shown = [self._box.itemAt(i) for i in range(self._box.count())]
        return QSize(max(item.minimumSize().width() for item in shown if item), 0)


def centred_row(bar: QWidget) -> QHBoxLayout:
    """Lay out a bar as a row that stands where a page's column stands, and return the row."""
    whole = QHBoxLayout(bar)
    side, pad = look().px(tokens.GAP), look().px(tokens.HALF)
    whole.setContentsMargins(side, pad, side, pad)
    held = QWidget()
    held.setMaximumWidth(look().px(tokens.CONTENT_WIDTH))
    row = QHBoxLayout(held)
    row.setContentsMargins(0, 0, 0, 0)
    row.setSpacing(look().px(tokens.GRID))
    whole.addStretch(1)
    whole.addWidget(held, 1000)
    whole.addStretch(1)
    return row


class Sheet(QScrollArea):
    """A page's scrolling part: a centred column, as wide as is good to read."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setAccessibleName(self.tr("Page"))
        self._columns: TwoColumns | None = None

    def hold(self, content: QWidget, columns: TwoColumns | None = None) -> None:
        """Show ``content`` in place of what was shown before."""
        before = self.takeWidget()
        if before is not None:
            before.hide()
            before.deleteLater()
        self._columns = columns
        sheet = QWidget()
        sheet.setObjectName("sheet")
        row = QHBoxLayout(sheet)
        pad = look().px(tokens.GAP)
        row.setContentsMargins(pad, pad, pad, pad)
        content.setMaximumWidth(look().px(tokens.CONTENT_WIDTH))
        row.addStretch(1)
        row.addWidget(content, 1000)
        row.addStretch(1)
        self._follow()
        self.setWidget(sheet)
        self.verticalScrollBar().setValue(0)

    @contextmanager
    def at_rest(self) -> Iterator[None]:
        """Place the parts once, after all of them were shown, hidden or given other words.

        A part that is shown makes Qt place every part around it at once; for a page of thirty parts that is a third
        of the time until the page is painted.
        """
        content = self.widget()
        layouts = [] if content is None else content.findChildren(QLayout)
        for layout in layouts:
            layout.setEnabled(False)
        try:
            yield
        finally:
            for layout in layouts:
                layout.setEnabled(True)  # what it was asked to do meanwhile it has let fall: it is asked again
                QCoreApplication.postEvent(layout.parentWidget(), QEvent(QEvent.Type.LayoutRequest))

    def show_from_top(self, widget: QWidget) -> None:
        """Scroll as little as shows a part, or its top when it is higher than what can be seen."""
        place_all()
        content = self.widget()
        if content is None:
            return
        top = widget.mapTo(content, QPoint(0, 0)).y()
        bar, room, pad = self.verticalScrollBar(), self.viewport().height(), look().px(tokens.GRID)
        if top + widget.height() + pad > bar.value() + room:
            bar.setValue(min(top - pad, top + widget.height() + pad - room))
        elif top - pad < bar.value():
            bar.setValue(top - pad)

    @staticmethod
    def around(widget: QWidget) -> Sheet | None:
        """Return the sheet that holds a part, if one does."""
        holder = widget.parentWidget()
        while holder is not None and not isinstance(holder, Sheet):
            holder = holder.parentWidget()
        return holder

    def page_by(self, pages: float) -> None:
        """Scroll by a part of what can be seen."""
        bar = self.verticalScrollBar()
        bar.setValue(bar.value() + round(pages * bar.pageStep()))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Let the columns follow the width."""
        self._follow()
        super().resizeEvent(event)

    def _follow(self) -> None:
        if self._columns is not None:
            bar = look().px(tokens.GAP)
            self._columns.follow(self.width() - 2 * look().px(tokens.GAP) - bar)
