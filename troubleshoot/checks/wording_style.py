"""Texts that a junior can read: finished, short-sentenced, and with units put in by the program."""

from __future__ import annotations

import re
from collections.abc import Iterator

from troubleshoot.checks.base import WARNING
from troubleshoot.checks.texts import texts
from troubleshoot.knowledge.model import Family, RuleBase
from troubleshoot.problems import Problem

#: Words in one sentence beyond which a junior loses the thread.
MOST_WORDS = 32


class WordingStyle:
    """Every text is finished and plain."""

    id = "wording"
    severity = WARNING
    about = "no text is unfinished, no degree sign is written by hand, and no sentence is longer than a breath"

    def problems(self, family: Family, rulebase: RuleBase) -> Iterator[Problem]:
        """Yield texts that are unfinished, hard to read, or hide a temperature from the units setting."""
        for one in texts(family, rulebase):
            place, subject, text = one.place, one.subject, one.words
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
