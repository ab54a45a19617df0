"""A field for a quantity with its unit ("140 F", "2 oz"), and a few words to choose from."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QButtonGroup, QLineEdit, QWidget

from troubleshoot import worked
from troubleshoot.advice.wording import Wording
from troubleshoot.kitchen.card import CardInput
from troubleshoot.kitchen.inputs import Choice, Input, Record
from troubleshoot.units import LONGEST
from ui.style import tokens
from ui.style.sheet import look
from ui.widgets.basic import Option, Text
from ui.widgets.layouts import Column, Labelled, WrapRow

#: Longest record of readings that is taken, in characters.
LONGEST_RECORD = 2000


class QuantityField(Labelled):
    """One input of a calculation: its name and unit above the field, the span that makes sense below."""

    def __init__(
        self,
        given: CardInput,
        about: Input,
        text: str,
        wording: Wording,
        changed: Callable[[str, str], None],
        parent: QWidget | None = None,
    ) -> None:
        unit = worked.unit_words(about, wording)
        words = worked.label(given, wording)
        title = f"{words} ({unit})" if unit else words
        bounds = worked.bounds(about, wording)
        self.edit = QLineEdit()
        self.edit.setFont(look().font("lead"))
        self.edit.setFixedWidth(look().px(tokens.FIELD_WIDTH))
        self.edit.setMaxLength(LONGEST)
        self.edit.setAccessibleName(title)
        self.edit.setAccessibleDescription(bounds)
        self.edit.setText(text)
        self.edit.textChanged.connect(partial(changed, given.name))
        span = Text(bounds, "small", "soft")
        below = Column(gap=tokens.HALF)
        below.column.addWidget(self.edit, 0, Qt.AlignmentFlag.AlignLeft)
        below.add(span)
        super().__init__(Text(title), below, parent)


class RecordField(Labelled):
    """An input that is a list of readings, in one line."""

    def __init__(
        self,
        given: CardInput,
        about: Record,
        text: str,
        changed: Callable[[str, str], None],
        parent: QWidget | None = None,
    ) -> None:
        self.edit = QLineEdit()
        self.edit.setFont(look().font("lead"))
        self.edit.setMinimumWidth(look().px(tokens.SIDE_WIDTH))
        self.edit.setMaxLength(LONGEST_RECORD)
        self.edit.setAccessibleName(about.words)
        self.edit.setAccessibleDescription(about.how)
        self.edit.setText(text)
        self.edit.textChanged.connect(partial(changed, given.name))
        super().__init__(
            Text(about.words), Column(self.edit, Text(about.how, "small", "soft"), gap=tokens.HALF), parent
        )


class ChoiceField(Column):
    """An input that is one of a few words."""

    def __init__(
        self,
        given: CardInput,
        about: Choice,
        chosen: str,
        changed: Callable[[str, str], None],
        parent: QWidget | None = None,
    ) -> None:
        options = WrapRow()
        group = QButtonGroup(options)
        for answer, words in about.answers.items():
            option = Option(words, f"{about.words}: {words}")
            option.setChecked(answer == chosen)
            option.toggled.connect(lambda on, answer=answer: changed(given.name, answer) if on else None)
            group.addButton(option)
            options.wrap.addWidget(option)
        super().__init__(Text(about.words), options, gap=tokens.HALF, parent=parent)
