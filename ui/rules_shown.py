"""What the place of the rule base can be asked to show."""

from __future__ import annotations

from dataclasses import dataclass

#: A complaint's card for the wall, beside the kinds of entry.
CARD = "card"


@dataclass(frozen=True, slots=True)
class Shown:
    """A list of a family's entries, one entry, or one card.  Without a family: the one last looked at.

    ``kind`` is the kind of entry, ``card``, or None for all kinds; ``id`` is empty for a list.
    """

    family: str = ""
    kind: str | None = None
    id: str = ""
    typed: str = ""
