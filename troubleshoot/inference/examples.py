"""The examples written beside causes, run: does each come out as its author expects?"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from troubleshoot.inference.conclusion import Suspect
from troubleshoot.inference.facts import CANT_TELL, Case, Given
from troubleshoot.inference.reason import Reasoner
from troubleshoot.knowledge.model import Cause, Example, Family
from troubleshoot.problems import Problem


def failures(reasoner: Reasoner) -> Iterator[Problem]:
    """Yield every example of a family that does not come out as written."""
    for cause in reasoner.family.causes.values():
        for example in cause.examples:
            wrong = what_fails(cause, example, reasoner.suspects(case_of(reasoner.family, example)))
            if wrong is not None:
                yield Problem(
                    example.place,
                    cause.id,
                    wrong,
                    "look at what outweighs it; change a strength only if the trade says so",
                )


def case_of(family: Family, example: Example) -> Case:
    """Return the case that an example describes."""
    answers = {
        sign: Given() if value == CANT_TELL else Given(answer=value) if isinstance(value, str) else Given(value=value)
        for sign, value in example.answers.items()
    }
    return Case(family.id, example.fault, answers)


def what_fails(cause: Cause, example: Example, suspects: Sequence[Suspect]) -> str | None:
    """Return in what way the suspects are not what an example expects of its cause, in words; None when they are."""
    order = [suspect.cause for suspect in suspects]
    first = order[0] if order else "nothing"
    position = order.index(cause.id) + 1 if cause.id in order else None
    where = f"it comes {_ordinal(position)}" if position else "it is ruled out"
    if example.expect == "first" and position != 1:
        return f"this example should find it first, but {where} behind '{first}'"
    if example.expect == "in-three" and (position is None or position > 3):
        return f"this example should find it in the first three, but {where}"
    if example.expect == "ruled-out" and position is not None:
        return f"this example should rule it out, but {where}"
    if example.expect == "not-first":
        if position == 1:
            return "this near miss should not find it, but it comes first"
        if example.instead is not None and first != example.instead:
            return f"this near miss should find '{example.instead}' first, but finds '{first}'"
    return None


def _ordinal(position: int) -> str:
    return {1: "first", 2: "second", 3: "third"}.get(position, f"{position}th")
