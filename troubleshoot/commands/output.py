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
    """Print data as JSON: the same data, the same bytes, and no character that drives a terminal."""
    print(plain_json(json.dumps(data, indent=2, ensure_ascii=False)))


def plain_json(text: str) -> str:
    """Return JSON with what drives a terminal written as its ASCII escapes; it reads back as the same data."""
    return "".join(ch if ch.isprintable() or ch == "\n" else json.dumps(ch)[1:-1] for ch in text)


def plain_row(text: str) -> str:
    """Return a row of a table with control characters made visible; tabs and the end of the row stay."""
    ended = text.removesuffix("\r\n")
    return "\t".join(plain(part) for part in ended.split("\t")) + text[len(ended) :]


def print_text(text: str = "", indent: str = "", first: str | None = None) -> None:
    """Print a paragraph, wrapped; ``first`` stands before its first line."""
    head = indent if first is None else indent + plain(first)
    rest = " " * len(head)
    print(textwrap.fill(plain(text), WIDTH, initial_indent=head, subsequent_indent=rest) if text else "")


def print_list(items: Iterable[str], indent: str = "  ") -> None:
    """Print items as a numbered list."""
    for number, item in enumerate(items, 1):
        print_text(item, indent, f"{number}. ")
