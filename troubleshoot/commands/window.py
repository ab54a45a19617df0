"""``batchmend`` alone: the window, or the same interview in the terminal where there is no display."""

from __future__ import annotations

import os
import sys
from pathlib import Path

from troubleshoot.commands import ask


def run(rules: Path) -> int:
    """Open the window; with no display, say so and interview in the terminal."""
    if not has_display():
        print("There is no display here, so the interview is held in the terminal.")
        return ask.interview(rules, None)
    from ui.app import main

    return main(rules)


def has_display() -> bool:
    """Return whether a window could be opened."""
    if sys.platform in ("win32", "darwin") or os.environ.get("QT_QPA_PLATFORM"):
        return True
    return bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))
