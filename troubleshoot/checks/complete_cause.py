"""A cause needs a rescue, advice for next time, rivals, and an example and a near miss."""

from __future__ import annotations

from collections.abc import Iterator

from troubleshoot.checks.base import ERROR
from troubleshoot.knowledge.model import Cause, Family, RuleBase
from troubleshoot.problems import Problem


class CompleteCause:
    """Every cause can be acted on, taught and tested."""

    id = "complete-cause"
    severity = ERROR
    about = "a cause has a chain, something to do now, something for next time, a rival, an example and a near miss"

    def problems(self, family: Family, rulebase: RuleBase) -> Iterator[Problem]:
        """Yield what is missing from each cause."""
        for cause in family.causes.values():
            for wrong, advice in self._missing(family, cause):
                yield Problem(cause.place, cause.id, wrong, advice)

    def _missing(self, family: Family, cause: Cause) -> Iterator[tuple[str, str]]:
        kinds = {family.remedies[remedy].kind for remedy in cause.remedies}
        if not kinds & {"now", "other-use"}:
            yield "no remedy says what to do with this batch", "list one of kind now or other-use"
        if "next-time" not in kinds and not cause.nothing_wrong:
            yield "no remedy says what to change next time", "list one of kind next-time"
        if not cause.told_apart_from:
            yield "no rival is named", "add the cause it is most easily taken for under 'told_apart_from'"
        expected = {example.expect for example in cause.examples}
        if not expected & {"first", "in-three"}:
            yield "no example shows this cause found", "add an example that expects 'first'"
        if not expected & {"not-first", "ruled-out"}:
            yield "no near miss stands beside the examples", "add an example that expects 'not-first' or 'ruled-out'"
        if len(cause.why) < 2 and not cause.nothing_wrong:
            yield "the chain of why has one link", "write each step from the mistake to what is seen"
