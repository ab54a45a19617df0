"""Text, buttons and panels: painted from the tokens, with room for a ring that shows focus."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Any

from PySide6.QtCore import QEvent, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QFontMetrics, QKeyEvent, QPainter, QPaintEvent, QPen, QShortcutEvent
from PySide6.QtWidgets import QFrame, QLabel, QLineEdit, QPushButton, QRadioButton, QSizePolicy, QVBoxLayout, QWidget

from ui.style import tokens
from ui.style.sheet import Look, look
from ui.widgets.layouts import Sheet

_WRAP = int(Qt.TextFlag.TextWordWrap | Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop)
_TALL = 100_000
#: Measurements remembered for each kind of text; then they are made afresh.
MOST_MEASURED = 4096
ENTER_KEYS = (Qt.Key.Key_Return, Qt.Key.Key_Enter)
_BEFORE_UNIT = re.compile(r"(?<=\d) (?=(?:%|°[CF]|k?g|m?l|[cm]?m|oz|lb|min|h|K)(?!\w))")


@lru_cache(maxsize=MOST_MEASURED)
def keep_units(text: str) -> str:
    """Return a text with each number held to its unit, so that "100" never ends a line and "g" begins the next."""
    return _BEFORE_UNIT.sub("\N{NO-BREAK SPACE}", text)


def text_height(metrics: QFontMetrics, text: str, width: int) -> int:
    """Return how high plain text stands when it is wrapped to a width."""
    return metrics.boundingRect(QRect(0, 0, max(1, width), _TALL), _WRAP, text).height() if text else 0


def longest_word(metrics: QFontMetrics, text: str) -> int:
    """Return the width of the widest word: a text cannot be narrower without losing some of it."""
    return max((metrics.horizontalAdvance(word) for word in re.split(r"[ \n]+", text)), default=0) + 1


def _keep(kept: dict[Any, int], key: object, value: int) -> None:
    if len(kept) >= MOST_MEASURED:
        kept.clear()
    kept[key] = value


class Measure:
    """How high and wide texts stand in one kind of text; what was measured once is remembered."""

    def __init__(self, role: str, percent: int) -> None:
        self.font = Look(percent=percent).font(role)
        self.metrics = QFontMetrics(self.font)
        self.line = self.metrics.averageCharWidth() * tokens.LINE_CHARACTERS
        self._heights: dict[tuple[str, int], int] = {}
        self._words: dict[str, int] = {}

    def height(self, text: str, width: int) -> int:
        """Return how high plain text stands when it is wrapped to a width."""
        known = self._heights.get((text, width))
        if known is None:
            known = text_height(self.metrics, text, width)
            _keep(self._heights, (text, width), known)
        return known

    def word(self, text: str) -> int:
        """Return the width of the widest word of a text."""
        known = self._words.get(text)
        if known is None:
            known = longest_word(self.metrics, text)
            _keep(self._words, text, known)
        return known


@lru_cache(maxsize=64)
def measure(role: str, percent: int) -> Measure:
    """Return how a kind of text is measured at a text size in per cent."""
    return Measure(role, percent)


class Text(QLabel):
    """Plain text that wraps at 70 characters.  No markup in it is ever obeyed."""

    def __init__(self, text: str, role: str = "body", tone: str = "ink", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._words = ""
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setWordWrap(True)
        self._measure = measure(role, look().percent)
        self.setFont(self._measure.font)
        self.tone = tone
        self.line = self._measure.line
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Preferred)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        self.setText(text)

    def heightForWidth(self, width: int) -> int:
        """Return the height of the wrapped text: the narrower, the higher."""
        return self._measure.height(self.shown(), min(width, self.line))

    def setText(self, text: str) -> None:
        """Show another text."""
        if text != self.text():
            self._words = keep_units(text)
            super().setText(text)

    def shown(self) -> str:
        """Return the words as they are shown."""
        return self._words

    def sizeHint(self) -> QSize:
        """Return the size of the text on as few lines as it may stand on."""
        metrics = self._measure.metrics
        widest = max((metrics.horizontalAdvance(line) for line in self.shown().split("\n")), default=0) + 1
        width = min(widest, self.line)
        return QSize(width, self.heightForWidth(width))

    def minimumSizeHint(self) -> QSize:
        """Return the width of the widest word and the height of a line."""
        return QSize(self._measure.word(self.shown()), self._measure.metrics.height())

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the text."""
        painter = QPainter(self)
        painter.setFont(self.font())
        painter.setPen(look().colour(self.tone))
        painter.drawText(QRect(0, 0, min(self.width(), self.line), self.height()), _WRAP, self.shown())


