"""Long work beside the event loop: told how far it is, stopped when asked, and never left running."""

from __future__ import annotations

import atexit
from collections.abc import Callable, Iterator

from PySide6.QtCore import QCoreApplication, QThread, Signal
from PySide6.QtWidgets import QWidget

from ui.style import tokens
from ui.widgets.basic import Button, Panel, Text
from ui.widgets.layouts import WrapRow
from ui.widgets.measures import Bar

#: Jobs that have not ended; a thread must not be let go while it runs.
_running: set[Job] = set()


@atexit.register
def _end_all() -> None:
    """End what still runs when the interpreter ends without the application having been told to quit."""
    for job in tuple(_running):
        job.end()


class Job(QThread):
    """Work that yields one thing after another.

    ``progressed`` carries how many there are; ``done`` the list of all; ``failed`` the error;
    ``stopped`` that it was stopped, with nothing kept.
    """

    progressed = Signal(int)
    done = Signal(object)
    failed = Signal(object)
    stopped = Signal()

    def __init__(self, work: Callable[[], Iterator[object]], of: int) -> None:
        super().__init__()
        self.of = of
        self._work = work
        self.finished.connect(self._let_go)
        app = QCoreApplication.instance()
        if app is not None:
            app.aboutToQuit.connect(self.end)

    def begin(self) -> None:
        """Begin the work."""
        _running.add(self)
        self.start(QThread.Priority.LowPriority)

    def stop(self) -> None:
        """Let the work go: ``stopped`` is told at once, and the thread ends after the thing it is at."""
        self.requestInterruption()
        self.stopped.emit()

    def end(self) -> None:
        """Stop without a word, and come back when the thread has ended."""
        self.requestInterruption()
        self.wait()

    def run(self) -> None:
        """Do the work (in the thread)."""
        made: list[object] = []
        try:
            for one in self._work():
                if self.isInterruptionRequested():
                    return
                made.append(one)
                self.progressed.emit(len(made))
        except Exception as error:  # a mistake of the program, too, is told where it can be shown
            if not self.isInterruptionRequested():
                self.failed.emit(error)
            return
        self.done.emit(made)

    def _let_go(self) -> None:
        _running.discard(self)


class ProgressPanel(Panel):
    """How far a job is, in words and as a bar, and a button that stops it."""

    def __init__(self, job: Job, words: str, parent: QWidget | None = None) -> None:
        super().__init__("notice", parent)
        self.job = job
        self.setAccessibleName(words)
        self.said = Text("")
        self.bar = Bar(0.0, "accent")
        self.bar.setMinimumWidth(tokens.FIELD_WIDTH)
        self.stop = Button(self.tr("Stop"), name=self.tr("Stop: {0}").format(words))
        self.stop.clicked.connect(job.stop)
        self.add(Text(words, "strong"), self.said, self.bar, WrapRow(self.stop))
        job.progressed.connect(self.show_progress)
        self.show_progress(0)

    def show_progress(self, made: int) -> None:
        """Show how far it is."""
        if self.job.of > 1:
            self.said.setText(self.tr("{0} of {1}").format(made, self.job.of))
        else:
            self.said.setText(self.tr("This takes a moment."))
            self.bar.hide()
        self.bar.share = made / max(1, self.job.of)
        self.bar.update()
