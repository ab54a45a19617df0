"""The rule files, watched while the window is open and read off the event loop."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

from PySide6.QtCore import QFileSystemWatcher, QObject, QTimer, Signal

#: A save comes as several changes (emptied, written, renamed); the files are read this long after the last of them.
PAUSE_MS = 20

Job = Callable[[], object]
Then = Callable[[object], None]


class _Courier(QObject):
    """Carries what a job brought from its thread to the window's.  It belongs to no widget, so it outlives them."""

    brought = Signal(object, object)


class Background(QObject):
    """Does one job after another on a thread of its own and hands on what each brings.

    A job that raises brings its exception.
    """

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._courier = _Courier()
        self._courier.brought.connect(self._hand_on)
        self._thread = ThreadPoolExecutor(1, "rules")
        self._open = 0

    @property
    def busy(self) -> bool:
        """Whether a job is not done yet."""
        return self._open > 0

    def do(self, job: Job, then: Then) -> None:
        """Do a job; ``then`` gets what it brought, on the window's thread."""
        self._open += 1
        courier = self._courier

        def work() -> None:
            try:
                brought: object = job()
            except Exception as error:
                brought = error
            courier.brought.emit(then, brought)

        self._thread.submit(work)

    def _hand_on(self, then: Then, brought: object) -> None:
        self._open -= 1
        then(brought)


class RulesWatch(QObject):
    """Says when rule files change.  Editors that put a new file in the place of the old one are followed too."""

    changed = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._watcher = QFileSystemWatcher(self)
        self._watcher.fileChanged.connect(self._noticed)
        self._watcher.directoryChanged.connect(self._noticed)
        self._pause = QTimer(self)
        self._pause.setSingleShot(True)
        self._pause.setInterval(PAUSE_MS)
        self._pause.timeout.connect(self._say)
        self._folder: Path | None = None
        self._families: tuple[str, ...] = ()
        #: Whether the system watches all that it was asked to; if not, the files must be read again by hand.
        self.complete = True

    def watch(self, folder: Path, families: Iterable[str]) -> None:
        """Watch what some families are read from, and no longer what was watched before."""
        self._folder, self._families = folder, tuple(families)
        wanted = self._wanted()
        watched = {*self._watcher.files(), *self._watcher.directories()}
        if watched - wanted:
            self._watcher.removePaths(sorted(watched - wanted))
        missing = sorted(wanted - watched)
        self.complete = not missing or not self._watcher.addPaths(missing)

    def _wanted(self) -> set[str]:
        assert self._folder is not None
        tops = [self._folder / name for name in ("common", *self._families)]
        folders = [self._folder, *tops, *(sub for top in tops for sub in top.glob("*"))]
        folders = [folder for folder in folders if folder.is_dir()]
        return {str(path) for folder in folders for path in (folder, *folder.glob("*.yaml"))}

    def _noticed(self, _path: str) -> None:
        self._pause.start()

    def _say(self) -> None:
        if self._folder is not None:
            # A file that was replaced is watched no longer: its name now stands for another file.
            self.watch(self._folder, self._families)
        self.changed.emit()
