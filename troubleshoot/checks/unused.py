"""Nothing is written that no one reads: remedies, signs and cautions that nothing leads to."""

from __future__ import annotations

from collections.abc import Iterator

from troubleshoot.checks.base import WARNING
from troubleshoot.knowledge.model import Family, RuleBase
from troubleshoot.problems import Problem


class Unused:
    """Every sign parts something and every remedy is offered by something."""

    id = "unused"
    severity = WARNING
    about = "a sign shifts with some cause or rule, and a remedy is offered by some cause or rule"

    def problems(self, family: Family, rulebase: RuleBase) -> Iterator[Problem]:
        """Yield signs and remedies that nothing uses."""
        offered = {remedy for cause in family.causes.values() for remedy in cause.remedies}
        offered |= {c.name for rule in family.rules for c in rule.then if c.kind == "offer"} | {family.header.remake}
        for remedy in family.remedies.values():
            if remedy.id not in offered:
                yield Problem(
                    remedy.place,
                    remedy.id,
                    "no cause and no rule offers this remedy",
                    "list it in a cause, or delete it",
                )
        read = {sign for cause in family.causes.values() for sign in cause.shows_as}
        read |= {c.name for rule in family.rules for c in rule.when if c.about in ("sign", "number")}
        read |= {
            source.removeprefix("sign.")
            for sign in family.signs.values()
            if sign.worked_out
            for source in sign.worked_out.inputs.values()
            if isinstance(source, str) and source.startswith("sign.")
        }
        for sign in family.signs.values():
            if sign.id not in read:
                yield Problem(
                    sign.place,
                    sign.id,
                    "no cause and no rule reads this sign",
                    "give some cause a strength for it, or delete it",
                )
