"""Cards that are pressed: families, complaints, answers, and what has been answered."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QPointF, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QPushButton, QSizePolicy, QWidget

from ui import drawings
from ui.style import tokens
from ui.style.sheet import look
from ui.widgets.basic import ENTER_KEYS, keep_units, measure, paint_box

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
        self.loose, self.above = loose, above
        self._title_in, self._note_in = (measure(role, look().percent) for role in roles)
        self._heights: dict[int, int] = {}
        self._least: QSize | None = None
        self._size = look().px(tokens.TILE_DRAWING if above else tokens.DRAWING_SIZE)
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        self._say(title, note, drawing, digit)

    def show_as(
        self, title: str, note: str = "", drawing: Path | None = None, digit: str = "", chosen: bool = False
    ) -> None:
        """Show something else to press, chosen or not; a card costs more to make than to show with other words."""
        if not self.isCheckable():
            self.setCheckable(True)
        self.setChecked(chosen)
        self._say(title, note, drawing, digit)
        self.updateGeometry()
        self.update()

    def _say(self, title: str, note: str, drawing: Path | None, digit: str) -> None:
        self.title, self.note, self.digit = title, note, digit
        self._title_shown, self._note_shown = keep_units(title), keep_units(note)
        self._heights.clear()
        self._least = None
        self._drawing = drawings.pixmap(drawing, self._size, self.devicePixelRatioF(), look().dark)
        self.setAccessibleName(f"{title}. {note}" if note else title)
        self.setAccessibleDescription(self.tr("Key {0}").format(digit) if digit else "")

    @property
    def drawn(self) -> bool:
        """Whether a drawing is shown."""
        return self._drawing is not None

    def heightForWidth(self, width: int) -> int:
        """Return the height that holds the drawing and the wrapped words."""
        room = self._words_width(width)
        known = self._heights.get(room)
        if known is None:
            known = self._heights[room] = self._height(room)
        return known

    def _height(self, room: int) -> int:
        pad, gap = look().px(tokens.GAP), look().px(tokens.HALF)
        words = self._title_in.height(self._title_shown, room)
        if self.note:
            words += gap + self._note_in.height(self._note_shown, room)
        if self._drawing is not None:
            words = words + self._size + gap if self.above else max(words, self._size)
        least = max(words + pad, tokens.TARGET)
        return least + 2 * tokens.RING_ROOM + self.foot()

    def foot(self) -> int:
        """Return the height kept free below the words, for a card that draws something there."""
        return 0

    def sizeHint(self) -> QSize:
        """Return the size at the usual width of a card."""
        width = look().px(tokens.CARD_WIDTH)
        return QSize(width, self.heightForWidth(width))

    def minimumSizeHint(self) -> QSize:
        """Return the least width: the widest word beside the drawing."""
        if self._least is None:
            word = max(self._title_in.word(self._title_shown), self._note_in.word(self._note_shown))
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
        return min(width - self._beside(), self._title_in.line)

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
        box.setBottom(box.bottom() - self.foot())
        pad = px(tokens.GAP)
        left, top = round(box.left()) + pad, round(box.top())
        room = self._words_width(self.width())
        words = self._title_in.height(self._title_shown, room)
        if self.note:
            words += px(tokens.HALF) + self._note_in.height(self._note_shown, room)
        if self._drawing is not None:
            if self.above:
                painter.drawPixmap(left, top + pad // 2, self._drawing)
                top += self._size + px(tokens.HALF) + pad // 2
            else:
                painter.drawPixmap(left, round(box.center().y() - self._size / 2), self._drawing)
                left += self._size + px(tokens.GRID)
        if not (self._drawing is not None and self.above):
            highest = top + pad // 2
            # Beside one another, titles stand in line where there are notes; a title alone stands in the middle.
            lined_up = self.note and self._drawing is None
            top = highest if lined_up else max(highest, round(box.center().y() - words / 2))
        painter.setPen(colour("ink"))
        painter.setFont(self._title_in.font)
        title_height = self._title_in.height(self._title_shown, room)
        painter.drawText(QRect(left, top, room, title_height), _WRAP, self._title_shown)
        if self.note:
            painter.setPen(colour("soft"))
            painter.setFont(self._note_in.font)
            note = QRect(left, top + title_height + px(tokens.HALF), room, self.height())
            painter.drawText(note, _WRAP, self._note_shown)
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
        self.toggled.connect(self._tell)
        self._tell(False)

    def _beside(self) -> int:
        px = look().px
        return 2 * tokens.RING_ROOM + 2 * px(tokens.GAP) + px(tokens.BADGE) + px(tokens.GRID)

    def marked(self) -> bool:
        """An open part needs no mark beside its arrow."""
        return False

    def _tell(self, opened: bool) -> None:
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
