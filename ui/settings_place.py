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
    """Units, kind of oven, text size, light or dark, the profile of the kitchen, and whether its habits count."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(desk, parent)
        self._shown_for = self._shared()
        desk.restyled.connect(lambda: self.enter(stay=True))
        desk.changed.connect(self._follow)

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
        content.add(
            Column(
                Heading(self.tr("What the case book teaches")),
                Text(
                    self.tr(
                        "When it is known of ten cases of a product what they were, the ranking can begin with what is "
                        "common here. The Case book shows what was learnt."
                    )
                ),
                Preferences(self.desk, ("learn",)),
                gap=tokens.GAP,
            )
        )
        content.column.addStretch(1)
        self.hold(content, heading, back=False)

    def _shared(self) -> tuple[bool, bool]:
        """Return the settings that show in more than their own row, or can be changed in another place."""
        return self.desk.settings.fahrenheit, self.desk.settings.learn

    def _follow(self) -> None:
        """Show the profile's degrees in the scale just chosen, and what was switched in the Case book."""
        if self._shown_for != self._shared():
            self._shown_for = self._shared()
            self.enter(stay=True)

    def go_back(self) -> None:
        """Nothing lies before the settings."""
