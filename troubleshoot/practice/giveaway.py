"""Whether a text gives a cause away: the words of its name that set it apart from what else it could be."""

from __future__ import annotations

import re
from collections.abc import Iterable

_WORD = re.compile(r"[a-z]+")

#: Shorter words carry grammar, not pastry; longer ones are cut to a stem of as many letters.
SHORTEST = 4

#: Longer words that carry grammar alone.
GRAMMAR = frozenset(
    {
        "also", "before", "after", "than", "that", "then", "they", "this", "with", "were", "went", "when",
        "while", "without", "from", "into", "much", "more", "most", "only", "have", "been", "being", "could",
        "their", "there", "these", "those", "what", "which", "over", "under", "about", "other", "some", "such",
        "very", "will", "your", "does", "because", "though", "through", "during", "again", "still", "just",
        "where", "nothing", "wrong", "something",
    }
)  # fmt: skip


def stems(text: str) -> frozenset[str]:
    """Return the stems of the telling words of a text, so that "turn" meets "turned"."""
    words = _WORD.findall(text.casefold())
    return frozenset(word[:SHORTEST] for word in words if len(word) >= SHORTEST and word not in GRAMMAR)


def distinctive(name: str, others: Iterable[str]) -> frozenset[str]:
    """Return the stems of a cause's name that none of the other causes' names has."""
    return stems(name).difference(*(stems(other) for other in others))


def gives_away(text: str, name: str, others: Iterable[str]) -> bool:
    """Return whether ``text`` holds a cause's name, or a word of it that no other cause in question has."""
    return name.casefold() in text.casefold() or bool(stems(text) & distinctive(name, others))
