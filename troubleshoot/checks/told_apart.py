"""Two causes must differ in some sign, and a rival must be parted by the sign that is named."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping

from troubleshoot.checks.base import ERROR
from troubleshoot.checks.texts import also_file
from troubleshoot.knowledge.model import Cause, Family, RuleBase
from troubleshoot.problems import Problem


class ToldApart:
    """No two causes show alike everywhere, and each named test really parts its rivals."""

    id = "told-apart"
    severity = ERROR
    about = "two causes differ in some sign, and the sign named for a rival differs between the two"

    def problems(self, family: Family, rulebase: RuleBase) -> Iterator[Problem]:
        """Yield pairs that no sign parts, and tests that do not part what they should."""
        for a, b in itertools.combinations(family.causes.values(), 2):
            if _shows(a) == _shows(b):
                yield Problem(
                    b.place,
                    b.id,
                    f"it shows exactly as '{a.id}' does",
                    "merge the two, or add the sign that parts them",
                )
        also = also_file(family, rulebase)
        for cause in family.causes.values():
            for rival in cause.told_apart_from:
                other = family.causes[rival.cause]
                if _levels(cause, rival.by) == _levels(other, rival.by):
                    yield Problem(
                        rulebase.places.of_cause(cause.place, also, cause.id, "told_apart_from", rival.cause, "by"),
                        cause.id,
                        f"'{rival.by}' is said to part it from '{rival.cause}' but shows the same for both",
                        "give the two different levels for that sign, or name another sign",
                    )


def _levels(cause: Cause, sign: str) -> tuple[Mapping[str, float], tuple[str, ...]]:
    return cause.shows_as.get(sign, {}), cause.ruled_out_by.get(sign, ())


def _shows(cause: Cause) -> tuple[object, object]:
    return {s: dict(levels) for s, levels in cause.shows_as.items()}, dict(cause.ruled_out_by)
