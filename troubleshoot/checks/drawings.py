"""Every drawing that an answer names exists, and every drawing is named."""

from __future__ import annotations

from collections.abc import Iterator

from troubleshoot import resources
from troubleshoot.checks.base import WARNING
from troubleshoot.knowledge.model import Family, RuleBase
from troubleshoot.problems import Place, Problem


class Drawings:
    """Drawings and answers fit one another."""

    id = "drawings"
    severity = WARNING
    about = "a drawing that is named exists, and one that exists is named"

    def problems(self, family: Family, rulebase: RuleBase) -> Iterator[Problem]:
        """Yield missing and unused drawings."""
        named = {
            answer.drawing: (rulebase.places.at(sign.place, "answers", answer.id, "drawing"), sign.id)
            for sign in family.signs.values()
            for answer in sign.answers
            if answer.drawing is not None
        }
        named |= {
            fault.drawing: (rulebase.places.at(fault.place, "faults", fault.id, "drawing"), fault.id)
            for fault in family.faults.values()
            if fault.drawing is not None
        }
        if family.header.drawing is not None:
            named[family.header.drawing] = (rulebase.places.at(family.header.place, "drawing"), family.id)
        for name, (place, subject) in named.items():
            if not resources.drawing(name).is_file():
                yield Problem(
                    place, subject, f"there is no drawing '{name}'", f"draw assets/drawings/{name}.svg or drop the key"
                )
        root = resources.folder("assets") / "drawings"
        for path in sorted((root / family.id).rglob("*.svg")):
            name = path.relative_to(root).with_suffix("").as_posix()
            if name not in named:
                yield Problem(
                    Place(str(path)), name, "no answer, fault or tile shows this drawing", "name it, or delete it"
                )
