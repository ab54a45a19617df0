"""Strips and sections: cautions, errors that say what to do, and parts that open in place."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent, QPolygonF
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from ui.style import tokens
from ui.style.sheet import look
from ui.widgets.basic import Button, Panel, Text
from ui.widgets.cards import Fold
from ui.widgets.layouts import Column

if TYPE_CHECKING:
    from troubleshoot.advice.verdict import CautionLine
    from troubleshoot.problems import Problem


class CautionSign(QWidget):
    """The sign of a caution: a triangle with a stroke and a dot."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setFixedSize(look().px(tokens.BADGE), look().px(tokens.BADGE))
        self.setAccessibleName(self.tr("Caution sign"))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the sign."""

        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        side = float(self.width())
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(look().colour("caution"))
        corners = [QPointF(side / 2, side * 0.06), QPointF(side * 0.98, side * 0.92), QPointF(side * 0.02, side * 0.92)]
        painter.drawPolygon(QPolygonF(corners))
        painter.setBrush(look().colour("on_caution"))
        painter.drawRoundedRect(QRectF(side * 0.45, side * 0.36, side * 0.1, side * 0.28), 1, 1)
        painter.drawEllipse(QRectF(side * 0.44, side * 0.7, side * 0.12, side * 0.12))


class Section(QWidget):
    """A part that opens in place.  Its body is made when it is first opened."""

    def __init__(
        self, title: str, make: Callable[[], QWidget], opened: bool = False, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._make = make
        self.body: QWidget | None = None
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(look().px(tokens.GRID))
        self.head = Fold(title)
        self.head.toggled.connect(self._toggled)
        self._column.addWidget(self.head)
        if opened:
            self.head.setChecked(True)

    def _toggled(self, opened: bool) -> None:
        if opened and self.body is None:
            self.body = self._make()
            self._column.addWidget(self.body)
        if self.body is not None:
            self.body.setVisible(opened)


class CautionStrip(Panel):
    """Cautions: sign, word, and what to do; why stands in a part that opens."""

    def __init__(self, cautions: Sequence[CautionLine], parent: QWidget | None = None) -> None:
        super().__init__("caution", parent)
        self.cautions = tuple(cautions)
        row = QHBoxLayout()
        row.setSpacing(look().px(tokens.GRID))
        row.addWidget(CautionSign(), 0, Qt.AlignmentFlag.AlignTop)
        words = Column(Text(self.tr("Caution"), "strong", "caution"), gap=tokens.GRID)
        for caution in self.cautions:
            line = Text(caution.say, "strong")
            line.setAccessibleName(self.tr("Caution: {0}").format(caution.say))
            words.add(line)
        words.add(Section(self.tr("Why be careful"), self._reasons))
        row.addWidget(words, 1)
        self.column.addLayout(row)
        self.setAccessibleName(self.tr("Caution: {0}").format(" ".join(caution.say for caution in self.cautions)))

    def _reasons(self) -> QWidget:
        return Column(*(Text(caution.why) for caution in self.cautions))


class ErrorStrip(Panel):
    """What happened, what was kept, and what to do; it can be put away."""

    closed = Signal()

    def __init__(self, happened: str, kept: str, to_do: str, parent: QWidget | None = None) -> None:
        super().__init__("caution", parent)
        row = QHBoxLayout()
        row.setSpacing(look().px(tokens.GRID))
        words = Column(gap=tokens.HALF)
        words.add(Text(happened, "strong"))
        if kept or to_do:
            words.add(Text(" ".join(filter(None, (kept, to_do)))))
        row.addWidget(CautionSign(), 0, Qt.AlignmentFlag.AlignTop)
        row.addWidget(words, 1)
        self.close_button = Button(self.tr("Put &away"), name=self.tr("Put this message away"))
        self.close_button.clicked.connect(self.closed.emit)
        row.addWidget(self.close_button, 0, Qt.AlignmentFlag.AlignTop)
        self.column.addLayout(row)
        self.happened = happened
        self.setAccessibleName(" ".join(filter(None, (happened, kept, to_do))))


class ProblemList(Panel):
    """Problems of the rule files, each with its file and line, what is wrong, and what to write."""

    def __init__(self, problems: Sequence[Problem], most: int = 40, parent: QWidget | None = None) -> None:
        super().__init__("card", parent)
        for problem in problems[:most]:
            line = Column(
                Text(self.tr("{0}, line {1}").format(problem.place.file, problem.place.line), "strong"),
                Text(f"{problem.subject}: {problem.wrong}; {problem.advice}"),
                gap=tokens.HALF,
            )
            line.setAccessibleName(str(problem))
            self.add(line)
        if len(problems) > most:
            self.add(Text(self.tr("… and {0} more").format(len(problems) - most), tone="soft"))
