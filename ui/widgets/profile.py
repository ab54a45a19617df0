"""The profile of the kitchen: a field or a row of choices for each line, applied as soon as it is given."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QButtonGroup, QLineEdit, QWidget

from troubleshoot import profile
from troubleshoot.errors import AmountError
from troubleshoot.profile import Field
from troubleshoot.units import LONGEST
from ui.desk import Desk
from ui.style import tokens
from ui.style.sheet import look
from ui.widgets.basic import Option, Text
from ui.widgets.layouts import Column, WrapRow

#: Lines that stand among the first settings already.
ELSEWHERE = ("units", "oven")


class KitchenProfile(Column):
    """What is known of the kitchen, each line easy to change or take back."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(gap=tokens.GAP, parent=parent)
        self.desk = desk
        for field in profile.FIELDS:
            if field.key not in ELSEWHERE:
                self.add(self._options(field) if field.choices else self._line(field))

    def _options(self, field: Field) -> QWidget:
        options = WrapRow()
        group = QButtonGroup(options)
        now = field.shown(self.desk.settings) or "unknown"
        for value, words in (field.choices or {}).items():
            option = Option(words[:1].upper() + words[1:], f"{field.words}: {words}")
            option.setChecked(value == now)
            option.toggled.connect(lambda on, value=value: self._change(field, value) if on else None)
            group.addButton(option)
            options.wrap.addWidget(option)
        return Column(Text(field.words, "strong"), options, gap=tokens.HALF)

    def _line(self, field: Field) -> QWidget:
        edit = QLineEdit(field.shown(self.desk.settings))
        edit.setFont(look().font("lead"))
        edit.setMaxLength(LONGEST)
        edit.setFixedWidth(look().px(tokens.SIDE_WIDTH))
        edit.setAccessibleName(field.words)
        edit.setAccessibleDescription(field.hint)
        edit.editingFinished.connect(partial(self._finished, field, edit))
        line = Column(Text(field.words, "strong"), gap=tokens.HALF)
        line.column.addWidget(edit, 0, Qt.AlignmentFlag.AlignLeft)
        line.add(Text(field.hint, "small", "soft"))
        return line

    def _finished(self, field: Field, edit: QLineEdit) -> None:
        if edit.text().strip() != field.shown(self.desk.settings):
            self._change(field, edit.text())
            edit.setText(field.shown(self.desk.settings))

    def _change(self, field: Field, text: str) -> None:
        self.desk.mended.emit("action")
        try:
            changed = profile.change(self.desk.settings, field.key, text)
        except AmountError as error:
            self.desk.say(
                self.tr("“{0}” could not be taken.").format(text.strip()),
                self.tr("What stood there before is kept."),
                str(error),
            )
            return
        if changed != self.desk.settings:
            self.desk.set_settings(changed)
