"""Words that the rule base keeps for one meaning."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, slots=True)
class KeptWord:
    """A word kept for one meaning, the words not to write for it, and the families it holds for (none: all)."""

    word: str
    means: str
    instead_of: tuple[str, ...]
    families: tuple[str, ...] = ()


def kept_words(data: Mapping[str, Any]) -> tuple[KeptWord, ...]:
    """Build the kept words of the vocabulary."""
    return tuple(
        KeptWord(word, entry["means"], tuple(entry["instead_of"]), tuple(entry.get("families", ())))
        for word, entry in data.items()
    )
