"""The place of a case: the page of the step that the interview is at, or what is wrong with the rule base."""

from __future__ import annotations

from PySide6.QtWidgets import QStackedWidget, QVBoxLayout, QWidget

from ui.desk import Desk
from ui.pages import PAGES
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
        again = Button(self.tr("&Read again"), name=self.tr("Read again"))
        again.clicked.connect(desk.reopen)
        actions.insert(0, again)
        content.add(ProblemList(desk.problems))
        content.column.addStretch(1)
        self.hold(content, heading, actions, back=False)

    def go_back(self) -> None:
        """Go back to the families, when there are any."""
        if self.desk.session is not None:
            self.desk.leave_problems()


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
        desk = self.desk
        if desk.problems or desk.session is None:
            now: str = "problems"
            make: type[Page] = ProblemPage
            shown: object = ("problems", desk.problems)
        else:
            state = desk.session.state
            now, make = state.step, PAGES[state.step]
            shown = (state.step, state.current, state.family)
        page = self._pages.get(now)
        if page is None:
            page = self._pages[now] = make(desk)
            self.stack.addWidget(page)
        stay = shown == self._shown
        self._shown = shown
        if not stay:
            self.stack.setCurrentWidget(page)
        page.enter(stay)

    def take_focus(self) -> None:
        """Give the focus to the page on show."""
        self.page.take_focus()
