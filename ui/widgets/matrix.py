"""What was taken for what: a table with a row for each cause at work and a column for each cause named."""

from __future__ import annotations

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, QSize, Qt
from PySide6.QtGui import QFontMetrics, QPainter, QPen, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QSizePolicy,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
    QWidget,
)

from troubleshoot.practice.trainer import Confusions
from ui.style import tokens
from ui.style.sheet import look
from ui.widgets.basic import longest_word, text_height

Index = QModelIndex | QPersistentModelIndex
_SAID = Qt.ItemDataRole.AccessibleTextRole
_WRAP = int(Qt.TextFlag.TextWordWrap | Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)


class _Model(QAbstractTableModel):
    """The counts, each cell with the words that are read out for it."""

    def __init__(self, taken: Confusions, parent: QWidget) -> None:
        super().__init__(parent)
        self.taken = taken

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 (the form Qt asks for)
        """One row for each cause at work."""
        return 0 if parent.isValid() else len(self.taken.names)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 (the form Qt asks for)
        """The cause's name, then one column for each cause named."""
        return 0 if parent.isValid() else len(self.taken.names) + 1

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """Return what a cell shows, or what is read out for it."""
        row, column = index.row(), index.column() - 1
        name = self.taken.names[row]
        if column < 0:
            words = role in (Qt.ItemDataRole.DisplayRole, _SAID)
            return f"{row + 1!s}  {name}" if words else None
        count = self.taken.counts.get((row, column), 0)
        if role == Qt.ItemDataRole.DisplayRole:
            return str(count) if count else "·"
        if role == _SAID:
            if column == row:
                return self.tr("{0}: named rightly {1} times").format(name, count)
            return self.tr("{0}: taken for {1} {2} times").format(name, self.taken.names[column], count)
        return None

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """Return the head of a column."""
        if orientation != Qt.Orientation.Horizontal:
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return self.tr("At work, and named as …") if section == 0 else str(section)
        if role == Qt.ItemDataRole.TextAlignmentRole and section == 0:
            return Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
        if role == _SAID and section:
            return self.tr("named as {0}").format(self.taken.names[section - 1])
        return None


class _Cells(QStyledItemDelegate):
    """Cells painted from the tokens: the right ones framed, mistakes bold on a ground; the number says how many."""

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Paint a cell."""
        colour, rect = look().colour, option.rect
        pad = look().px(tokens.GRID)
        right, count = index.column() - 1 == index.row(), index.data() not in ("·", None)
        named = index.column() == 0
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        if not named and not right and count:
            painter.fillRect(rect, colour("caution_ground"))
        elif right:
            painter.fillRect(rect, colour("accent_ground"))
        painter.setPen(QPen(colour("line"), tokens.HAIR))
        painter.drawLine(rect.bottomLeft(), rect.bottomRight())
        painter.drawLine(rect.topRight(), rect.bottomRight())
        if right:
            painter.setPen(QPen(colour("accent"), tokens.STROKE))
            painter.drawRect(rect.adjusted(2, 2, -3, -3))
        painter.setFont(look().font("strong" if count and not named else "body"))
        painter.setPen(colour("ink" if count else "soft"))
        if named:
            painter.drawText(rect.adjusted(pad, 0, -pad, 0), _WRAP, str(index.data()))
        else:
            painter.drawText(rect, int(Qt.AlignmentFlag.AlignCenter), str(index.data()))
        view = self.parent()
        if isinstance(view, QTableView) and view.hasFocus() and view.currentIndex() == index:
            painter.setPen(QPen(colour("focus"), tokens.RING))
            painter.drawRect(rect.adjusted(1, 1, -2, -2))
        painter.restore()


class MatrixView(QTableView):
    """The table.  Arrow keys go from cell to cell; each says in words what it counts."""

    def __init__(self, taken: Confusions, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.taken = taken
        self.setModel(_Model(taken, self))
        self.setItemDelegate(_Cells(self))
        self.setFont(look().font())
        self.setAccessibleName(self.tr("What was taken for what"))
        self.setAccessibleDescription(self.tr("Arrow keys go from cell to cell"))
        self.setTabKeyNavigation(False)
        self.setShowGrid(False)
        self.setSelectionMode(QAbstractItemView.SelectionMode.NoSelection)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.verticalHeader().hide()
        head = self.horizontalHeader()
        head.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        head.setFont(look().font("strong"))
        head.setHighlightSections(False)
        head.setMinimumSectionSize(tokens.TARGET)
        self._metrics = QFontMetrics(look().font())
        self._fit()
        self.setCurrentIndex(self.model().index(0, 0))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Give the names what width the counts leave."""
        super().resizeEvent(event)
        self._fit()

    def minimumSizeHint(self) -> QSize:
        """The counts can be scrolled sideways; the names need the widest word."""
        return QSize(self._least_name(), self.height())

    def _least_name(self) -> int:
        words = [longest_word(self._metrics, name) for name in self.taken.names]
        return max(words, default=0) + 3 * look().px(tokens.GRID)

    def _fit(self) -> None:
        cell = max(tokens.TARGET, self._metrics.height() + look().px(tokens.GAP))
        count = len(self.taken.names)
        left = self.viewport().width() - count * cell
        wide = max(left, self._least_name(), look().px(tokens.SIDE_WIDTH))
        self.setColumnWidth(0, wide)
        high = max(tokens.TARGET, self._metrics.height() + look().px(tokens.GAP))
        self.horizontalHeader().setFixedHeight(high)
        pad = look().px(tokens.GRID)
        for row in range(count):
            self.setColumnWidth(row + 1, cell)
            words = str(self.model().index(row, 0).data())
            tall = max(cell, text_height(self._metrics, words, wide - 2 * pad) + look().px(tokens.GRID))
            self.setRowHeight(row, tall)
            high += tall
        bar = look().px(tokens.GAP) if wide + count * cell > self.viewport().width() else 0
        self.setFixedHeight(high + bar + 2 * self.frameWidth())
