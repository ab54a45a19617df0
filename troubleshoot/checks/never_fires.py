"""Every rule can fire in some case, and what it concludes comes in time to count."""

from __future__ import annotations

import math
from collections.abc import Iterator

from troubleshoot.checks.base import ERROR
from troubleshoot.knowledge.model import Family, RuleBase, Sign
from troubleshoot.knowledge.rule import Condition, Rule
from troubleshoot.problems import Problem

#: What a rule concludes about causes counts only before the causes are ranked.
BEFORE_RANKING = frozenset({"rule_out", "answer"})


class NeverFires:
    """The conditions of a rule can hold together."""

    id = "never-fires"
    severity = ERROR
    about = "the conditions of a rule can hold together, something gives each, and its conclusion comes in time"

    def problems(self, family: Family, rulebase: RuleBase) -> Iterator[Problem]:
        """Yield conditions that cannot hold, alone or beside another of the same rule."""
        reachable = _reachable(family)
        for rule in family.rules:
            for number, condition in enumerate(rule.when):
                wrong = self._alone(family, rule, condition, reachable) or self._beside(rule, number)
                if wrong:
                    yield Problem(condition.place, rule.id, f"this rule can never fire: {wrong[0]}", wrong[1])
                    break
            else:
                yield from self._stage(family, rule)
                yield from self._too_late(rule)

    def _alone(
        self, family: Family, rule: Rule, condition: Condition, reachable: frozenset[str]
    ) -> tuple[str, str] | None:
        if condition.about == "finding" and condition.name not in reachable:
            # A rule that gives no such finding itself only waits for one that does; that one is told of.
            if any(c.kind == "finding" and c.name not in reachable for c in rule.then):
                return f"only rules that need the finding '{condition.name}' give it", "let another rule give it"
            return None
        sign = family.signs.get(condition.name)
        if condition.about == "sign" and sign is not None and not sign.asked:
            bands = {band.answer for band in sign.measure.bands} if sign.measure else set()
            if not bands.intersection(condition.values) or sign.worked_out is None:
                return f"'{condition.name}' is never asked and nothing works it out to this", "let it be asked"
        if condition.about == "number":
            return _outside(family, condition, sign)
        return None

    def _beside(self, rule: Rule, number: int) -> tuple[str, str] | None:
        own = rule.when[number]
        for other in rule.when[:number]:
            if (other.about, other.name) != (own.about, own.name):
                continue
            if own.about == "number" and _low(own, other) >= _high(own, other):
                return f"no number meets both bounds on '{own.name}'", "let the bounds overlap"
            if own.about in ("sign", "fault", "stage") and not set(own.values).intersection(other.values):
                return (
                    f"it wants '{own.values[0]}' and '{other.values[0]}' at once",
                    "write both in one list, or make two rules",
                )
        return None

    def _stage(self, family: Family, rule: Rule) -> Iterator[Problem]:
        header = family.header
        stages = [header.stage_index(value) for c in rule.when if c.about == "stage" for value in c.values]
        for condition in rule.when:
            sign = family.signs.get(condition.name) if condition.about == "sign" else None
            if sign is not None and stages and max(stages) < header.stage_index(sign.first_stage):
                yield Problem(
                    condition.place,
                    rule.id,
                    f"this rule can never fire: at its stage '{sign.id}' cannot be looked at yet",
                    f"name a stage from '{sign.first_stage}' on",
                )
            remedies = [family.remedies[value] for value in condition.values] if condition.about == "remedy" else []
            spans = [(header.stage_index(r.first_stage), header.stage_index(r.last_stage)) for r in remedies]
            if stages and spans and not any(low <= stage <= high for low, high in spans for stage in stages):
                yield Problem(
                    condition.place,
                    rule.id,
                    f"this rule can never fire: at its stage '{remedies[0].id}' can no longer, or not yet, be done",
                    f"name a stage from '{remedies[0].first_stage}' to '{remedies[0].last_stage}'",
                )

    def _too_late(self, rule: Rule) -> Iterator[Problem]:
        if not any(condition.about in ("suspect", "remedy") for condition in rule.when):
            return
        for conclusion in rule.then:
            if conclusion.kind in BEFORE_RANKING:
                yield Problem(
                    conclusion.place,
                    rule.id,
                    "this comes too late to count: the rule waits for the ranking of causes",
                    "rest it on answers and findings alone",
                )


def _reachable(family: Family) -> frozenset[str]:
    """Return the findings that some chain of rules can give."""
    found: set[str] = set()
    while True:
        more = {
            conclusion.name
            for rule in family.rules
            if all(c.name in found for c in rule.when if c.about == "finding")
            for conclusion in rule.then
            if conclusion.kind == "finding"
        }
        if more <= found:
            return frozenset(found)
        found |= more


def _outside(family: Family, condition: Condition, sign: Sign | None) -> tuple[str, str] | None:
    if _low(condition) >= _high(condition):
        return f"no number is at least {condition.at_least:g} and below {condition.below:g}", "swap the bounds"
    quantity = next((q for q in family.header.batch if q.id == condition.name), None)
    bounds = (
        (sign.measure.low, sign.measure.high)
        if sign is not None and sign.measure is not None
        else (quantity.low, quantity.high)
        if quantity is not None
        else None
    )
    if bounds is not None and (_low(condition) > bounds[1] or _high(condition) <= bounds[0]):
        return (
            f"'{condition.name}' is never outside {bounds[0]:g} to {bounds[1]:g}",
            "write a bound that can be reached",
        )
    return None


def _low(*conditions: Condition) -> float:
    return max(-math.inf if c.at_least is None else c.at_least for c in conditions)


def _high(*conditions: Condition) -> float:
    return min(math.inf if c.below is None else c.below for c in conditions)
