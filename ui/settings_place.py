"""The settings, applied as they are chosen."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from ui.desk import Desk
from ui.pages.base import Page
from ui.style import tokens
from ui.widgets.basic import Heading, Text
from ui.widgets.layouts import Column
from ui.widgets.preferences import Preferences


class SettingsPlace(Page):
    """Units, kind of oven, text size, light or dark."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(desk, parent)
        desk.restyled.connect(lambda: self.enter(stay=True))

    def fill(self) -> None:
        """Make the rows of choices."""
        heading = Heading(self.tr("Settings"), "display")
        content = Column(heading, Text(self.tr("Each choice holds at once, and next time too.")), gap=tokens.WIDE)
        content.add(Preferences(self.desk, ("units", "oven", "text", "theme")))
        content.column.addStretch(1)
        self.hold(content, heading, back=False)

    def go_back(self) -> None:
        """Nothing lies before the settings."""
