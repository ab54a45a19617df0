"""Cautions and sources that nothing names are not kept."""

from __future__ import annotations

from collections.abc import Iterator

from troubleshoot.checks.base import WARNING
from troubleshoot.knowledge.model import RuleBase
from troubleshoot.problems import Place, Problem


class UnreadLists:
    """Every caution is called for and every source is cited."""

    id = "unread-lists"
    severity = WARNING
    about = "a caution is called for by a remedy or rule, and a source is cited by something"

    def problems(self, rulebase: RuleBase) -> Iterator[Problem]:
        """Yield cautions and sources that no family uses."""
        cautions: set[str] = set()
        sources: set[str] = {source for caution in rulebase.cautions.values() for source in caution.sources}
        for family in rulebase.families.values():
            cautions |= {caution for remedy in family.remedies.values() for caution in remedy.cautions}
            cautions |= {c.name for rule in family.rules for c in rule.then if c.kind == "caution"}
            sources.update(*(cause.sources for cause in family.causes.values()))
            sources.update(*(remedy.sources for remedy in family.remedies.values()))
            sources.update(*(rule.sources for rule in family.rules))
        for kind, known, used, nobody in (
            ("cautions", rulebase.cautions, cautions, "no remedy and no rule calls for this caution"),
            ("sources", rulebase.sources, sources, "nothing cites this source"),
        ):
            top = Place(str(rulebase.folder / f"{kind}.yaml"))
            for key in known:
                if key not in used:
                    place = rulebase.places.at(top, kind, key)
                    yield Problem(place, key, nobody, "name it where it holds, or delete it")
