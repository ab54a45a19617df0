"""A rule of several conditions stays silent in each of its near misses, and each condition has one."""

from __future__ import annotations

from collections.abc import Iterator

from troubleshoot.checks.base import ERROR
from troubleshoot.knowledge.model import Family, RuleBase
from troubleshoot.knowledge.rule import Condition, Rule
from troubleshoot.problems import Problem


class NearMissIsSilent:
    """What a rule is not meant for does not make it fire, and somebody has said why for each of its conditions."""

    id = "near-miss"
    severity = ERROR
    about = "a rule stays silent in each near miss, and each of several conditions has a near miss that fails it alone"

    def problems(self, family: Family, rulebase: RuleBase) -> Iterator[Problem]:
        """Yield near misses in which the rule would speak, and conditions that no near miss fails."""
        for rule in family.rules:
            speaks = [one for one in rule.near_misses if not any(one.fails(condition) for condition in rule.when)]
            for near_miss in speaks:
                yield Problem(
                    near_miss.place,
                    rule.id,
                    "the rule would fire in this near miss too",
                    "add the condition that keeps it silent, or take the near miss out",
                )
            # A near miss that fires was meant for some condition, so its lack is not told of as well.
            for condition in () if speaks else _unexplained(rule):
                yield Problem(
                    condition.place,
                    rule.id,
                    "no near miss shows what goes wrong without this condition",
                    "add one under 'near_misses' with its reason; if there is none, drop the condition",
                )


def _unexplained(rule: Rule) -> Iterator[Condition]:
    """Yield the conditions of a rule of several that no near miss fails."""
    if len(rule.when) > 1:
        yield from (c for c in rule.when if not any(near_miss.fails(c) for near_miss in rule.near_misses))
