"""The interview measured on itself: batches drawn from the rule base, asked as a person would be.

This tests the table against itself (the levels are taken as true and the signs as
independent).  It says how far the questions can part the causes, not whether the
levels are right; for that see the published cases under ``tests/published``.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from types import MappingProxyType

import numpy as np

from troubleshoot.inference.conclusion import Conclusion
from troubleshoot.inference.facts import Case, Given
from troubleshoot.inference.network import COMPLAINT, Array, Node
from troubleshoot.inference.reason import Reasoner

BINS = 10


@dataclass(frozen=True, slots=True)
class Batch:
    """A drawn batch: the hidden cause, the complaint made, and what each sign would show."""

    cause: str
    complaint: str
    shows: dict[str, str]


@dataclass(frozen=True, slots=True)
class CauseResult:
    """How one cause fared over its batches, and the rivals that came first instead."""

    cause: str
    batches: int
    first: int
    in_three: int
    rivals: tuple[tuple[str, int], ...]


@dataclass(slots=True)
class Measurement:
    """The whole measurement: by cause, the questions put, and for each batch what was stated and if it was right."""

    family: str
    causes: list[CauseResult] = field(default_factory=list)
    questions: list[int] = field(default_factory=list)
    stated: list[float] = field(default_factory=list)
    right: list[bool] = field(default_factory=list)
    weight: list[float] = field(default_factory=list)

    @property
    def first_share(self) -> float:
        """Share of batches whose cause came first."""
        return sum(c.first for c in self.causes) / max(1, sum(c.batches for c in self.causes))

    @property
    def three_share(self) -> float:
        """Share of batches whose cause was in the first three."""
        return sum(c.in_three for c in self.causes) / max(1, sum(c.batches for c in self.causes))

    @property
    def mean_questions(self) -> float:
        """Questions asked on average."""
        return float(np.mean(self.questions)) if self.questions else 0.0

    def bins(self) -> list[tuple[float, float, int]]:
        """Return (mean stated probability, share right, count) of the first cause by tenths.

        Every cause has the same number of batches, so each batch counts here as its cause is common.
        """
        stated, right = np.asarray(self.stated), np.asarray(self.right, dtype=np.float64)
        weight = np.asarray(self.weight)
        which = np.minimum((stated * BINS).astype(int), BINS - 1)
        found = []
        for tenth in range(BINS):
            inside = which == tenth
            if inside.any():
                mean, share = (float(np.average(x[inside], weights=weight[inside])) for x in (stated, right))
                found.append((mean, share, int(inside.sum())))
        return found


def measure(reasoner: Reasoner, batches: int, seed: int, causes: Sequence[str] | None = None) -> Measurement:
    """Interview ``batches`` drawn batches of each cause; the same seed gives the same figures."""
    result = Measurement(reasoner.family.id)
    for cause in causes if causes is not None else reasoner.network.causes:
        number = reasoner.network.causes.index(cause)
        how_common = reasoner.vocabulary.how_common[reasoner.family.causes[cause].how_common]
        rng = np.random.default_rng([seed, number])
        first = three = 0
        rivals: Counter[str] = Counter()
        for _ in range(batches):
            conclusion, asked = interview(reasoner, draw(reasoner, cause, rng))
            order = [suspect.cause for suspect in conclusion.suspects]
            first += order[:1] == [cause]
            three += cause in order[:3]
            if order[:1] != [cause]:
                rivals[order[0] if order else "nothing"] += 1
            result.questions.append(asked)
            if order:
                result.stated.append(conclusion.suspects[0].probability)
                result.right.append(order[0] == cause)
                result.weight.append(how_common)
        result.causes.append(CauseResult(cause, batches, first, three, tuple(rivals.most_common(3))))
    return result


def draw(reasoner: Reasoner, cause: str, rng: np.random.Generator) -> Batch:
    """Draw a batch in which exactly ``cause`` is at work, with the slips that people make in reporting."""
    network = reasoner.network
    column = 1 + network.causes.index(cause)

    def of(node: str, table: Array) -> str:
        return pick(network.nodes[node], table[network.rows[node]][:, column], rng)

    complaint = of(COMPLAINT, network.likelihood)
    stage = reasoner.family.faults[complaint].stage
    shows = {}
    for sign in reasoner.family.signs.values():
        memory = reasoner.is_memory(sign, stage)
        shows[sign.id] = of(sign.id, network.remembered if memory else network.likelihood)
    return Batch(cause, complaint, shows)


def pick(node: Node, chances: Array, rng: np.random.Generator) -> str:
    """Draw one answer of a sign; ``chances`` (answers,) need not add up to one."""
    return node.answers[int(rng.choice(len(chances), p=chances / chances.sum()))]


def interview(reasoner: Reasoner, batch: Batch) -> tuple[Conclusion, int]:
    """Ask until asking stops; the person names the complaint and answers only what is asked."""
    conclusion = list(walk(reasoner, Case(reasoner.family.id, batch.complaint), batch.shows))[-1]
    return conclusion, conclusion.case.asked


def walk(reasoner: Reasoner, case: Case, shows: Mapping[str, str]) -> Iterator[Conclusion]:
    """Yield what follows from ``case``, then from each answer in turn, the best question asked until asking stops."""
    conclusion = reasoner.reason(case)
    yield conclusion
    while conclusion.next_question is not None:
        sign = conclusion.next_question.sign
        answers = MappingProxyType({**case.answers, sign: Given(answer=shows[sign])})
        case = replace(case, answers=answers, asked=case.asked + 1)
        conclusion = reasoner.reason(case)
        yield conclusion
