"""The shell: the row of places, the strips that say what went wrong, and the place on show."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import QCoreApplication, QSize, Qt, QTimer
from PySide6.QtGui import QCloseEvent, QPaintEvent
from PySide6.QtWidgets import QApplication, QFrame, QMainWindow, QSizePolicy, QStackedWidget, QVBoxLayout, QWidget

from ui.case_place import CasePlace
from ui.desk import Desk, Trouble
from ui.places import PLACES, Place
from ui.style import tokens
from ui.widgets.basic import Button
from ui.widgets.layouts import WrapRow, centred_row
from ui.widgets.strips import ErrorStrip


class Window(QMainWindow):
    """The window of Batchmend."""

    def __init__(self, desk: Desk, places: tuple[Place, ...] = PLACES) -> None:
        super().__init__()
        self.desk = desk
        self.places = places
        self.setWindowTitle("Batchmend")
        self.setMinimumSize(*tokens.LEAST_WINDOW)
        room = QApplication.primaryScreen().availableGeometry().size()
        self.resize(QSize(*tokens.WINDOW).boundedTo(room))
        whole = QWidget()
        self._column = QVBoxLayout(whole)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(0)
        self._row: QFrame | None = None
        self.strips = QVBoxLayout()
        self.strips.setSpacing(tokens.HALF)
        self._shown: dict[str, ErrorStrip] = {}
        self._troubles: dict[str, Trouble] = {}
        self.stack = QStackedWidget()
        self.stack.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Ignored)
        self._column.addLayout(self.strips)
        self._column.addWidget(self.stack, 1)
        self.setCentralWidget(whole)
        self._made: dict[str, QWidget] = {}
        self._to_open = False
        self.at = places[0].id
        self.buttons: dict[str, Button] = {}
        self._make_row()
        desk.troubled.connect(self.show_trouble)
        desk.mended.connect(self.put_away)
        desk.restyled.connect(self._restyled)
        desk.going.connect(self.go_to)
        self.go(self.at)

    def open(self) -> None:
        """Read the rule base and show the first page."""
        self.desk.open()
        self.desk.changed.emit()

    def open_soon(self) -> None:
        """Show the first page, and read the rule base as soon as it has been painted."""
        self._to_open = True
        self.desk.reading = ""
        self.desk.changed.emit()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Begin to read once the first page has been painted: before, reading would only delay it."""
        super().paintEvent(event)
        if self._to_open:
            self._to_open = False
            QTimer.singleShot(0, self.desk.open_soon)

    @property
    def case(self) -> CasePlace:
        """The place where a case is worked on."""
        place = self._made["case"]
        assert isinstance(place, CasePlace)
        return place

    def go(self, place_id: str) -> None:
        """Go to a place."""
        self.at = place_id
        for one, button in self.buttons.items():
            button.setChecked(one == place_id)
        if place_id not in self._made:
            place = next(place for place in self.places if place.id == place_id)
            self._made[place_id] = place.make(self.desk)
            self.stack.addWidget(self._made[place_id])
            enter = getattr(self._made[place_id], "enter", None)
            if enter is not None:
                enter(False)
        widget = self._made[place_id]
        self.stack.setCurrentWidget(widget)
        take_focus = getattr(widget, "take_focus", None)
        if take_focus is not None and self.isVisible():
            take_focus()

    def go_to(self, place_id: str, what: object) -> None:
        """Go to a place and open something there, when there is something to open."""
        self.go(place_id)
        if what is not None:
            self._made[place_id].open(what)

    # -- strips ------------------------------------------------------------------------

    def show_trouble(self, trouble: Trouble) -> None:
        """Show a strip; a strip of the same kind gives way to it."""
        self.put_away(trouble.key)
        strip = ErrorStrip(trouble.happened, trouble.kept, trouble.to_do)
        strip.closed.connect(partial(self.put_away, trouble.key))
        self._shown[trouble.key], self._troubles[trouble.key] = strip, trouble
        self.strips.addWidget(strip)

    def put_away(self, key: str) -> None:
        """Put a strip away, if it is there."""
        strip = self._shown.pop(key, None)
        self._troubles.pop(key, None)
        if strip is not None:
            had_focus = strip.close_button.hasFocus()
            self.strips.removeWidget(strip)
            strip.hide()
            strip.deleteLater()
            if had_focus:
                self.go(self.at)

    def shown_strips(self) -> list[str]:
        """Return what the strips on show say happened."""
        return [strip.happened for strip in self._shown.values()]

    # -- inside ------------------------------------------------------------------------

    def _make_row(self) -> None:
        row = QFrame()
        row.setProperty("kind", "bar")
        layout = centred_row(row)
        places = WrapRow()
        layout.addWidget(places, 1)
        self.buttons = {}
        for place in self.places:
            title = QCoreApplication.translate("Places", place.title)
            button = Button(title, "quiet", title.replace("&", ""))
            button.setCheckable(True)
            button.setChecked(place.id == self.at)
            button.clicked.connect(partial(self.go, place.id))
            self.buttons[place.id] = button
            if place.fix_to_end:
                layout.addWidget(button, 0, Qt.AlignmentFlag.AlignTop)
            else:
                places.wrap.addWidget(button)
        if self._row is not None:
            self._column.removeWidget(self._row)
            self._row.hide()
            self._row.deleteLater()
        self._row = row
        self._column.insertWidget(0, row)

    def _restyled(self) -> None:
        self._make_row()
        for trouble in list(self._troubles.values()):
            self.show_trouble(trouble)

    def closeEvent(self, event: QCloseEvent) -> None:
        """Let the case go, so that it can be taken up again."""
        self.desk.close()
        super().closeEvent(event)

    def system_changed(self, _scheme: Qt.ColorScheme) -> None:
        """Follow the system's light or dark where the settings leave it to the system."""
        if self.desk.settings.theme == "system":
            self.desk.restyle()
