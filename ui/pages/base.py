"""What all pages share: a part that scrolls, a bar of actions that stays, and keys."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent, QKeySequence, QShortcut
from PySide6.QtWidgets import QApplication, QFrame, QLineEdit, QVBoxLayout, QWidget

from ui.desk import Desk
from ui.widgets.basic import Button
from ui.widgets.layouts import Sheet, TwoColumns, centred_row


class Page(QWidget):
    """The page of one step.  ``fill`` makes its parts from the interview as it stands."""

    step: ClassVar[str] = ""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.desk = desk
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(0)
        self.sheet = Sheet()
        self._column.addWidget(self.sheet, 1)
        self._bar: QFrame | None = None
        self._first: QWidget | None = None
        back = QShortcut(QKeySequence("Alt+Left"), self, context=Qt.ShortcutContext.WidgetWithChildrenShortcut)
        back.activated.connect(self.go_back)

    def fill(self) -> None:
        """Make the parts of the page."""
        raise NotImplementedError

    def go_back(self) -> None:
        """Go one step back."""
        if self.desk.session is not None and not self.desk.problems:
            self.desk.act(self.desk.interview.back)

    def go_on(self) -> None:
        """Go on, where Enter is pressed and no control has taken it."""

    def enter(self, stay: bool) -> None:
        """Show the page anew; with ``stay``, keep what had the focus and how far it was scrolled."""
        focus = QApplication.focusWidget()
        name = focus.accessibleName() if stay and focus is not None and self.isAncestorOf(focus) else ""
        scrolled = self.sheet.verticalScrollBar().value()
        self.fill()
        if not stay:
            self.sheet.verticalScrollBar().setValue(0)
            self.take_focus()
            return
        self._restore(name, scrolled)

    def take_focus(self) -> None:
        """Give the focus to what should be read first."""
        if self._first is not None:
            self._first.setFocus(Qt.FocusReason.OtherFocusReason)
            # In large text on a small screen a field may begin below the edge; where is known once the page is shown.
            if isinstance(self._first, QLineEdit) and self.isVisible():
                self.sheet.show_from_top(self._first)

    def _restore(self, name: str, scrolled: int) -> None:
        content = self.sheet.widget()
        if content is not None:
            layout = content.layout()
            if layout is not None:
                layout.activate()
            content.resize(self.sheet.viewport().width(), content.heightForWidth(self.sheet.viewport().width()))
        # Not all children of the page: a bar of before is still among them, on its way out.
        parts = [part for part in (content, self._bar) if part is not None and name]
        named = (w for part in parts for w in part.findChildren(QWidget) if w.accessibleName() == name)
        again = next((w for w in named if w.focusPolicy() & Qt.FocusPolicy.TabFocus), self._first)
        if again is not None and self.isVisible():
            again.setFocus(Qt.FocusReason.OtherFocusReason)
        self.sheet.verticalScrollBar().setValue(scrolled)

    def hold(
        self,
        content: QWidget,
        first: QWidget,
        actions: Sequence[QWidget] = (),
        columns: TwoColumns | None = None,
        back: bool = True,
    ) -> None:
        """Show ``content`` and a bar of actions; ``first`` gets the focus."""
        self.sheet.hold(content, columns)
        self._first = first
        if self._bar is not None:
            self._column.removeWidget(self._bar)
            self._bar.hide()
            self._bar.deleteLater()
        self._bar = None
        if not back and not actions:
            return
        self._bar = QFrame()
        self._bar.setProperty("kind", "bar")
        row = centred_row(self._bar)
        if back:
            button = Button(self.tr("&Back"), name=self.tr("Back"))
            button.clicked.connect(self.go_back)
            row.addWidget(button)
        row.addStretch(1)
        for action in actions:
            row.addWidget(action)
        self._column.addWidget(self._bar)
        self._bar.show()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Handle the keys that no control has taken."""
        if not self.key(event):
            super().keyPressEvent(event)

    def key(self, event: QKeyEvent) -> bool:
        """Handle a key; return whether it was one of the page's."""
        in_text = isinstance(QApplication.focusWidget(), QLineEdit)
        if event.key() == Qt.Key.Key_Backspace and not in_text:
            self.go_back()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            if not event.isAutoRepeat():
                self.go_on()
        elif event.key() == Qt.Key.Key_PageDown:
            self.sheet.page_by(0.9)
        elif event.key() == Qt.Key.Key_PageUp:
            self.sheet.page_by(-0.9)
        else:
            return False
        return True
