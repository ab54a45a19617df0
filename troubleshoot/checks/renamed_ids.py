"""The list of renamed ids leads from names that are gone to names that are there."""

from __future__ import annotations

from collections.abc import Iterator

from troubleshoot.checks.base import ERROR
from troubleshoot.knowledge.model import RuleBase
from troubleshoot.problems import Place, Problem, choose_from


class RenamedIds:
    """Every renamed id ends at something that exists."""

    id = "renamed"
    severity = ERROR
    about = "an old id is no longer in use, and the new one is"

    def problems(self, rulebase: RuleBase) -> Iterator[Problem]:
        """Yield old ids that live on, new ids that do not exist, and names that go round in a circle."""
        known = _ids(rulebase)
        top = Place(str(rulebase.folder / "renamed.yaml"))
        for old, new in rulebase.renamed.items():
            place = rulebase.places.at(top, "renamed", old)
            if old in known:
                yield Problem(place, old, "this old id is in use again", "give the new thing an id of its own")
            if new in rulebase.renamed:
                yield Problem(place, old, f"'{new}' was renamed as well", "name what it is called now")
            elif new not in known:
                yield Problem(place, old, f"nothing is called '{new}'", choose_from(new, known))


def _ids(rulebase: RuleBase) -> frozenset[str]:
    ids = {*rulebase.headers, *rulebase.cautions, *rulebase.sources}
    for family in rulebase.families.values():
        ids |= {*family.signs, *family.causes, *family.remedies, *family.faults}
        ids |= {stage.id for stage in family.header.stages} | {quantity.id for quantity in family.header.batch}
        ids |= {rule.id for rule in family.rules} | {c.name for r in family.rules for c in r.then}
        ids |= {answer for sign in family.signs.values() for answer in (*sign.answer_ids, *sign.loosely)}
    return frozenset(ids)
