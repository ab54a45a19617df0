"""The settings, applied as they are chosen."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from ui.desk import Desk
from ui.pages.base import Page
from ui.style import tokens
from ui.widgets.basic import Heading, Text
from ui.widgets.layouts import Column
from ui.widgets.preferences import Preferences
from ui.widgets.profile import KitchenProfile


class SettingsPlace(Page):
    """Units, kind of oven, text size, light or dark, and the profile of the kitchen."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(desk, parent)
        self._shown_in = desk.settings.fahrenheit
        desk.restyled.connect(lambda: self.enter(stay=True))
        desk.changed.connect(self._rescaled)

    def fill(self) -> None:
        """Make the rows of choices."""
        heading = Heading(self.tr("Settings"), "display")
        content = Column(heading, Text(self.tr("Each choice holds at once, and next time too.")), gap=tokens.WIDE)
        content.add(Preferences(self.desk, ("units", "oven", "text", "theme")))
        content.add(
            Column(
                Heading(self.tr("Your kitchen")),
                Text(self.tr("Say what you know, once. The advice and the amounts then count with it. Empty is fine.")),
                KitchenProfile(self.desk),
                gap=tokens.GAP,
            )
        )
        content.column.addStretch(1)
        self.hold(content, heading, back=False)

    def _rescaled(self) -> None:
        """Show the profile's degrees in the scale just chosen."""
        if self._shown_in != self.desk.settings.fahrenheit:
            self._shown_in = self.desk.settings.fahrenheit
            self.enter(stay=True)

    def go_back(self) -> None:
        """Nothing lies before the settings."""
