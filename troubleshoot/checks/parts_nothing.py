"""Every sign that causes shift parts some of them from the others."""

from __future__ import annotations

from collections.abc import Iterator

from troubleshoot.checks.base import WARNING
from troubleshoot.inference.network import sign_node
from troubleshoot.knowledge.model import Family, RuleBase
from troubleshoot.problems import Problem

#: Two causes differ in an answer when one makes it this many times as likely as the other.
LEAST_RATIO = 1.2


class PartsNothing:
    """No question is asked whose answer is as likely under every cause."""

    id = "parts-nothing"
    severity = WARNING
    about = "some answer of a sign is clearly likelier under one cause than under another"

    def problems(self, family: Family, rulebase: RuleBase) -> Iterator[Problem]:
        """Yield signs that every cause makes show the same."""
        causes = tuple(family.causes)
        ruling = {sign for cause in family.causes.values() for sign in cause.ruled_out_by}
        ruling |= {c.name for rule in family.rules for c in rule.when if c.about in ("sign", "number")}
        shifted = {sign for cause in family.causes.values() for sign in cause.shows_as}
        for sign in family.signs.values():
            if sign.id in ruling or sign.id not in shifted:
                continue
            alone = sign_node(family, sign.id, causes, rulebase.vocabulary).alone()
            if (alone.max(axis=0) < LEAST_RATIO * alone.min(axis=0)).all():
                yield Problem(
                    sign.place,
                    sign.id,
                    "every cause shows this sign alike, so its answer parts nothing",
                    "give the causes that differ their own levels, or delete the sign",
                )
