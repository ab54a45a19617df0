"""What the ranking learns of a kitchen: read from the book, heeded when the settings and the counts allow it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

from troubleshoot.casebook import opening
from troubleshoot.casebook.errors import BookError
from troubleshoot.casebook.filters import Filter
from troubleshoot.casebook.store import Book
from troubleshoot.inference.habits import Habits, learn
from troubleshoot.inference.reason import Reasoner
from troubleshoot.settings import Settings


@dataclass(frozen=True, slots=True)
class Learnt:
    """The habits of one family in one kitchen, and whether there are enough confirmed cases for them to count."""

    habits: Habits
    needed: int

    @property
    def enough(self) -> bool:
        """Whether so many cases were confirmed that the habits count."""
        return self.habits.confirmed >= self.needed

    @property
    def missing(self) -> int:
        """How many confirmed cases are still missing."""
        return max(0, self.needed - self.habits.confirmed)


def learnt(book: Book, reasoner: Reasoner, kitchen: str | None = None, invented: bool | None = False) -> Learnt:
    """Return what a book tells of how common the causes of a reasoner's family are.

    ``kitchen`` counts only that kitchen's cases (None: all).  Invented cases are left out unless ``invented`` is None
    (all cases) or True (only those).  Raises BookError when the book cannot be read.
    """
    return _learnt(reasoner, _counts(book, reasoner.family.id, kitchen, invented))


class Heed:
    """Makes reasoners heed a kitchen: read from the book once, then used for any number of cases."""

    def __init__(self, counts: Mapping[str, Mapping[str, int]]) -> None:
        """``counts`` says for each family how often each cause was confirmed."""
        self._counts = counts
        self._made: dict[str, tuple[Reasoner, Reasoner]] = {}

    def __call__(self, reasoner: Reasoner) -> Reasoner:
        """Return a reasoner that heeds the kitchen; the same one while too few cases are confirmed in its family."""
        family = reasoner.family.id
        made = self._made.get(family)
        if made is None or made[0] is not reasoner:
            found = _learnt(reasoner, self._counts.get(family, {}))
            made = (reasoner, reasoner.heeding(found.habits) if found.enough else reasoner)
            self._made[family] = made
        return made[1]


def heed(book: Book, families: Iterable[str], kitchen: str | None = None) -> Heed:
    """Read what a book tells of some families.  Raises BookError when it cannot be read."""
    return Heed({family: _counts(book, family, kitchen, False) for family in families})


def of_kitchen(families: Iterable[str], settings: Settings) -> Heed | None:
    """Return what the kitchen's own book tells; None while there is none, it cannot be read, or it is not to be heeded.

    A named kitchen is told by its own cases, one without a name by all in the book.
    """
    try:
        where = opening.place(None)
        if not settings.learn or (isinstance(where, Path) and not where.exists()):
            return None
        with Book.open() as book:
            return heed(book, families, settings.kitchen or None)
    except BookError:
        # Its own commands and its place say what is wrong; an interview goes on without it.
        return None


def _counts(book: Book, family: str, kitchen: str | None, invented: bool | None) -> dict[str, int]:
    return book.confirmed_counts(Filter(family=family, kitchen=kitchen, invented=invented))


def _learnt(reasoner: Reasoner, counts: Mapping[str, int]) -> Learnt:
    family, vocabulary = reasoner.family, reasoner.vocabulary
    common = {cause: vocabulary.how_common[family.causes[cause].how_common] for cause in family.causes}
    return Learnt(learn(family.id, common, counts, vocabulary.how_common_cases), vocabulary.habit_from)
