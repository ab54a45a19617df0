"""Text that is safe in a spreadsheet: whoever opens a table runs nothing that somebody else wrote."""

from __future__ import annotations

import re

#: A cell that begins so is a formula, or becomes one when a spreadsheet has stripped what stands before it.
_FORMULA = re.compile(r"[\s'\"]*[=+\-@|＝＋－＠]|[\t\r\n]")


def cell(text: str) -> str:
    """Return a cell's text; an apostrophe before what a spreadsheet would take for a formula makes it text."""
    return f"'{text}" if _FORMULA.match(text) else text
