"""The place of practice: batches to find out about, cause and effect to look through, and the trainer's view."""

from __future__ import annotations

from PySide6.QtWidgets import QStackedWidget, QVBoxLayout, QWidget

from ui.desk import Desk
from ui.practice import PAGES
from ui.practice.base import PracticePage
from ui.practice.desk import PracticeDesk
from ui.practice.explore import ExplorePage, Shown


class PracticePlace(QWidget):
    """Shows the page that was gone to, and the way back."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.desk = desk
        self.practice = PracticeDesk(desk, self)
        self._way: list[str] = []
        self._pages: dict[str, PracticePage] = {}
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        self.stack = QStackedWidget()
        column.addWidget(self.stack)
        self.practice.ready.connect(self._ready)
        desk.restyled.connect(lambda: self.page.enter(stay=True))
        self._wording = desk.settings.wording()
        desk.changed.connect(self._settings_changed)
        self.go("start")

    @property
    def page(self) -> PracticePage:
        """The page on show."""
        page = self.stack.currentWidget()
        assert isinstance(page, PracticePage)
        return page

    @property
    def at(self) -> str:
        """The name of the page on show."""
        return self._way[-1]

    def go(self, name: str) -> None:
        """Go to a page; one that was passed on the way here is gone back to."""
        if name in self._way:
            del self._way[self._way.index(name) :]
        self._way.append(name)
        self._show()

    def back(self) -> None:
        """Go back to the page before."""
        if len(self._way) > 1:
            self._way.pop()
            self._show()

    def explore(self, family: str, shown: Shown) -> None:
        """Go to a picture of cause and effect."""
        page = self._made("explore")
        assert isinstance(page, ExplorePage)
        self.practice.explore(family)
        page.begin_at(family, shown)
        self.go("explore")

    def refresh(self) -> None:
        """Show the page anew, with the focus where it was."""
        self.page.enter(stay=True)

    def take_focus(self) -> None:
        """Give the focus to the page on show."""
        self.page.take_focus()

    def _made(self, name: str) -> PracticePage:
        if name not in self._pages:
            self._pages[name] = PAGES[name](self)
            self.stack.addWidget(self._pages[name])
        return self._pages[name]

    def _show(self) -> None:
        self.stack.setCurrentWidget(self._made(self.at))
        self.page.enter(stay=False)

    def _settings_changed(self) -> None:
        """Put the batch in hand into the units just chosen."""
        wording = self.desk.settings.wording()
        if wording == self._wording:
            return
        self._wording = wording
        if self.practice.round is not None:
            self.practice.round.wording = wording
        self.refresh()

    def _ready(self) -> None:
        self.go("round")
