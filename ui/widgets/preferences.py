"""The settings as rows of choices, each applied at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import partial
from typing import Any

from PySide6.QtWidgets import QButtonGroup, QWidget

from troubleshoot.settings import TEXT_SIZES
from ui.desk import Desk
from ui.style import tokens
from ui.widgets.basic import Option, Text
from ui.widgets.layouts import Column, WrapRow


class Preferences(Column):
    """Rows of choices for the settings named: units, oven, text, theme, learn."""

    def __init__(self, desk: Desk, which: Sequence[str], parent: QWidget | None = None) -> None:
        super().__init__(gap=tokens.GAP, parent=parent)
        self.desk = desk
        rows: dict[str, tuple[str, str, list[tuple[Any, str]]]] = {
            "units": (self.tr("Temperatures in"), "fahrenheit", [(False, self.tr("°C")), (True, self.tr("°F"))]),
            "oven": (
                self.tr("Your oven"),
                "oven",
                [
                    ("unknown", self.tr("Say both settings")),
                    ("fan", self.tr("With a fan")),
                    ("no-fan", self.tr("Without a fan")),
                ],
            ),
            "text": (self.tr("Text size"), "text_size", [(size, f"{size} %") for size in TEXT_SIZES]),
            "theme": (
                self.tr("Light or dark"),
                "theme",
                [
                    ("system", self.tr("As the system")),
                    ("light", self.tr("Light")),
                    ("dark", self.tr("Dark")),
                ],
            ),
            "learn": (
                self.tr("The ranking begins with"),
                "learn",
                [
                    (True, self.tr("What is common in this kitchen")),
                    (False, self.tr("The rules alone")),
                ],
            ),
        }
        for key in which:
            self.add(self._row(*rows[key]))

    def _row(self, title: str, name: str, choices: list[tuple[Any, str]]) -> QWidget:
        options = WrapRow()
        group = QButtonGroup(options)
        for value, words in choices:
            option = Option(words, f"{title}: {words}")
            option.setChecked(getattr(self.desk.settings, name) == value)
            option.toggled.connect(partial(self._choose, name, value))
            group.addButton(option)
            options.wrap.addWidget(option)
        return Column(Text(title, "strong"), options, gap=tokens.HALF)

    def _choose(self, name: str, value: Any, chosen: bool) -> None:
        if not chosen:
            return
        changes: dict[str, Any] = {name: value}
        self.desk.set_settings(replace(self.desk.settings, **changes))
