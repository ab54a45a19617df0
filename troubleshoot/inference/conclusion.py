"""What follows from a case, frozen: suspects, advice, the next question, and how it came about."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from troubleshoot.inference.facts import Case, Firing
from troubleshoot.inference.questions import Worth
from troubleshoot.inference.ranking import Evidence, Standing
from troubleshoot.inference.stopping import Stop


@dataclass(frozen=True, slots=True)
class Suspect:
    """A cause with the probability that it is at work in this batch."""

    cause: str
    probability: float


@dataclass(frozen=True, slots=True)
class Clash:
    """Answers that do not go together: the weakest first, the one to check again."""

    signs: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Conclusion:
    """What follows from a case.

    ``suspects`` are best first and hold every cause not ruled out; ``ruled_out`` maps
    a cause to the rule that removed it; ``answers`` holds the precise or loose answer
    of every sign that is known, given or derived; ``next_question`` is None when ``stop``
    says why asking ends.
    """

    case: Case
    suspects: tuple[Suspect, ...]
    unlisted: float
    settled: str | None
    ruled_out: Mapping[str, str]
    doubted: Mapping[str, str]
    answers: Mapping[str, str]
    numbers: Mapping[str, float]
    from_memory: frozenset[str]
    findings: tuple[str, ...]
    remedies: tuple[str, ...]
    barred: Mapping[str, str]
    cautions: tuple[str, ...]
    stage: str | None
    next_question: Worth | None
    stop: Stop | None
    clash: Clash | None
    trace: tuple[Firing, ...]
    standing: Standing
    evidence: tuple[Evidence, ...]

    def probability(self, cause: str) -> float:
        """Return the probability of a cause; 0 when it is ruled out."""
        return next((s.probability for s in self.suspects if s.cause == cause), 0.0)
