"""No remedy gives a weight or volume by hand where the size of the batch decides it."""

from __future__ import annotations

import re
from collections.abc import Iterator

from troubleshoot.checks.base import ERROR
from troubleshoot.knowledge.model import Family, RuleBase
from troubleshoot.problems import Problem

#: Kinds of remedy that are for the batch in hand, or for the fresh one that takes its place.
FOR_THE_BATCH = frozenset({"now", "other-use", "remake"})

#: Grams or millilitres up to which an amount is a portion, such as one lot or one spoon, whatever the batch.
MOST_PORTION = 15.0

_NUMBER = r"\d+(?:\.\d+)?"
_AMOUNT = re.compile(rf"(?<![\d.])(?:({_NUMBER})\s*(?:to|or|and|-|–)\s*)?({_NUMBER})\s*(g|kg|ml|cl|l|litres?|kilos?)\b")
_IN_SMALL: dict[str, float] = {"g": 1.0, "ml": 1.0, "cl": 10.0}

#: What stands before a figure that is a size of one thing, a dose to a weight, or what a scale shows.
_BEFORE = re.compile(
    r"\b(?:each|every|per|for|shows?|(?:pieces?|portions?|lots?|bags?|spoons?|teaspoons?) of) (?:about |at most )?$"
    r"|\d m?g of [a-z ]+ (?:in|into|to) $"
)

#: What stands behind such a figure.
_AFTER = re.compile(
    r"^(?: of [a-z ]+?)?,? (?:each|apiece|on each|(?:for|to|in) (?:each|every)|per|to the|to a|a piece|at a time)\b"
    r"|^ (?:bags?|chargers?|cups?)\b"
    r"|^ of [a-z ]+ (?:in|into|to) \d"
)


class HandWrittenAmount:
    """The amounts that follow the batch come from the kitchen."""

    id = "hand-written-amount"
    severity = ERROR
    about = "a step for the batch in hand gives grams and millilitres by a calculation, not by hand"

    def problems(self, family: Family, rulebase: RuleBase) -> Iterator[Problem]:
        """Yield steps that give a weight or a volume which does not follow the batch."""
        for remedy in family.remedies.values():
            if remedy.kind not in FOR_THE_BATCH:
                continue
            for index, step in enumerate(remedy.steps):
                for amount in hand_written(step):
                    yield Problem(
                        rulebase.places.at(remedy.place, "steps", index),
                        remedy.id,
                        f"'{amount}' is written by hand in the step '{step[:40]}…'",
                        "name a calculation under 'amounts' and write its placeholder, or give the dose for each 100 g",
                    )


def hand_written(step: str) -> list[str]:
    """Return the weights and volumes of a step that are neither a portion, nor a dose, nor the size of one thing."""
    return [
        found[0]
        for found in _AMOUNT.finditer(step)
        if float(found[2]) * _IN_SMALL.get(found[3], 1000.0) > MOST_PORTION
        and not _BEFORE.search(step[: found.start()])
        and not _AFTER.search(step[found.end() :])
    ]
