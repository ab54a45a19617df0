"""What would change a verdict: answers still open that would put another cause first, and given ones it rests on."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from types import MappingProxyType

from troubleshoot.inference import questions
from troubleshoot.inference.conclusion import Conclusion
from troubleshoot.inference.facts import Case, Given
from troubleshoot.inference.reason import Reasoner

#: Answers tried in full, the likeliest first.
MOST_TRIED = 60


@dataclass(frozen=True, slots=True)
class Turn:
    """An answer that would put another cause first: how likely it is to be given, and what would then lead."""

    sign: str
    answer: str
    chance: float
    cause: str
    probability: float


@dataclass(frozen=True, slots=True)
class RestsOn:
    """A given answer without which another cause leads."""

    sign: str
    answer: str
    cause: str
    probability: float


def turns(reasoner: Reasoner, conclusion: Conclusion, wanted: str | None = None) -> tuple[Turn, ...]:
    """Return the open answers after which another cause (``wanted``, when named) leads, likeliest first."""
    first = _first(conclusion)
    found = []
    for chance, sign, answer in sorted(_open_answers(reasoner, conclusion, wanted), reverse=True)[:MOST_TRIED]:
        after = reasoner.reason(_with(conclusion.case, sign, Given(answer=answer)))
        cause, probability = _first(after)
        if cause != first[0] and wanted in (None, cause):
            found.append(Turn(sign, answer, chance, cause, probability))
    return tuple(found)


def rests_on(reasoner: Reasoner, conclusion: Conclusion) -> tuple[RestsOn, ...]:
    """Return the given answers that alone keep the first cause first."""
    first = _first(conclusion)
    found = []
    for sign, given in conclusion.case.answers.items():
        if given.cant_tell:
            continue
        rest = {key: value for key, value in conclusion.case.answers.items() if key != sign}
        cause, probability = _first(reasoner.reason(replace(conclusion.case, answers=MappingProxyType(rest))))
        if cause != first[0]:
            found.append(RestsOn(sign, conclusion.answers.get(sign, ""), cause, probability))
    return tuple(found)


def _open_answers(reasoner: Reasoner, conclusion: Conclusion, wanted: str | None) -> Iterable[tuple[float, str, str]]:
    """Yield (chance, sign, answer) of the open answers that by the ranking alone would put another cause first."""
    first = _first(conclusion)[0]
    network, posterior = reasoner.network, conclusion.standing.posterior
    for candidate in reasoner.candidates(conclusion.case, conclusion.stage, conclusion.answers):
        after = questions.parts(network, posterior, candidate.sign, candidate.from_memory)
        for answer, (chance, causes) in after.items():
            leader = network.causes[int(causes.argmax())]
            ruled_out = first in network.causes and answer in reasoner.family.causes[first].ruled_out_by.get(
                candidate.sign, ()
            )
            if (leader != first and wanted in (None, leader)) or ruled_out:
                yield round(chance, 9), candidate.sign, answer


def _with(case: Case, sign: str, given: Given) -> Case:
    return replace(case, answers=MappingProxyType({**case.answers, sign: given}))


def _first(conclusion: Conclusion) -> tuple[str, float]:
    if not conclusion.suspects:
        return "", 0.0
    return conclusion.suspects[0].cause, conclusion.suspects[0].probability
