"""What is known of a batch, and the facts that rules read and conclude."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

#: The answer that says nothing: it is recorded and asserts no fact.
CANT_TELL = "cant-tell"


@dataclass(frozen=True, slots=True)
class Given:
    """One answer as given: the id of an answer (precise or loose), a number in the sign's own unit, or neither.

    Exactly one of ``answer`` and ``value`` is set, unless the person could not tell.
    """

    answer: str | None = None
    value: float | None = None

    @property
    def cant_tell(self) -> bool:
        """Whether the person could not tell."""
        return self.answer is None and self.value is None


@dataclass(frozen=True, slots=True)
class Case:
    """Everything a person has said about one batch.  Numbers are in the units of the rule base.

    ``answers`` keeps the order in which they were given; the reasoning does not depend on it.
    ``asked`` counts the questions the program itself has put, against the most it may put.
    """

    family: str
    fault: str | None = None
    answers: Mapping[str, Given] = field(default_factory=lambda: MappingProxyType({}))
    batch: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))
    service_in_min: float | None = None
    stage: str | None = None
    asked: int = 0


@dataclass(frozen=True, slots=True, order=True)
class Fact:
    """A fact in the working memory: what kind it is, what it is about, and its value if it has one.

    ==========  =================  =====================================
    kind        name               value
    ==========  =================  =====================================
    sign        a sign             an answer
    number      a sign or figure   a number (never a word)
    fault       a fault
    stage       a stage
    finding     a finding
    known_by    a sign             witness or memory
    ruled_out   a cause
    doubted     a cause
    suspect     a cause            possible, likely or leading
    suspect_at  a cause            the number of the stage the batch is at
    remedy      a remedy           (it is on offer)
    barred      a remedy           (it must not be done now)
    caution     a caution
    for         a cause            the sign that speaks for it
    against     a cause            the sign that speaks against it
    ==========  =================  =====================================
    """

    kind: str
    name: str
    value: str | float | None = None

    def __str__(self) -> str:
        return f"{self.kind} {self.name}" if self.value is None else f"{self.kind} {self.name} = {self.value}"


@dataclass(frozen=True, slots=True)
class Pattern:
    """What a condition of a compiled rule matches: one fact, by value or by bounds on its number."""

    kind: str
    name: str
    value: str | None = None
    at_least: float | None = None
    below: float | None = None

    def matches(self, fact: Fact) -> bool:
        """Return whether ``fact`` satisfies this pattern; a plain model of what the engine does."""
        if fact.kind != self.kind or fact.name != self.name:
            return False
        if self.at_least is not None or self.below is not None:
            if not isinstance(fact.value, float):
                return False
            return (self.at_least is None or fact.value >= self.at_least) and (
                self.below is None or fact.value < self.below
            )
        return self.value is None or fact.value == self.value

    def __str__(self) -> str:
        low = "" if self.at_least is None else f" at least {self.at_least:g}"
        high = "" if self.below is None else f" below {self.below:g}"
        return f"{Fact(self.kind, self.name, self.value)}{low}{high}"


@dataclass(frozen=True, slots=True)
class CompiledRule:
    """A rule ready for the engine.  ``id`` is what the trace shows; ``key`` is unique in its ruleset."""

    key: str
    id: str
    patterns: tuple[Pattern, ...]
    concludes: tuple[Fact, ...]
    because: str
    sources: tuple[str, ...]
    authored: bool = False


@dataclass(frozen=True, slots=True)
class Firing:
    """One activation that fired: the rule, the facts that woke it, and what it concluded."""

    rule: str
    because: str
    facts: tuple[Fact, ...]
    concluded: tuple[Fact, ...]
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class NearMiss:
    """An authored rule that some facts woke and one condition stopped: the first that did not hold."""

    rule: str
    held: tuple[Pattern, ...]
    stopped_by: Pattern
