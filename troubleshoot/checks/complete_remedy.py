"""A remedy gives every amount, its cautions where a step can hurt, and a saving that fits its kind."""

from __future__ import annotations

import re
from collections.abc import Iterator

from troubleshoot.checks.base import ERROR
from troubleshoot.checks.hand_written_amount import FOR_THE_BATCH
from troubleshoot.knowledge.model import Family, Remedy, RuleBase
from troubleshoot.problems import Problem

_ADDING = re.compile(
    r"\b(?:add|beat in|stir in|whisk in|work in|fold in|mix in|rub in|pour in|put in)\b", re.IGNORECASE
)
_VAGUE = re.compile(
    r"\b(?:some|a bit of|a little|plenty of|(?<!no )more) "
    r"(?:egg|flour|sugar|butter|water|cream|milk|syrup|chocolate|cocoa butter|glucose|gelatine|starch|salt|oil)\b",
    re.IGNORECASE,
)
_FIGURE = re.compile(r"\d|\{|\b(?:spoons?|pinch|drops?|half|quarter|third)\b")


class CompleteRemedy:
    """Nothing is left for the junior to guess."""

    id = "complete-remedy"
    severity = ERROR
    about = (
        "a step that adds something says how much, a step that can hurt brings its caution, and savings fit the kind"
    )

    def problems(self, family: Family, rulebase: RuleBase) -> Iterator[Problem]:
        """Yield vague amounts, missing cautions, reasons that repeat the name, and savings that cannot be."""
        by_rules = _cautions_of_rules(family)
        for remedy in family.remedies.values():
            at = rulebase.places.at
            if remedy.kind == "next-time" and remedy.saves:
                yield Problem(
                    at(remedy.place, "saves"), remedy.id, "advice for next time saves none of this batch", "write 0"
                )
            if _plain(remedy.because) == _plain(remedy.name):
                yield Problem(
                    at(remedy.place, "because"), remedy.id, "the reason only repeats the name", "say why it works"
                )
            if remedy.kind not in FOR_THE_BATCH:
                continue
            for index, step in enumerate(remedy.steps):
                for sentence in re.split(r"(?<=[.!?])\s+", step):
                    vague = _VAGUE.search(sentence)
                    if vague and _ADDING.search(sentence[: vague.start()]) and not _FIGURE.search(sentence):
                        yield Problem(
                            at(remedy.place, "steps", index),
                            remedy.id,
                            f"the step adds '{vague[0]}' and does not say how much",
                            "name a calculation under 'amounts', or give the dose for each 100 g",
                        )
            yield from self._cautions(remedy, rulebase, {*remedy.cautions, *by_rules.get(remedy.id, ())})

    def _cautions(self, remedy: Remedy, rulebase: RuleBase, given: set[str]) -> Iterator[Problem]:
        due: dict[str, list[str]] = {}
        for caution in rulebase.cautions.values():
            for word in caution.due:
                due.setdefault(word, []).append(caution.id)
        for index, step in enumerate(remedy.steps):
            for word, cautions in due.items():
                if not given.intersection(cautions) and re.search(rf"\b{re.escape(word)}\b", step, re.IGNORECASE):
                    yield Problem(
                        rulebase.places.at(remedy.place, "steps", index),
                        remedy.id,
                        f"the step says '{word}' and the remedy brings no caution for it",
                        f"add {' or '.join(cautions)} under 'cautions'",
                    )
                    return


def _cautions_of_rules(family: Family) -> dict[str, set[str]]:
    found: dict[str, set[str]] = {}
    for rule in family.rules:
        cautions = {c.name for c in rule.then if c.kind == "caution"}
        for condition in rule.when:
            if condition.about == "remedy":
                for remedy in condition.values:
                    found.setdefault(remedy, set()).update(cautions)
    return found


def _plain(text: str) -> str:
    return " ".join(re.findall(r"[a-z]+", text.lower()))
