"""A finished interview as a case for the book."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime

from troubleshoot.casebook.record import GivenAnswer, Record, Suspected
from troubleshoot.inference.conclusion import Conclusion

#: An unlisted cause more probable than this leads when it is the likeliest, as in the verdict (the standing "likely").
LEAST_TO_LEAD = 0.20

#: Suspects that are kept: no more than so many, none less likely than this.
MOST_SUSPECTS, LEAST_PROBABLE = 8, 0.01


def record_of(
    conclusion: Conclusion,
    case_id: str,
    begun: datetime,
    finished: datetime,
    rules_version: str,
    answered: Mapping[str, datetime] | None = None,
    pictures: tuple[str, ...] = (),
    kitchen: str = "",
    role: str = "",
) -> Record:
    """Return the case that a conclusion ends, its outcome not known yet.

    ``answered`` says when each sign was answered; one that it does not hold counts as answered at ``finished``.  A
    verdict that names no cause, because one that is not in the rule base is likelier, is kept without suspects.
    """
    case = conclusion.case
    first = conclusion.suspects[0].probability if conclusion.suspects else 0.0
    named = () if conclusion.unlisted > max(first, LEAST_TO_LEAD) else conclusion.suspects
    times = answered or {}
    return Record(
        id=case_id,
        family=case.family,
        begun=begun,
        finished=finished,
        fault=case.fault,
        stage=conclusion.stage,
        answers=tuple(
            GivenAnswer(sign, given.answer, given.value, times.get(sign, finished))
            for sign, given in case.answers.items()
        ),
        suspects=tuple(
            Suspected(s.cause, s.probability) for s in named[:MOST_SUSPECTS] if s.probability >= LEAST_PROBABLE
        ),
        settled=conclusion.settled is not None and bool(named),
        rules_version=rules_version,
        batch=tuple(sorted(case.batch.items())),
        kitchen=kitchen,
        role=role,
        pieces=round(case.batch["pieces"]) if "pieces" in case.batch else None,
        pictures=pictures,
    )
