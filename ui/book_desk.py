"""What the window does with the case book: finished cases go in, past ones come out, and the ranking learns from it.

All of it happens on a thread of its own: a book on a slow disk or a far server never holds the window up, and one that
cannot be opened never stops an interview.  The database is loaded when it is first wanted.
"""

from __future__ import annotations

import contextlib
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime
from functools import partial
from typing import TYPE_CHECKING, cast

from PySide6.QtCore import QCoreApplication, QObject, Signal

from ui.rules_watch import Background

if TYPE_CHECKING:
    from troubleshoot.casebook.entry import Kept
    from troubleshoot.casebook.habits import Heed
    from troubleshoot.casebook.record import Record
    from troubleshoot.casebook.shown import NearLine
    from troubleshoot.casebook.store import Book
    from troubleshoot.interview.session import Session
    from troubleshoot.settings import Settings

#: Characters of a case's id: enough that no two kitchens make the same, few enough to be typed.
ID_CHARACTERS = 16


def translate(phrase: str) -> str:
    """Return a phrase of the core in the window's language."""
    return QCoreApplication.translate("Casebook", phrase)


class BookDesk(QObject):
    """The case book behind the window.

    ``changed`` says that cases of the book changed; ``troubled`` carries why a case could not be put in.
    """

    changed = Signal()
    troubled = Signal(str)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        #: Whether the place of the book shows the demo book.
        self.demo = False
        #: The last case that was put in, by the id it has in the book.
        self.put = ""
        self._background = Background(self)
        self._heed: Heed | None = None
        self._asked_for_habits = False

    @property
    def busy(self) -> bool:
        """Whether something is still being read or written."""
        return self._background.busy

    def do(self, job: Callable[[], object], then: Callable[[object], None]) -> None:
        """Do something with the book off the event loop; ``then`` gets what it brought, or its error."""
        self._background.do(job, then)

    def open_shown(self) -> Book:
        """Open the book that is on show.  For the thread of the book; raises BookError."""
        from troubleshoot.casebook import demo, entry
        from troubleshoot.casebook.errors import BookError
        from troubleshoot.casebook.store import Book

        if self.demo:
            return Book.open(demo.place())
        book = Book.open()
        with contextlib.suppress(BookError):
            entry.take_in_waiting(book)
        return book

    # -- a case goes in ----------------------------------------------------------------

    def begin(self, session: Session, settings: Settings) -> None:
        """Let a new case begin by what the book has taught."""
        state = session.state
        if state.family is not None and not self._asked_for_habits:
            self._asked_for_habits = True
            self.learn(session, settings)
        if not state.answers:
            self.heed(session, settings)

    def put_in(self, case_id: str, session: Session, settings: Settings) -> Record:
        """Put the case in hand into the book, or bring it up to date there, and return it.

        It is on the disk when this returns; the book follows.
        """
        from troubleshoot import atomic
        from troubleshoot.casebook import entry
        from troubleshoot.casebook.lines import to_line

        record = record_in_hand(case_id, session, settings)
        with contextlib.suppress(OSError):
            # Where it cannot be kept, the book may still take it, and says so where it cannot.
            atomic.write_text(entry.waiting_folder() / f"{record.id}.json", to_line(record) + "\n")
        self.put = record.id
        self.do(partial(entry.keep, record), self._kept)
        return record

    def _kept(self, brought: object) -> None:
        if isinstance(brought, Exception):
            raise brought
        kept = cast("Kept", brought)
        if kept.message is not None:
            self.troubled.emit(kept.message)
        self.changed.emit()

    # -- what the book teaches ---------------------------------------------------------

    def learn(self, session: Session, settings: Settings) -> None:
        """Read what was confirmed in this kitchen."""
        families = [header.id for header in session.shelf.headers]
        self.do(partial(_habits, families, settings), partial(self._learnt, session, settings))

    def _learnt(self, session: Session, settings: Settings, brought: object) -> None:
        if isinstance(brought, Exception):
            raise brought
        self._heed = cast("Heed | None", brought)
        if not session.state.answers:
            self.heed(session, settings)

    def heed(self, session: Session, settings: Settings) -> None:
        """Let the interview heed what was learnt, or leave it to the rule base, as the settings say."""
        session.heed = self._heed if settings.learn else None

    # -- seen before -------------------------------------------------------------------

    def seen(self, case_id: str, session: Session, settings: Settings, then: Callable[[object], None]) -> None:
        """Look for past cases like the one in hand; ``then`` gets their lines, or the error."""
        record = record_in_hand(case_id, session, settings)
        reasoner = session.reasoner

        def look() -> tuple[NearLine, ...]:
            from troubleshoot.casebook.names import Names
            from troubleshoot.casebook.nearest import answers_of, nearest
            from troubleshoot.casebook.shown import near_line
            from troubleshoot.casebook.store import Book

            names = Names(session.shelf)
            with Book.open() as book:
                answers = answers_of(reasoner.family, record)
                found = nearest(book, reasoner.family, reasoner.network, answers, but=record.id)
            return tuple(near_line(one, names, translate) for one in found)

        self.do(look, then)


def record_in_hand(case_id: str, session: Session, settings: Settings) -> Record:
    """Return the case in hand as it goes into the book."""
    from troubleshoot.casebook.concluded import record_of

    now = datetime.now(UTC)
    state = session.state
    return record_of(
        session.conclusion,
        case_id[:ID_CHARACTERS],
        state.begun or now,
        now,
        session.rules_version,
        state.times,
        state.pictures,
        settings.kitchen,
        settings.role,
    )


def _habits(families: list[str], settings: Settings) -> Heed | None:
    from troubleshoot.casebook.habits import of_kitchen

    return of_kitchen(families, replace(settings, learn=True))
