"""Two causes must differ in some sign, and a rival must be parted by the sign that is named."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

import numpy as np

from troubleshoot.checks.base import ERROR
from troubleshoot.checks.texts import also_file
from troubleshoot.inference.network import sign_node
from troubleshoot.knowledge.model import Cause, Family, RuleBase, Vocabulary
from troubleshoot.problems import Problem

#: A test that is named for telling two causes apart must do so in as many batches.
LEAST_PARTED = 0.45


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
                differs = _differs(family, rival.by, (cause, other), rulebase.vocabulary)
                if differs < LEAST_PARTED:
                    shows = "shows the same for both" if differs == 0.0 else f"differs in {differs:.0%} of batches only"
                    yield Problem(
                        rulebase.places.of_cause(cause.place, also, cause.id, "told_apart_from", rival.cause, "by"),
                        cause.id,
                        f"'{rival.by}' is said to part it from '{rival.cause}' but {shows}",
                        "give the two different levels for that sign, or name another sign",
                    )


def _differs(family: Family, sign: str, two: tuple[Cause, Cause], vocabulary: Vocabulary) -> float:
    """Return the share of batches whose answer tells two causes apart (the distance in variation, 0..1)."""
    node = sign_node(family, sign, [cause.id for cause in two], vocabulary)
    table = node.alone()
    for row, cause in zip(table, two, strict=True):
        row[[node.answers.index(answer) for answer in cause.ruled_out_by.get(sign, ())]] = 0.0
    table /= np.maximum(table.sum(axis=1, keepdims=True), 1e-12)
    return float(np.abs(table[0] - table[1]).sum()) / 2


def _shows(cause: Cause) -> tuple[object, object]:
    return {s: dict(levels) for s, levels in cause.shows_as.items()}, dict(cause.ruled_out_by)
