"""The chain of why begins at the cause and ends at what is seen.

This is a plain heuristic on words, and it says so: the first link must share a
word with the name of the cause or with its signs, and the last link a word with
a question, an answer or a complaint that the cause shows.  It cannot tell
whether a link in the middle follows from the one before.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from troubleshoot.checks.base import WARNING
from troubleshoot.checks.texts import also_file
from troubleshoot.knowledge.model import Cause, Family, RuleBase
from troubleshoot.problems import Problem

#: Words are taken as the same when they begin alike for so many letters.
STEM = 4

_NO_CONTENT = frozenset(
    re.findall(
        "[a-z]+",
        "the and for with from that this they them than too not are was were has have into out all more less when then "
        "can cannot while one there their before after only its",
    )
)


class ChainGap:
    """The first and last link of a chain hang on something."""

    id = "chain-gap"
    severity = WARNING
    about = "the first link shares a word with the cause, the last with something that is seen"

    def problems(self, family: Family, rulebase: RuleBase) -> Iterator[Problem]:
        """Yield chains that start beside their cause, or end before anything is seen."""
        also = also_file(family, rulebase)
        for cause in family.causes.values():
            seen = _seen(family, cause)
            if not _stems(cause.why[0]) & (_stems(cause.name) | seen):
                yield Problem(
                    rulebase.places.of_cause(cause.place, also, cause.id, "why", 0),
                    cause.id,
                    "the chain seems to start beside its cause (its first link shares no word with it)",
                    "let the first link begin at the mistake",
                )
            last = len(cause.why) - 1
            if last and not _stems(cause.why[last]) & seen:
                yield Problem(
                    rulebase.places.of_cause(cause.place, also, cause.id, "why", last),
                    cause.id,
                    "the chain seems to end before anything is seen (its last link names no sign and no complaint)",
                    "let the last link end in what the person sees",
                )


def _seen(family: Family, cause: Cause) -> frozenset[str]:
    words: set[str] = set()
    for sign_id in (*cause.shows_as, *cause.ruled_out_by):
        sign = family.signs[sign_id]
        words |= _stems(" ".join((sign.ask, sign.look, *(answer.say for answer in sign.answers))))
    for fault in family.faults.values():
        if cause.id in fault.causes:
            words |= _stems(" ".join((fault.say, *fault.also)))
    return frozenset(words)


def _stems(text: str) -> set[str]:
    return {word[:STEM] for word in re.findall(r"[a-z]{3,}", text.lower()) if word not in _NO_CONTENT}
