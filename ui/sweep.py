"""What is no longer used is swept up on the window's thread, and on no other."""

from __future__ import annotations

import gc

from PySide6.QtCore import QCoreApplication, QObject, QTimer

#: The pause between two looks at whether there is something to sweep up.
PAUSE_MS = 250


def set_aside() -> None:
    """Look through what is alive now no more: to go through the rules of all families takes a third of a second.

    They are there until the program ends, or go by themselves when other rules take their place.
    """
    gc.freeze()


class Sweeper(QObject):
    """Takes over the collection of cycles for as long as the application lives.

    Python collects on whichever thread happens to make the next object.  A page that was put away and lies in a cycle
    would then be destroyed by a thread that reads rules, while the window's thread paints: Qt ends the process on that.
    """

    def __init__(self, application: QCoreApplication) -> None:
        super().__init__(application)
        gc.disable()
        self._timer = QTimer(self)
        self._timer.setInterval(PAUSE_MS)
        self._timer.timeout.connect(self.sweep)
        self._timer.start()

    def sweep(self) -> None:
        """Collect the oldest generation that is due by Python's own thresholds."""
        for generation in (2, 1, 0):
            if gc.get_count()[generation] > gc.get_threshold()[generation]:
                gc.collect(generation)
                return
