"""The rule base read off the event loop: the headers first, then each family when it is wanted, or ahead of time."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

from ui.rules_watch import Background
from ui.sweep import set_aside

if TYPE_CHECKING:
    from troubleshoot.interview.shelf import Shelf


def read_shelf(folder: Path | None) -> Shelf:
    """Open a rules folder.  What reads and reasons is imported here, so that the window can be shown before.

    Raises RuleBaseError when it cannot be read, FileNotFoundError when none is installed.
    """
    import troubleshoot.interview.session  # noqa: F401  the window needs it next
    from troubleshoot.interview.shelf import Shelf

    return Shelf(folder)


class Reader(QObject):
    """Reads on a thread of its own.  What somebody waits for goes before what is read ahead."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._background = Background(self)
        self._ahead: deque[str] = deque()
        self._closed = False

    def open(self, folder: Path | None, then: Callable[[object], None]) -> None:
        """Open a rules folder; ``then`` gets the shelf or the error."""
        self._background.do(partial(read_shelf, folder), then)

    def read(self, shelf: Shelf, family: str, then: Callable[[object], None]) -> None:
        """Read and compile a family; ``then`` gets its reasoner or the error."""
        self._background.do(partial(shelf.reasoner, family), then)

    def read_ahead(self, shelf: Shelf, families: Iterable[str]) -> None:
        """Read families one after another, so that nobody needs to wait for them."""
        self._ahead.extend(families)
        self._next(shelf, None)

    def close(self) -> None:
        """Read nothing more ahead."""
        self._closed = True

    def _next(self, shelf: Shelf, _brought: object) -> None:
        """Go on with the next one; what was wrong with the one before is said when it is chosen."""
        if self._ahead and not self._closed:
            self.read(shelf, self._ahead.popleft(), partial(self._next, shelf))
        else:
            set_aside()
