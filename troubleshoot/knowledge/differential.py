"""What an answer speaks for and against, told from the answer."""

from __future__ import annotations

from dataclasses import dataclass

from troubleshoot.knowledge.rule import NOWHERE
from troubleshoot.problems import Place


@dataclass(frozen=True, slots=True)
class Differential:
    """What one answer speaks for and against and what it excludes, written from the answer and not from the causes.

    It is a second opinion on the strengths: ``checks/differential.py`` holds the two against each other.
    """

    sign: str
    answer: str
    points_to: tuple[str, ...] = ()
    fits: tuple[str, ...] = ()
    speaks_against: tuple[str, ...] = ()
    excludes: tuple[str, ...] = ()
    place: Place = NOWHERE

    @property
    def graded(self) -> tuple[tuple[str, int, str], ...]:
        """Every cause that it names: the grade, by the word of the file, the place in its list, and the cause."""
        grades = {
            "points_to": self.points_to,
            "fits": self.fits,
            "speaks_against": self.speaks_against,
            "excludes": self.excludes,
        }
        return tuple((grade, index, cause) for grade, causes in grades.items() for index, cause in enumerate(causes))