class FieldLabel(Text):
    """The label of a field; the letter after ``&`` reaches the field.  For words of our own only."""

    def __init__(self, text: str, field: QWidget, role: str = "body", parent: QWidget | None = None) -> None:
        super().__init__(text, role, parent=parent)
        self.setBuddy(field)
        self.setAccessibleName(text.replace("&", ""))

    def shown(self) -> str:
        """Return the words without the mark of the letter."""
        return self._words.replace("&", "")

    def event(self, event: QEvent) -> bool:
        """Its letter reaches the field, and the page scrolls to it."""
        taken = super().event(event)
        field, sheet = self.buddy(), Sheet.around(self)
        if event.type() == QEvent.Type.Shortcut and field is not None and field.hasFocus() and sheet is not None:
            sheet.show_from_top(field)
        return taken

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the words with the letter underlined."""
        painter = QPainter(self)
        painter.setFont(self.font())
        painter.setPen(look().colour(self.tone))
        painter.drawText(self.rect(), _WRAP | int(Qt.TextFlag.TextShowMnemonic), self.text())


class Heading(Text):
    """A heading that is given the focus when its page opens, so that it is read out first."""

    def __init__(self, text: str, role: str = "title", parent: QWidget | None = None) -> None:
        super().__init__(text, role, parent=parent)
        self.setAccessibleName(text)

    def setText(self, text: str) -> None:
        """Show another heading, and have it read out."""
        super().setText(text)
        self.setAccessibleName(text)


def paint_box(
    painter: QPainter, rect: QRect, fill: QColor, edge: QColor | None, stroke: int, focus: bool, dashed: bool = False
) -> QRectF:
    """Paint the box of a control and return the room inside it.

    With the focus the box draws in a little and a ring stands around it.
    """
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    room = tokens.RING_ROOM
    inside = QRectF(rect).adjusted(room, room, -room, -room)
    box = inside if focus else QRectF(rect)
    half = stroke / 2
    painter.setBrush(fill)
    pen = QPen(edge, stroke) if edge is not None else QPen(Qt.PenStyle.NoPen)
    if dashed and edge is not None:
        pen.setStyle(Qt.PenStyle.DashLine)
    painter.setPen(pen)
    painter.drawRoundedRect(box.adjusted(half, half, -half, -half), tokens.RADIUS, tokens.RADIUS)
    if focus:
        ring = tokens.RING / 2
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(look().colour("focus"), tokens.RING))
        radius = tokens.RADIUS + room - ring
        painter.drawRoundedRect(QRectF(rect).adjusted(ring, ring, -ring, -ring), radius, radius)
    return inside


class Button(QPushButton):
    """A button.  ``kind`` is plain, main (the action to take) or quiet (no box until it is pointed at)."""

    def __init__(self, text: str, kind: str = "plain", name: str | None = None, parent: QWidget | None = None) -> None:
        super().__init__(text, parent)
        self.kind = kind
        self.setFont(look().font("strong"))
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)
        self.setAccessibleName(name or text.replace("&", ""))
        self.setSizePolicy(QSizePolicy.Policy.Minimum, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:
        """Return the size of the text with its padding, never less than a target's height."""
        metrics = self.fontMetrics()
        width = metrics.horizontalAdvance(self.text().replace("&", "")) + 2 * look().px(tokens.GAP)
        height = max(tokens.TARGET, metrics.height() + look().px(tokens.GRID))
        return QSize(width + 2 * tokens.RING_ROOM, height)

    def minimumSizeHint(self) -> QSize:
        """A button never gets smaller than its text."""
        return self.sizeHint()

    def event(self, event: QEvent) -> bool:
        """Its letter presses the button at once; Qt would show it pressed for a tenth of a second first."""
        if event.type() == QEvent.Type.Shortcut and isinstance(event, QShortcutEvent) and not event.isAmbiguous():
            self.setFocus(Qt.FocusReason.ShortcutFocusReason)
            self.click()
            return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter presses the button that has the focus."""
        if event.key() in ENTER_KEYS and not event.isAutoRepeat():
            self.click()
        else:
            super().keyPressEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the button."""
        colour = look().colour
        painter = QPainter(self)
        lit = self.isEnabled() and (self.underMouse() or self.isDown())
        ink, fill, edge = colour("ink"), colour("card"), colour("edge")
        if self.kind == "main" and self.isEnabled():
            ink, fill, edge = colour("on_accent"), colour("accent"), colour("accent")
        elif self.kind == "quiet" and not lit and not self.isChecked():
            fill = QColor(Qt.GlobalColor.transparent)
            edge = fill
        if not self.isEnabled():
            ink, edge = colour("soft"), colour("line")
        if (lit and self.kind != "main") or self.isChecked():
            fill = colour("accent_ground")
        stroke = tokens.STROKE if not (lit or self.isChecked()) else tokens.RING
        box = paint_box(painter, self.rect(), fill, edge, stroke, self.hasFocus())
        painter.setFont(self.font())
        painter.setPen(ink)
        painter.drawText(box, int(Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextShowMnemonic), self.text())
        if lit and self.kind == "main":
            line = box.bottom() - tokens.GRID
            painter.drawLine(round(box.left()) + tokens.GAP, round(line), round(box.right()) - tokens.GAP, round(line))


