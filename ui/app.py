"""Start the window."""

from __future__ import annotations

import sys
import traceback
from collections.abc import Sequence
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING, cast

from PySide6.QtWidgets import QApplication

from troubleshoot import settings as kept_settings
from ui.desk import Desk, Trouble
from ui.style import sheet
from ui.sweep import Sweeper
from ui.window import Window

if TYPE_CHECKING:
    from troubleshoot.advice.fault_card import FaultCard

#: How long one thread may keep another waiting, in seconds.
SWITCH_S = 0.0005


def application(argv: Sequence[str] = ()) -> QApplication:
    """Return the one application, made when there is none yet."""
    app = QApplication.instance() or QApplication(["batchmend", *argv])
    app = cast(QApplication, app)
    app.setApplicationName("batchmend")
    app.setApplicationDisplayName("Batchmend")
    return app


def make_window(rules: Path | None = None, wait: bool = True) -> Window:
    """Return the window on the settings as kept, ready to be shown.

    It has the rule base with it, or with ``wait`` off says that it is being read and is shown the sooner.
    """
    app = application()
    loaded = kept_settings.load()
    sheet.apply(app, loaded.settings)
    window = Window(Desk(rules, loaded.settings))
    if wait:
        window.open()
    else:
        window.open_soon()
    if loaded.message:
        window.show_trouble(Trouble("settings", loaded.message))
    app.styleHints().colorSchemeChanged.connect(window.system_changed)
    return window


def save_card(card: FaultCard, path: Path) -> None:
    """Save a fault card as PDF without a window.  Raises OSError when the file cannot be written."""
    from ui import printing  # not before the window is shown: it reaches far into the core

    application()
    printing.save_card(card, path)


def main(rules: Path | None = None, argv: Sequence[str] = ()) -> int:
    """Open the window and stay until it is closed; return the exit code."""
    app = application(argv)
    Sweeper(app)
    window = make_window(rules, wait=False)

    def say(kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
        traceback.print_exception(kind, error, trace, file=sys.stderr)
        window.desk.say(
            app.tr("The program made a mistake ({0}).").format(kind.__name__),
            app.tr("Your answers so far are kept."),
            app.tr("Go on, or close the window and take the case up again. Please report it."),
        )

    sys.excepthook = say
    # While families are read ahead on another thread, the window gets its turn at once when something is pressed.
    sys.setswitchinterval(SWITCH_S)
    window.show()
    return app.exec()
