"""Whether the rule base still knows everything that a case names: rules change while cases lie open."""

from __future__ import annotations

from collections.abc import Iterator

from troubleshoot.errors import CaseError
from troubleshoot.interview.state import State
from troubleshoot.knowledge.model import Family
from troubleshoot.problems import Place, Problem


def check_known(family: Family, state: State) -> None:
    """Raise CaseError with all that a state names and its family no longer holds."""
    problems = list(_unknown(family, state))
    if problems:
        raise CaseError(problems)


def _unknown(family: Family, state: State) -> Iterator[Problem]:
    for sign in dict.fromkeys((*state.answers, *state.asked)):
        if sign not in family.signs:
            yield _problem(sign, f"the rule base no longer asks about '{sign}'")
    for sign, given in state.answers.items():
        if sign not in family.signs:
            continue
        known = (*family.signs[sign].answer_ids, *family.signs[sign].loosely)
        if given.answer is not None and given.answer not in known:
            yield _problem(sign, f"unknown answer '{given.answer}'")
        if given.value is not None and family.signs[sign].measure is None:
            yield _problem(sign, "it takes no number any more")
    if state.fault is not None and state.fault not in family.faults:
        yield _problem("fault", f"unknown fault '{state.fault}'")
    if state.stage is not None and state.stage not in {stage.id for stage in family.header.stages}:
        yield _problem("stage", f"unknown stage '{state.stage}'")


def _problem(subject: str, wrong: str) -> Problem:
    return Problem(Place("case"), subject, wrong, "begin a new case")
