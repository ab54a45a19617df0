"""What the window works on: the rule base, the interview, the case kept on disk, the settings.

Pages act through ``Desk.act`` alone.  It turns every error of the user's world into
something to show, so that no page needs to handle one.
"""

from __future__ import annotations

import contextlib
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, cast

from PySide6.QtCore import QObject, Qt, QTimer, Signal
from PySide6.QtWidgets import QApplication

from troubleshoot import settings as kept_settings
from troubleshoot.errors import ProblemsError, RuleBaseError, UserError
from troubleshoot.interview.state import VERDICT, State
from troubleshoot.interview.store import CaseStore, SavedCase
from troubleshoot.problems import Problem
from troubleshoot.settings import Settings
from ui import reading
from ui.book_desk import BookDesk
from ui.style import sheet

if TYPE_CHECKING:
    from troubleshoot.interview.session import Session
    from troubleshoot.interview.shelf import Shelf

#: The pause between two conclusions drawn ahead: whatever the person does comes in between.
THINK_MS = 40


@dataclass(frozen=True, slots=True)
class Trouble:
    """Something went wrong: what happened, what was kept, what to do.  One of each ``key`` is shown."""

    key: str
    happened: str
    kept: str = ""
    to_do: str = ""


class Desk(QObject):
    """The state behind the window.  ``changed`` asks for the page to be shown anew.

    ``going`` asks for another place, by its id, and says what to open there (None: what was open before).
    """

    changed = Signal()
    going = Signal(str, object)
    restyled = Signal()
    troubled = Signal(object)
    mended = Signal(str)

    def __init__(self, rules: Path | None, settings: Settings, store: CaseStore | None = None) -> None:
        super().__init__()
        self.rules = rules
        self.settings = settings
        self.store = store or CaseStore()
        self.case_id = self.store.new_id()
        self.session: Session | None = None
        self.book = BookDesk(self)
        self.book.troubled.connect(self._not_in_book)
        self.problems: tuple[Problem, ...] = ()
        #: What is being read and waited for: the rule base ("") or a family; None when nothing is.
        self.reading: str | None = None
        self._reader: reading.Reader | None = None
        self._thinking = QTimer(self)
        self._thinking.setSingleShot(True)
        self._thinking.setInterval(THINK_MS)
        self._thinking.timeout.connect(self._think)
        self.changed.connect(self._thinking.start)

    # -- the rule base -----------------------------------------------------------------

    def open(self) -> None:
        """Read the rule base; what is wrong with it is kept in ``problems``."""
        brought: object
        try:
            brought = reading.read_shelf(self.rules)
        except (RuleBaseError, FileNotFoundError) as error:
            brought = error
        self._begin(brought)

    def open_soon(self) -> None:
        """Read the rule base off the event loop, then its families ahead of time; ``changed`` says when it is there."""
        self.reading = ""
        self._reader = reading.Reader(self)
        self._reader.open(self.rules, self._opened)

    def _opened(self, brought: object) -> None:
        self.reading = None
        self._begin(brought)
        self.changed.emit()
        if self.session is not None and self._reader is not None:
            shelf = self.session.shelf
            latest = [case.state.family for case in self.unfinished()]
            known = [header.id for header in shelf.headers]
            wanted = dict.fromkeys(family for family in (*latest, *known) if family in known)
            self._reader.read_ahead(shelf, [family for family in wanted if family is not None])

    def _begin(self, brought: object) -> None:
        """Begin with the shelf that was brought, or say why there is none."""
        self.problems, self.session = (), None
        if isinstance(brought, RuleBaseError):
            self.problems = brought.problems
        elif isinstance(brought, FileNotFoundError):
            self._trouble(
                "install", str(brought), self.tr("Nothing was changed."), self.tr("Install the program again.")
            )
        elif isinstance(brought, Exception):
            raise brought
        else:
            from troubleshoot.interview.session import Session

            self.session = Session(cast("Shelf", brought), self.settings.wording(), self._save)
            self._tell_profile()

    def _when_read(self, family: str, then: Callable[[], None]) -> None:
        """Do something once a family has been read; what is wrong with it is shown instead."""
        if self._reader is None or self.interview.shelf.holds(family):
            then()
            return
        self.reading = family
        self.changed.emit()
        self._reader.read(self.interview.shelf, family, partial(self._read, family, then))

    def _read(self, family: str, then: Callable[[], None], brought: object) -> None:
        if self.reading != family:
            return
        self.reading = None
        if isinstance(brought, RuleBaseError):
            self.problems = brought.problems
            self.changed.emit()
        elif isinstance(brought, Exception):
            self.changed.emit()
            raise brought
        else:
            then()

    def wait_no_longer(self) -> None:
        """Go back from waiting for a family to the families."""
        if self.reading:
            self.reading = None
            self.changed.emit()

    @property
    def thinking(self) -> bool:
        """Whether conclusions are still being drawn ahead."""
        return self._thinking.isActive()

    def _think(self) -> None:
        """Draw one conclusion ahead, and another a moment later, while a question is on show."""
        if self.reading is None and self.session is not None and not self.problems and self.session.think_ahead():
            self._thinking.start()

    def reopen(self) -> None:
        """Read the rule base again after its files were mended."""
        self.mended.emit("install")
        self.open()
        self.changed.emit()

    def leave_problems(self) -> None:
        """Go back from the list of problems to the families."""
        self.problems = ()
        self.changed.emit()

    @property
    def interview(self) -> Session:
        """The interview; there is one whenever the rule base could be opened."""
        if self.session is None:
            raise RuntimeError("the rule base could not be opened, so there is no interview")
        return self.session

    # -- actions -----------------------------------------------------------------------

    def act(self, action: Callable[[], object]) -> bool:
        """Do something to the interview and show what follows; an error is shown instead."""
        self.mended.emit("action")
        QApplication.setOverrideCursor(Qt.CursorShape.BusyCursor)
        try:
            action()
        except RuleBaseError as error:
            self.problems = error.problems
        except UserError as error:
            kept = self.tr("Everything said before is kept.")
            self._trouble("action", self.tr("That could not be taken."), kept, in_words(error))
            return False
        finally:
            QApplication.restoreOverrideCursor()
        self.changed.emit()
        return not self.problems

    def set_batch(self, quantity: str, value: float | None, show: bool = True) -> bool:
        """Give a batch figure, or take it back with None; with ``show`` the page is shown anew."""
        self.mended.emit("action")
        try:
            self.interview.set_batch(quantity, value)
        except UserError as error:
            self._trouble(
                "action", self.tr("That could not be taken."), self.tr("The figure before is kept."), in_words(error)
            )
            return False
        if show:
            self.changed.emit()
        return True

    def choose_family(self, family: str) -> None:
        """Choose what is being made; a case of another family is let go, to be taken up again later."""
        self._when_read(family, lambda: self._choose_family(family))

    def _choose_family(self, family: str) -> None:
        state, before = self.interview.state, self.case_id
        other = state.family not in (None, family) and _holds_something(state)
        if other:
            self.case_id = self.store.new_id()
        if not self.act(lambda: self.interview.choose_family(family)):
            self.case_id = before
        elif other:
            self._let_go(before, empty=False)

    def say(self, happened: str, kept: str = "", to_do: str = "") -> None:
        """Show that something went wrong."""
        self._trouble("action", happened, kept, to_do)

    def set_settings(self, settings: Settings) -> None:
        """Put settings in force at once and keep them."""
        before, self.settings = self.settings, settings
        if self.session is not None:
            self.session.wording = settings.wording()
            self._tell_profile()
            self.book.heed(self.session, settings)
        try:
            kept_settings.save(settings)
            self.mended.emit("settings")
        except OSError as error:
            happened = self.tr("The settings could not be saved ({0}).").format(error.strerror or error)
            self._trouble("settings", happened, self.tr("They hold until you close the window."))
        if (before.theme, before.text_size) != (settings.theme, settings.text_size):
            self.restyle()
        else:
            self.changed.emit()

    def _tell_profile(self) -> None:
        """Tell the interview what is known of this kitchen."""
        from troubleshoot import profile

        self.interview.known = profile.answers(self.settings)
        self.interview.known_batch = profile.batch(self.settings)

    def restyle(self) -> None:
        """Make the look afresh from the settings and the system."""
        sheet.apply(cast(QApplication, QApplication.instance()), self.settings)
        self.restyled.emit()
        self.changed.emit()

    # -- the case kept on disk ---------------------------------------------------------

    def unfinished(self) -> tuple[SavedCase, ...]:
        """Return the cases of other times that hold something and can be taken up again."""
        try:
            cases = self.store.unfinished()
        except OSError as error:
            self._trouble(
                "cases", self.tr("Unfinished cases cannot be looked for ({0}).").format(error.strerror or error)
            )
            return ()
        for message in self.store.messages:
            self._trouble("cases", message)
        self.store.messages.clear()
        return tuple(case for case in cases if case.id != self.case_id and _holds_something(case.state))

    def take_up(self, case: SavedCase) -> None:
        """Go on with an unfinished case where it was left."""
        family = case.state.family
        if family in (header.id for header in self.interview.shelf.headers):
            self._when_read(str(family), lambda: self._take_up(case))
        else:
            self._take_up(case)

    def _take_up(self, case: SavedCase) -> None:
        if not self.store.claim(case.id):
            self.say(self.tr("That case is open in another window."), self.tr("It was left as it is."))
            self.changed.emit()
            return
        empty = not _holds_something(self.interview.state)
        before, self.case_id = self.case_id, case.id
        if self.act(lambda: self.interview.resume(case.state)):
            self._let_go(before, empty)
        else:
            self.case_id = before
            self.store.release(case.id)

    def open_case(self, state: State) -> bool:
        """Open a case that is written somewhere else; the one in hand is let go, to be taken up again later."""
        empty = not _holds_something(self.interview.state)
        before, self.case_id = self.case_id, self.store.new_id()
        if self.act(lambda: self.interview.resume(state)):
            self._let_go(before, empty)
            return True
        self.case_id = before
        return False

    def forget(self, case: SavedCase) -> None:
        """Throw an unfinished case away."""
        try:
            self.store.discard(case.id)
        except OSError as error:
            self.say(self.tr("The case could not be thrown away ({0}).").format(error.strerror or error))
        self.changed.emit()

    def new_case(self) -> None:
        """Finish this case and begin another; one that came to its verdict goes into the book."""
        state = self.interview.state
        concluded = state.step == VERDICT and _holds_something(state)
        if concluded:
            self.put_in_book()
        in_book = concluded or bool(self.book.put and self.case_id.startswith(self.book.put))
        try:
            self.store.discard(self.case_id, keep_pictures=in_book)
        except OSError:
            self.store.release(self.case_id)
        self.mended.emit("save")
        self.case_id = self.store.new_id()
        self.act(self.interview.restart)

    def put_in_book(self) -> None:
        """Put the case in hand into the case book, or bring it up to date there."""
        self.mended.emit("book")
        self.book.put_in(self.case_id, self.interview, self.settings)

    def _not_in_book(self, why: str) -> None:
        self._trouble("book", self.tr("The case is not in the book yet."), why)

    def close(self) -> None:
        """Let the case go, so that it can be taken up again; one that holds nothing is thrown away."""
        self._let_go(self.case_id, self.session is None or not _holds_something(self.session.state))
        if self._reader is not None:
            self._reader.close()

    def _let_go(self, case_id: str, empty: bool) -> None:
        if empty:
            with contextlib.suppress(OSError):
                self.store.discard(case_id)
        self.store.release(case_id)

    def _save(self, state: State) -> None:
        self.book.begin(self.interview, self.settings)
        try:
            if state.family is not None:
                self.store.claim(self.case_id)
            self.store.save(self.case_id, state)
        except OSError as error:
            happened = self.tr("Not saved, carrying on ({0}).").format(error.strerror or error)
            kept = self.tr("Your answers are kept in this window until you close it.")
            self._trouble(
                "save", happened, kept, self.tr("Free some space, or make {0} writable.").format(self.store.folder)
            )
        else:
            self.mended.emit("save")

    def _trouble(self, key: str, happened: str, kept: str = "", to_do: str = "") -> None:
        self.troubled.emit(Trouble(key, happened, kept, to_do))


def _holds_something(state: State) -> bool:
    return bool(state.fault or state.answers or state.pictures)


def in_words(error: UserError) -> str:
    """Return an error without the place in a file that nobody in a window has written."""
    if isinstance(error, ProblemsError):
        return " ".join(_sentence(problem.wrong) + " " + _sentence(problem.advice) for problem in error.problems)
    return str(error)


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:] + ("" if text.endswith((".", "?")) else ".")