class Option(QRadioButton):
    """One choice of a few, pressed anywhere on it."""

    def __init__(self, text: str, name: str, parent: QWidget | None = None) -> None:
        super().__init__(text, parent)
        self.setFont(look().font())
        self.setAccessibleName(name)
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)
        self.setSizePolicy(QSizePolicy.Policy.Minimum, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:
        """Return the size of the mark and the text."""
        metrics = self.fontMetrics()
        width = metrics.horizontalAdvance(self.text()) + self._mark() + 3 * look().px(tokens.GRID)
        height = max(tokens.TARGET, metrics.height() + look().px(tokens.GRID))
        return QSize(width + 2 * tokens.RING_ROOM, height)

    def minimumSizeHint(self) -> QSize:
        """A choice never gets smaller than its text."""
        return self.sizeHint()

    def hitButton(self, pos: object) -> bool:
        """The whole of it can be pressed."""
        return True

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter takes the choice that has the focus."""
        if event.key() in ENTER_KEYS:
            self.click()
        else:
            super().keyPressEvent(event)

    def _mark(self) -> int:
        return look().px(tokens.BASE)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the mark, filled when chosen, and the text."""
        colour, px = look().colour, look().px
        painter = QPainter(self)
        chosen = self.isChecked()
        fill = colour("accent_ground") if chosen or self.underMouse() else colour("card")
        edge = colour("accent") if chosen else colour("edge")
        box = paint_box(painter, self.rect(), fill, edge, tokens.STROKE, self.hasFocus())
        mark = QRectF(box.left() + px(tokens.GRID), box.center().y() - self._mark() / 2, self._mark(), self._mark())
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(edge, tokens.STROKE))
        painter.drawEllipse(mark)
        if chosen:
            painter.setBrush(edge)
            inset = self._mark() / 4
            painter.drawEllipse(mark.adjusted(inset, inset, -inset, -inset))
        painter.setPen(colour("ink"))
        painter.setFont(self.font())
        words = box.adjusted(self._mark() + 2 * px(tokens.GRID), 0, 0, 0)
        painter.drawText(words, int(Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft), self.text())


class Panel(QFrame):
    """A sheet that holds other parts in a column.  ``kind`` is card, caution or notice."""

    def __init__(self, kind: str = "card", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("kind", kind)
        self.column = QVBoxLayout(self)
        pad = look().px(tokens.GAP)
        self.column.setContentsMargins(pad, pad, pad, pad)
        self.column.setSpacing(look().px(tokens.GRID))

    def add(self, *widgets: QWidget) -> None:
        """Add parts below the others."""
        for widget in widgets:
            self.column.addWidget(widget)


class NumberEdit(QLineEdit):
    """A field for a number: ``entered`` carries it when Enter is pressed or the field is left with another number."""

    entered = Signal(object)

    def __init__(self, name: str, description: str = "", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self.setAccessibleDescription(description)
        self.setFont(look().font("lead"))
        self.setFixedWidth(look().px(tokens.FIELD_WIDTH))
        self.setMaxLength(16)
        self._last = ""
        self.editingFinished.connect(self._finished)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter is done with here: passed on, it would press what the page does with Enter as well."""
        super().keyPressEvent(event)
        if event.key() in ENTER_KEYS:
            event.accept()

    def set_number(self, value: float | None) -> None:
        """Show a number, or nothing."""
        self._last = "" if value is None else f"{value:g}"
        self.setText(self._last)

    def number(self) -> float | None:
        """Return the number typed; None when the field is empty.  Raises ValueError when it is no number."""
        typed = self.text().strip().replace(",", ".")
        if not typed:
            return None
        value = float(typed)
        if value != value or value in (float("inf"), float("-inf")):
            raise ValueError(typed)
        return value

    def _finished(self) -> None:
        if self.text() != self._last:
            self._last = self.text()
            self.entered.emit(self.text())
