"""Texts that a junior can read: finished, short-sentenced, and with units put in by the program."""

from __future__ import annotations

import re
from collections.abc import Iterator

from troubleshoot.checks.base import WARNING
from troubleshoot.knowledge.model import Family, RuleBase
from troubleshoot.problems import Place, Problem

#: Words in one sentence beyond which a junior loses the thread.
MOST_WORDS = 32


class WordingStyle:
    """Every text is finished and plain."""

    id = "wording"
    severity = WARNING
    about = "no text is unfinished, no degree sign is written by hand, and no sentence is longer than a breath"

    def problems(self, family: Family, rulebase: RuleBase) -> Iterator[Problem]:
        """Yield texts that are unfinished, hard to read, or hide a temperature from the units setting."""
        for place, subject, text in _texts(family):
            if "TODO" in text:
                yield Problem(place, subject, "a text is unfinished", "write it")
            if "°" in text:
                yield Problem(
                    place,
                    subject,
                    "a temperature is written by hand",
                    "write {c:50}, or {oven:180} for an oven setting",
                )
            for sentence in re.split(r"(?<=[.?!])\s+", text):
                count = len(sentence.split())
                if count > MOST_WORDS:
                    yield Problem(
                        place,
                        subject,
                        f"a sentence has {count} words ('{sentence[:40]}…')",
                        f"cut it to {MOST_WORDS} or fewer",
                    )


def _texts(family: Family) -> Iterator[tuple[Place, str, str]]:
    for sign in family.signs.values():
        for text in (
            sign.ask,
            sign.ask_later or "",
            sign.look,
            *(a.say for a in sign.answers),
            *sign.loosely_say.values(),
        ):
            yield sign.place, sign.id, text
    for fault in family.faults.values():
        yield fault.place, fault.id, fault.say
    for cause in family.causes.values():
        for text in (cause.name, *cause.why, *(rival.because for rival in cause.told_apart_from)):
            yield cause.place, cause.id, text
    for remedy in family.remedies.values():
        for text in (remedy.name, *remedy.steps, remedy.because, *remedy.not_this):
            yield remedy.place, remedy.id, text
    for rule in family.rules:
        for text in (rule.because, *(c.say or "" for c in rule.then)):
            yield rule.place, rule.id, text
