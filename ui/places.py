"""The places of the window, as data: the shell makes one button for each."""

from __future__ import annotations

from dataclasses import dataclass
from importlib import import_module
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QWidget

if TYPE_CHECKING:
    from ui.desk import Desk


@dataclass(frozen=True, slots=True)
class Place:
    """A place: its id, the title on its button (with the letter that reaches it), and the widget that it is.

    The widget is named as module and class, and imported when the place is first gone to: the window opens sooner.
    ``fix_to_end`` puts the button at the end of the row, apart from the others.
    """

    id: str
    title: str
    widget: str
    fix_to_end: bool = False

    def make(self, desk: Desk) -> QWidget:
        """Return the place, made to work on a desk."""
        module, name = self.widget.rsplit(".", 1)
        made: QWidget = getattr(import_module(module), name)(desk)
        return made


#: Places in the order of their buttons.  The first is shown at the start.
PLACES = (
    Place("case", "&What went wrong", "ui.case_place.CasePlace"),
    Place("amounts", "Am&ounts", "ui.amounts_place.AmountsPlace"),
    Place("book", "Cas&e book", "ui.book_place.BookPlace"),
    Place("practice", "&Practice", "ui.practice_place.PracticePlace"),
    Place("rules", "&Rule base", "ui.rules_place.RulesPlace"),
    Place("settings", "&Settings", "ui.settings_place.SettingsPlace", fix_to_end=True),
)
