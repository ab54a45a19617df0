"""``batchmend`` alone: the window, or the same interview in the terminal where there is no display."""

from __future__ import annotations

import os
import sys
from pathlib import Path

from troubleshoot.advice.fault_card import FaultCard
from troubleshoot.commands import ask
from troubleshoot.errors import UserError


def run(rules: Path) -> int:
    """Open the window; with no display, say so and interview in the terminal."""
    if not has_display():
        print("There is no display here, so the interview is held in the terminal.")
        return ask.interview(rules, None)
    from ui.app import main

    return main(rules)


def save_card(card: FaultCard, path: Path) -> None:
    """Write a fault card as PDF, with or without a display.  Raises UserError without Qt, OSError when it cannot."""
    if not has_display():
        os.environ["QT_QPA_PLATFORM"] = "offscreen"
    try:
        from ui.app import save_card as save
    except ImportError as error:
        raise UserError(f"a PDF needs Qt, and it cannot be used here ({error}); leave --pdf out for text") from error
    save(card, path)


def has_display() -> bool:
    """Return whether a window could be opened."""
    if sys.platform in ("win32", "darwin") or os.environ.get("QT_QPA_PLATFORM"):
        return True
    return bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))
