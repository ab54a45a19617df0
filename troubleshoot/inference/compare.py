"""What a change of the rule base does: cases that come out otherwise, and causes easier or harder to tell."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from troubleshoot.inference.conclusion import Conclusion
from troubleshoot.inference.examples import case_of
from troubleshoot.inference.facts import Case
from troubleshoot.inference.identify import identify
from troubleshoot.inference.reason import Reasoner
from troubleshoot.knowledge.model import Family
from troubleshoot.problems import Place

#: A cause moves when its share of first places changes by this much.
LEAST_MOVE = 0.02


@dataclass(frozen=True, slots=True)
class Outcome:
    """How a case comes out: the first cause, how probable it is, and whether that settles it."""

    cause: str
    probability: float
    settled: bool


@dataclass(frozen=True, slots=True)
class Changed:
    """A case whose first cause differs, or that is now settled and was not, or the other way round."""

    name: str
    place: Place
    before: Outcome
    after: Outcome


@dataclass(frozen=True, slots=True)
class Moved:
    """A cause and its share of first places before and after; None where it does not exist."""

    cause: str
    before: float | None
    after: float | None


def outcome(conclusion: Conclusion) -> Outcome:
    """Return how a case came out."""
    if not conclusion.suspects:
        return Outcome("nothing", 0.0, False)
    first = conclusion.suspects[0]
    return Outcome(first.cause, first.probability, conclusion.settled is not None)


def examples(family: Family) -> Iterator[tuple[str, Place, Case]]:
    """Yield the example cases written beside the causes of a family."""
    for cause in family.causes.values():
        for number, example in enumerate(cause.examples, 1):
            yield f"{cause.id}, example {number}", example.place, case_of(family, example)


def understood(case: Case, family: Family) -> bool:
    """Return whether a family knows everything that a case names."""
    if case.fault is not None and case.fault not in family.faults:
        return False
    for sign_id, given in case.answers.items():
        sign = family.signs.get(sign_id)
        if sign is None:
            return False
        if given.answer is not None and given.answer not in (*sign.answer_ids, *sign.loosely):
            return False
        if given.value is not None and sign.measure is None:
            return False
    return set(case.batch) <= {quantity.id for quantity in family.header.batch}


def changed(old: Reasoner, new: Reasoner, cases: Iterator[tuple[str, Place, Case]]) -> Iterator[Changed]:
    """Yield the cases that come out otherwise; a case that one of the two does not understand is left out."""
    for name, place, case in cases:
        if understood(case, old.family) and understood(case, new.family):
            before, after = outcome(old.reason(case)), outcome(new.reason(case))
            if (before.cause, before.settled) != (after.cause, after.settled):
                yield Changed(name, place, before, after)


def moved(old: Reasoner, new: Reasoner) -> tuple[Moved, ...]:
    """Return the causes that come first clearly more or less often than before, all signs known, and those gone or new.

    Both are drawn with the same seed, so that a cause nothing touched does not move.
    """
    before = {one.cause: one.first for one in identify(old)}
    after = {one.cause: one.first for one in identify(new)}
    found = []
    for cause in sorted({*before, *after}):
        a, b = before.get(cause), after.get(cause)
        if a is None or b is None or abs(a - b) >= LEAST_MOVE:
            found.append(Moved(cause, a, b))
    return tuple(found)
