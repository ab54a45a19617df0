"""Cards that are pressed: families, complaints, answers, and what has been answered."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QPointF, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QFontMetrics, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QPushButton, QSizePolicy, QWidget

from ui import drawings
from ui.style import tokens
from ui.style.sheet import look
from ui.widgets.basic import ENTER_KEYS, longest_word, paint_box, text_height

_WRAP = int(Qt.TextFlag.TextWordWrap | Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop)


class Card(QPushButton):
    """A large target with a title, perhaps a note below it, a drawing, and the digit that picks it.

    The words are painted, never parsed: neither markup nor ``&`` in them is obeyed.
    """

    def __init__(
        self,
        title: str,
        note: str = "",
        drawing: Path | None = None,
        digit: str = "",
        loose: bool = False,
        above: bool = False,
        roles: tuple[str, str] = ("strong", "body"),
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.title, self.note, self.digit, self.loose, self.above = title, note, digit, loose, above
        self._title_font, self._note_font = look().font(roles[0]), look().font(roles[1])
        self._title_metrics, self._note_metrics = QFontMetrics(self._title_font), QFontMetrics(self._note_font)
        self._heights: dict[int, int] = {}
        self._least: QSize | None = None
        self._size = look().px(tokens.TILE_DRAWING if above else tokens.DRAWING_SIZE)
        self._drawing = drawings.pixmap(drawing, self._size, self.devicePixelRatioF(), look().dark)
        self.setAccessibleName(f"{title}. {note}" if note else title)
        self.setAccessibleDescription(self.tr("Key {0}").format(digit) if digit else "")
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    @property
    def drawn(self) -> bool:
        """Whether a drawing is shown."""
        return self._drawing is not None

    def hasHeightForWidth(self) -> bool:
        """The words wrap."""
        return True

    def heightForWidth(self, width: int) -> int:
        """Return the height that holds the drawing and the wrapped words."""
        room = self._words_width(width)
        known = self._heights.get(room)
        if known is None:
            known = self._heights[room] = self._height(room)
        return known

    def _height(self, room: int) -> int:
        pad, gap = look().px(tokens.GAP), look().px(tokens.HALF)
        words = text_height(self._title_metrics, self.title, room)
        if self.note:
            words += gap + text_height(self._note_metrics, self.note, room)
        if self._drawing is not None:
            words = words + self._size + gap if self.above else max(words, self._size)
        least = max(words + pad, tokens.TARGET)
        return least + 2 * tokens.RING_ROOM

    def sizeHint(self) -> QSize:
        """Return the size at the usual width of a card."""
        width = look().px(tokens.CARD_WIDTH)
        return QSize(width, self.heightForWidth(width))

    def minimumSizeHint(self) -> QSize:
        """Return the least width: the widest word beside the drawing."""
        if self._least is None:
            word = max(longest_word(self._title_metrics, self.title), longest_word(self._note_metrics, self.note))
            self._least = QSize(word + self._beside(), tokens.TARGET + 2 * tokens.RING_ROOM)
        return self._least

    def _beside(self) -> int:
        """Width that words cannot have."""
        px = look().px
        taken = 2 * tokens.RING_ROOM + 2 * px(tokens.GAP)
        if self._drawing is not None and not self.above:
            taken += self._size + px(tokens.GRID)
        if (self.digit or self.isChecked()) and not (self.above and self._drawing is not None):
            taken += px(tokens.BADGE) + px(tokens.GRID)
        return taken

    def _words_width(self, width: int) -> int:
        return min(width - self._beside(), self._title_metrics.averageCharWidth() * tokens.LINE_CHARACTERS)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter presses the card that has the focus."""
        if event.key() in ENTER_KEYS:
            if not event.isAutoRepeat():
                self.click()
        else:
            super().keyPressEvent(event)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Let the second press of a double click fall on nothing: it would answer the next question."""
        event.accept()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the card."""
        colour, px = look().colour, look().px
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        lit = self.underMouse() or self.isDown()
        chosen = self.marked()
        fill = colour("accent_ground") if chosen or self.isDown() else colour("ground" if self.loose else "card")
        edge = colour("accent") if chosen else colour("edge")
        stroke = tokens.RING if chosen or lit else tokens.STROKE if not self.loose else tokens.HAIR
        box = paint_box(painter, self.rect(), fill, edge, stroke, self.hasFocus(), self.loose and not chosen)
        pad = px(tokens.GAP)
        left, top = round(box.left()) + pad, round(box.top())
        room = self._words_width(self.width())
        words = text_height(self._title_metrics, self.title, room)
        if self.note:
            words += px(tokens.HALF) + text_height(self._note_metrics, self.note, room)
        if self._drawing is not None:
            if self.above:
                painter.drawPixmap(left, top + pad // 2, self._drawing)
                top += self._size + px(tokens.HALF) + pad // 2
            else:
                painter.drawPixmap(left, round(box.center().y() - self._size / 2), self._drawing)
                left += self._size + px(tokens.GRID)
        if not (self._drawing is not None and self.above):
            top = max(top + pad // 2, round(box.center().y() - words / 2))
        painter.setPen(colour("ink"))
        painter.setFont(self._title_font)
        title_height = text_height(self._title_metrics, self.title, room)
        painter.drawText(QRect(left, top, room, title_height), _WRAP, self.title)
        if self.note:
            painter.setPen(colour("soft"))
            painter.setFont(self._note_font)
            note = QRect(left, top + title_height + px(tokens.HALF), room, self.height())
            painter.drawText(note, _WRAP, self.note)
        self._paint_badge(painter, box, chosen)

    def marked(self) -> bool:
        """Return whether the card is shown as the one chosen."""
        return self.isChecked()

    def _paint_badge(self, painter: QPainter, box: QRectF, chosen: bool) -> None:
        if not self.digit and not chosen:
            return
        colour, px = look().colour, look().px
        side = px(tokens.BADGE)
        badge = QRectF(box.right() - side - px(tokens.GRID), box.top() + px(tokens.GRID), side, side)
        if chosen:
            painter.setBrush(colour("accent"))
            painter.setPen(Qt.PenStyle.NoPen)
            painter.drawEllipse(badge)
            pen = QPen(colour("on_accent"), tokens.RING)
            painter.setPen(pen)
            across, down = badge.width(), badge.height()
            tick = ((0.27, 0.52), (0.44, 0.69), (0.74, 0.34))
            painter.drawPolyline([QPointF(badge.left() + x * across, badge.top() + y * down) for x, y in tick])
            return
        painter.setPen(colour("soft"))
        painter.setFont(look().font("body"))
        painter.drawText(badge, int(Qt.AlignmentFlag.AlignCenter), self.digit)


class Fold(Card):
    """The head of a part that opens in place: an arrow that points down while it is open."""

    def __init__(self, title: str, roles: tuple[str, str] = ("strong", "body"), parent: QWidget | None = None) -> None:
        super().__init__(title, roles=roles, parent=parent)
        self.setCheckable(True)
        self.toggled.connect(self._say)
        self._say(False)

    def _beside(self) -> int:
        px = look().px
        return 2 * tokens.RING_ROOM + 2 * px(tokens.GAP) + px(tokens.BADGE) + px(tokens.GRID)

    def marked(self) -> bool:
        """An open part needs no mark beside its arrow."""
        return False

    def _say(self, opened: bool) -> None:
        self.setAccessibleDescription(self.tr("open") if opened else self.tr("closed"))

    def _paint_badge(self, painter: QPainter, box: QRectF, chosen: bool) -> None:
        side = look().px(tokens.BADGE)
        middle = QPointF(box.right() - look().px(tokens.GRID) - side / 2, box.center().y())
        long, short = side * 0.3, side * 0.15
        points = (
            ((-long, -short), (0.0, short), (long, -short))
            if self.isChecked()
            else ((-short, -long), (short, 0.0), (-short, long))
        )
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(look().colour("ink"), tokens.STROKE))
        painter.drawPolyline([QPointF(middle.x() + x, middle.y() + y) for x, y in points])
