"""A picture in words: line by line, each set in as far as it stands below another."""

from __future__ import annotations

from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from ui.style import tokens
from ui.style.sheet import look
from ui.widgets.basic import Text


class Words(QWidget):
    """Lines of plain text; two spaces at the beginning of a line set it in by a step."""

    def __init__(self, text: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(look().px(tokens.HALF))
        for line in text.splitlines():
            words = line.lstrip()
            if not words:
                continue
            row = QHBoxLayout()
            row.addSpacing((len(line) - len(words)) // 2 * look().px(tokens.GAP))
            row.addWidget(Text(words), 1)
            column.addLayout(row)
