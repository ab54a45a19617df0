"""The places of the window, as data: the shell makes one button for each."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtWidgets import QWidget

from ui.amounts_place import AmountsPlace
from ui.case_place import CasePlace
from ui.desk import Desk
from ui.settings_place import SettingsPlace


@dataclass(frozen=True, slots=True)
class Place:
    """A place: its id, the title on its button (with the letter that reaches it), and how it is made.

    ``fix_to_end`` puts the button at the end of the row, apart from the others.
    """

    id: str
    title: str
    make: Callable[[Desk], QWidget]
    fix_to_end: bool = False


#: Places in the order of their buttons.  The first is shown at the start.
PLACES = (
    Place("case", "&What went wrong", CasePlace),
    Place("amounts", "Am&ounts", AmountsPlace),
    Place("settings", "&Settings", SettingsPlace, fix_to_end=True),
)
