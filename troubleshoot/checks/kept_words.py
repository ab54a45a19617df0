"""Words kept for one meaning: what the vocabulary names is called so, and not otherwise."""

from __future__ import annotations

import re
from collections.abc import Iterator

from troubleshoot.checks.base import WARNING
from troubleshoot.checks.texts import texts
from troubleshoot.knowledge.model import Family, RuleBase
from troubleshoot.problems import Problem


class KeptWords:
    """One thing has one name throughout."""

    id = "kept-words"
    severity = WARNING
    about = "a thing that the vocabulary names under 'words' is called by that word"

    def problems(self, family: Family, rulebase: RuleBase) -> Iterator[Problem]:
        """Yield texts that call a thing by another word."""
        kept = [word for word in rulebase.vocabulary.words if not word.families or family.id in word.families]
        others = {other.lower(): word for word in kept for other in word.instead_of}
        if not others:
            return
        longest_first = sorted(others, key=lambda other: (-len(other), other))
        pattern = re.compile(rf"\b(?:{'|'.join(map(re.escape, longest_first))})\b", re.IGNORECASE)
        for text in texts(family, rulebase):
            for found in pattern.finditer(text.words):
                word = others[found[0].lower()]
                yield Problem(
                    text.place, text.subject, f"'{found[0]}' is another word for {word.means}", f"write '{word.word}'"
                )
