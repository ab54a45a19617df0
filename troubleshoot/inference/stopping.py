"""When to stop asking: the matter is settled, no question is worth it, or every suspect leads to the same rescue."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from troubleshoot.inference.facts import Case, Fact
from troubleshoot.inference.questions import Worth
from troubleshoot.inference.ranking import Standing
from troubleshoot.knowledge.model import Family, Vocabulary

SETTLED = "settled"
SAME_RESCUE = "same-rescue"
NOTHING_WORTH_ASKING = "nothing-worth-asking"
ENOUGH_ASKED = "enough-asked"
NOTHING_STANDING = "nothing-standing"

#: Suspects that together hold this much of the blame must share a rescue before asking ends for that reason.
SAME_RESCUE_SHARE = 0.9


@dataclass(frozen=True, slots=True)
class Stop:
    """Why asking ends, and what it rests on (a cause, or the shared remedies)."""

    reason: str
    about: tuple[str, ...] = ()


def why_stop(
    family: Family,
    vocabulary: Vocabulary,
    case: Case,
    standing: Standing,
    suspects: Sequence[tuple[str, float]],
    ranked: Sequence[Worth],
    concluded: Sequence[Fact],
) -> Stop | None:
    """Return why asking should end now, or None when another question is worth its time."""
    if not suspects:
        return Stop(NOTHING_STANDING)
    best, probability = suspects[0]
    if probability >= vocabulary.settled_at:
        return Stop(SETTLED, (best,))
    if not ranked or ranked[0].bits < vocabulary.least_bits:
        return Stop(NOTHING_WORTH_ASKING)
    if case.asked >= vocabulary.most_questions:
        return Stop(ENOUGH_ASKED)
    shared = _same_rescue(family, vocabulary, suspects, standing, concluded)
    return Stop(SAME_RESCUE, shared) if shared else None


def _same_rescue(
    family: Family,
    vocabulary: Vocabulary,
    suspects: Sequence[tuple[str, float]],
    standing: Standing,
    concluded: Sequence[Fact],
) -> tuple[str, ...]:
    """Return the rescues that every live suspect shares, when they are exactly the same for all."""
    live = [(cause, p) for cause, p in suspects if p >= vocabulary.standing["possible"]]
    if len(live) < 2 or standing.unlisted > 1 - SAME_RESCUE_SHARE or sum(p for _, p in live) < SAME_RESCUE_SHARE:
        return ()
    offered = {fact.name for fact in concluded if fact.kind == "remedy"}
    barred = {fact.name for fact in concluded if fact.kind == "barred"}
    rescues = {_rescues(family, cause, offered - barred) for cause, _ in live}
    return next(iter(rescues)) if len(rescues) == 1 else ()


def _rescues(family: Family, cause: str, offered: set[str]) -> tuple[str, ...]:
    return tuple(
        r for r in sorted(family.causes[cause].remedies) if r in offered and family.remedies[r].kind != "next-time"
    )
