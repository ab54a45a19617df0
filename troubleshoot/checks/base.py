"""What a check is: one small class that reads a family and yields findings."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Protocol

from troubleshoot.knowledge.model import Family, RuleBase
from troubleshoot.problems import Problem

ERROR, WARNING = "error", "warning"


@dataclass(frozen=True, slots=True, order=True)
class Finding:
    """What a check found: where, how bad, what is wrong and what to write."""

    problem: Problem
    check: str
    severity: str

    def __str__(self) -> str:
        return f"{self.problem} [{self.check}]"


class Check(Protocol):
    """A check of one family.  ``id`` is shown behind its findings; ``about`` says what it demands."""

    id: str
    severity: str
    about: str

    def problems(self, family: Family, rulebase: RuleBase) -> Iterator[Problem]:
        """Yield every problem of this kind in the family."""
        ...


class WholeCheck(Protocol):
    """A check of what all families share; it needs every family read."""

    id: str
    severity: str
    about: str

    def problems(self, rulebase: RuleBase) -> Iterator[Problem]:
        """Yield every problem of this kind in the rule base."""
        ...
