"""The place of a case: the page of the step that the interview is at, or what is wrong with the rule base."""

from __future__ import annotations

from PySide6.QtWidgets import QStackedWidget, QVBoxLayout, QWidget

from ui.desk import Desk
from ui.pages import page_for
from ui.pages.base import Page
from ui.style import tokens
from ui.widgets.basic import Button, Heading, Text
from ui.widgets.layouts import Column
from ui.widgets.strips import ProblemList


class ProblemPage(Page):
    """What is wrong with the rule base, by file and line."""

    def fill(self) -> None:
        """Make the list."""
        desk = self.desk
        heading = Heading(self.tr("The rule files cannot be used"), "display")
        content = Column(heading, gap=tokens.GAP)
        actions = []
        if desk.session is None:
            content.add(Text(self.tr("Nothing was changed. Mend what is listed, then read the files again.")))
        else:
            content.add(
                Text(
                    self.tr("Nothing was changed, and the other families can still be used. Mend what is listed here.")
                ),
            )
            families = Button(self.tr("To the &families"), "main", self.tr("To the families"))
            families.clicked.connect(self.go_back)
            actions.append(families)
        again = Button(self.tr("Read a&gain"), name=self.tr("Read again"))
        again.clicked.connect(desk.reopen)
        actions.insert(0, again)
        content.add(ProblemList(desk.problems))
        content.column.addStretch(1)
        self.hold(content, heading, actions, back=False)

    def go_back(self) -> None:
        """Go back to the families, when there are any."""
        if self.desk.session is not None:
            self.desk.leave_problems()


class BusyPage(Page):
    """What is being read, while somebody waits for it."""

    def fill(self) -> None:
        """Say what is read; the heading is that of the page which follows."""
        desk = self.desk
        tiles = desk.interview.tiles() if desk.reading else ()
        name = next((tile.name for tile in tiles if tile.family == desk.reading), "")
        heading = Heading(self.tr("What went wrong?") if name else self.tr("What are you making?"), "display")
        known = self.tr("Reading what is known about {0} …").format(name)
        content = Column(heading, Text(known if name else self.tr("Reading the rule files …"), "lead"), gap=tokens.WIDE)
        content.column.addStretch(1)
        self.hold(content, heading, back=bool(name))

    def go_back(self) -> None:
        """Go back to the families, without waiting."""
        self.desk.wait_no_longer()


class CasePlace(QWidget):
    """Shows the page that the interview is at."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.desk = desk
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        self.stack = QStackedWidget()
        column.addWidget(self.stack)
        self._pages: dict[str, Page] = {}
        self._shown: object = None
        desk.changed.connect(self.refresh)

    @property
    def page(self) -> Page:
        """The page on show."""
        page = self.stack.currentWidget()
        assert isinstance(page, Page)
        return page

    def refresh(self) -> None:
        """Show the interview as it stands; the same question keeps its focus and scroll."""
        now, shown = self._now()
        page = self._pages.get(now)
        if page is None:
            make = {"problems": ProblemPage, "busy": BusyPage}.get(now)
            page = self._pages[now] = (make or page_for(now))(self.desk)
            self.stack.addWidget(page)
        stay = shown == self._shown
        self._shown = shown
        if not stay:
            self.stack.setCurrentWidget(page)
        page.enter(stay)

    def _now(self) -> tuple[str, object]:
        """Return which page is to be shown, and what tells what it shows from what it showed before."""
        desk = self.desk
        if desk.reading is not None:
            return "busy", ("busy", desk.reading)
        if desk.problems or desk.session is None:
            return "problems", ("problems", desk.problems)
        state = desk.session.state
        return state.step, (state.step, state.current, state.family)

    def take_focus(self) -> None:
        """Give the focus to the page on show."""
        self.page.take_focus()
