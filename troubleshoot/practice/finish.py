"""A finished round put into what a learner's record keeps."""

from __future__ import annotations

import uuid
from datetime import UTC, datetime

from troubleshoot.practice.record import Finished
from troubleshoot.practice.round import Round


def finished(practised: Round, at: datetime, rules_version: str, rival: str | None = None) -> Finished:
    """Return the record of a round that was marked, at an aware time.

    ``rival`` is the cause that the right one was to be told from, when the round was chosen for that.  Raises CaseError
    before the round is marked.
    """
    marks = practised.marks()
    case = practised.case
    return Finished(
        id=uuid.uuid4().hex,
        at=at.astimezone(UTC),
        code=case.key.code,
        causes=case.causes,
        named=marks.named,
        rival=_rival(practised, rival),
        chain=practised.chain_chosen(),
        total=marks.total,
        passed=marks.passed,
        points={point.id: point.got for point in marks.points},
        minutes=marks.minutes,
        pieces=marks.pieces,
        program_minutes=marks.program_minutes,
        program_pieces=marks.program_pieces,
        rules_version=rules_version,
    )


def _rival(practised: Round, rival: str | None) -> str:
    """Return what the cause was told from, or taken for: what was named when it was wrong, else the likeliest other."""
    case = practised.case
    named = practised.marks().named
    if named not in case.causes:
        return named
    if rival is not None and rival not in case.causes:
        return rival
    told = [r.cause for r in practised.family.causes[named].told_apart_from]
    likely = [cause for cause in (*case.program.suspects, *told) if cause not in case.causes]
    return next(iter(likely), named)
