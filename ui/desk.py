"""What the window works on: the rule base, the interview, the case kept on disk, the settings.

Pages act through ``Desk.act`` alone.  It turns every error of the user's world into
something to show, so that no page needs to handle one.
"""

from __future__ import annotations

import contextlib
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import cast

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtWidgets import QApplication

from troubleshoot import profile
from troubleshoot import settings as kept_settings
from troubleshoot.errors import ProblemsError, RuleBaseError, UserError
from troubleshoot.interview.session import Session
from troubleshoot.interview.shelf import Shelf
from troubleshoot.interview.state import State
from troubleshoot.interview.store import CaseStore, SavedCase
from troubleshoot.problems import Problem
from troubleshoot.settings import Settings
from ui.style import sheet


@dataclass(frozen=True, slots=True)
class Trouble:
    """Something went wrong: what happened, what was kept, what to do.  One of each ``key`` is shown."""

    key: str
    happened: str
    kept: str = ""
    to_do: str = ""


class Desk(QObject):
    """The state behind the window.  ``changed`` asks for the page to be shown anew."""

    changed = Signal()
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
        self.problems: tuple[Problem, ...] = ()

    # -- the rule base -----------------------------------------------------------------

    def open(self) -> None:
        """Read the rule base; what is wrong with it is kept in ``problems``."""
        self.problems = ()
        try:
            self.session = Session(Shelf(self.rules), self.settings.wording(), self._save)
            self._tell_profile()
        except RuleBaseError as error:
            self.session = None
            self.problems = error.problems
        except FileNotFoundError as error:
            self.session = None
            self._trouble("install", str(error), self.tr("Nothing was changed."), self.tr("Install the program again."))

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

    def forget(self, case: SavedCase) -> None:
        """Throw an unfinished case away."""
        try:
            self.store.discard(case.id)
        except OSError as error:
            self.say(self.tr("The case could not be thrown away ({0}).").format(error.strerror or error))
        self.changed.emit()

    def new_case(self) -> None:
        """Finish this case and begin another."""
        try:
            self.store.discard(self.case_id)
        except OSError:
            self.store.release(self.case_id)
        self.mended.emit("save")
        self.case_id = self.store.new_id()
        self.act(self.interview.restart)

    def close(self) -> None:
        """Let the case go, so that it can be taken up again; one that holds nothing is thrown away."""
        self._let_go(self.case_id, self.session is None or not _holds_something(self.session.state))

    def _let_go(self, case_id: str, empty: bool) -> None:
        if empty:
            with contextlib.suppress(OSError):
                self.store.discard(case_id)
        self.store.release(case_id)

    def _save(self, state: State) -> None:
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
    return bool(state.fault or state.answers)


def in_words(error: UserError) -> str:
    """Return an error without the place in a file that nobody in a window has written."""
    if isinstance(error, ProblemsError):
        return " ".join(_sentence(problem.wrong) + " " + _sentence(problem.advice) for problem in error.problems)
    return str(error)


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:] + ("" if text.endswith((".", "?")) else ".")
