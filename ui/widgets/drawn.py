"""A drawing with its words beside it: what a look showed."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QLabel, QWidget

from ui import drawings
from ui.style import tokens
from ui.style.sheet import look
from ui.widgets.basic import Heading, Text
from ui.widgets.layouts import Column


class Drawing(QLabel):
    """A drawing.  ``says`` is read out for it: the same in words."""

    def __init__(self, path: Path, says: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setTextFormat(Qt.TextFormat.PlainText)
        side = look().px(tokens.DRAWING_SIZE)
        picture = drawings.pixmap(path, side, self.devicePixelRatioF(), look().dark)
        if picture is not None:
            self.setPixmap(picture)
            self.setFixedSize(side, side)
        self.setAccessibleName(self.tr("Drawing: {0}").format(says))


class SeenLine(QWidget):
    """What was looked at and what it showed, with the drawing of it where there is one.

    A ``fresh`` one is set as a heading, which can be given the focus so that it is read out.
    """

    def __init__(
        self, asked: str, showed: str, drawing: Path | None, fresh: bool = False, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        said = Heading(showed, "heading") if fresh else Text(showed, "strong")
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(look().px(tokens.GRID))
        if drawing is not None:
            row.addWidget(Drawing(drawing, showed), 0, Qt.AlignmentFlag.AlignTop)
        row.addWidget(Column(Text(asked, tone="soft"), said, gap=tokens.HALF), 1, Qt.AlignmentFlag.AlignTop)
        self.setAccessibleName(f"{asked} {showed}")
