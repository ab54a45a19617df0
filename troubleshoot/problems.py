"""A problem with its place: what is wrong, and what to write instead."""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from dataclasses import dataclass


def plain(text: str) -> str:
    """Return text with control characters made visible, so that no file or file name can drive the terminal."""
    return "".join(ch if ch.isprintable() or ch == "\n" else f"\\x{ord(ch):02x}" for ch in text)


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """Where something stands in a file; line and column count from 1."""

    file: str
    line: int = 1
    column: int = 1

    def __str__(self) -> str:
        return f"{plain(self.file)}:{self.line}:{self.column}"


@dataclass(frozen=True, slots=True, order=True)
class Problem:
    """One thing wrong, printed as ``file:line:column: id: what is wrong; what to write``."""

    place: Place
    subject: str
    wrong: str
    advice: str

    def __str__(self) -> str:
        return f"{self.place}: {plain(f'{self.subject}: {self.wrong}; {self.advice}')}"


def nearest(word: str, known: Iterable[str]) -> str | None:
    """Return the known name nearest to ``word``, or None when nothing is near."""
    found = difflib.get_close_matches(word, list(known), n=1, cutoff=0.6)
    return found[0] if found else None


def choose_from(word: str, known: Iterable[str], most: int = 8) -> str:
    """Return advice for an unknown name: the nearest known one, or the choices."""
    names = sorted(known)
    near = nearest(word, names)
    if near is not None:
        return f"did you mean '{near}'?"
    if not names:
        return "nothing can stand here"
    shown = ", ".join(names[:most])
    return f"write one of: {shown}" + (", …" if len(names) > most else "")
