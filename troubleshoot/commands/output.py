"""Output of the commands: JSON in one form, and terminal text without control characters."""

from __future__ import annotations

import json
import textwrap
from collections.abc import Iterable
from typing import Any

from troubleshoot.problems import plain as plain

#: Lines are at most this long, as on a printed card.
WIDTH = 78


def print_json(data: Any) -> None:
    """Print data as JSON: the same data, the same bytes."""
    print(json.dumps(data, indent=2, ensure_ascii=False))


def print_text(text: str = "", indent: str = "", first: str | None = None) -> None:
    """Print a paragraph, wrapped; ``first`` stands before its first line."""
    head = indent if first is None else indent + first
    rest = " " * len(head)
    print(textwrap.fill(plain(text), WIDTH, initial_indent=head, subsequent_indent=rest) if text else "")


def print_list(items: Iterable[str], indent: str = "  ") -> None:
    """Print items as a numbered list."""
    for number, item in enumerate(items, 1):
        print_text(item, indent, f"{number}. ")
