"""Every amount that a step names is worked out by the kitchen, and every one worked out is named."""

from __future__ import annotations

from collections.abc import Iterator

from troubleshoot.advice.wording import placeholders
from troubleshoot.checks.base import ERROR
from troubleshoot.errors import AmountError
from troubleshoot.kitchen import registry
from troubleshoot.knowledge.model import Family, Remedy, RuleBase
from troubleshoot.problems import Problem


class AmountsNamed:
    """The placeholders of a remedy are figures that its calculations give."""

    id = "amounts-named"
    severity = ERROR
    about = "a step names only amounts that the remedy's calculations give for the usual batch"

    def problems(self, family: Family, rulebase: RuleBase) -> Iterator[Problem]:
        """Yield steps with amounts that nothing works out."""
        for remedy in family.remedies.values():
            wanted = frozenset().union(*(placeholders(step) for step in remedy.steps))
            given, failed = self._given(family, remedy)
            for wrong in failed:
                place = rulebase.places.at(remedy.place, "amounts")
                yield Problem(place, remedy.id, wrong, "give figures under 'example' with which it can be shown")
            for name in sorted(wanted - given):
                if not failed:
                    index = next(i for i, step in enumerate(remedy.steps) if name in placeholders(step))
                    yield Problem(
                        rulebase.places.at(remedy.place, "steps", index),
                        remedy.id,
                        f"no calculation gives '{{{name}}}'",
                        "name the calculation under 'amounts'",
                    )

    def _given(self, family: Family, remedy: Remedy) -> tuple[frozenset[str], list[str]]:
        usual = {q.id: q.usual if q.usual is not None else (q.low * q.high) ** 0.5 for q in family.header.batch}
        given: set[str] = set()
        failed = []
        for amounts in remedy.amounts:
            inputs: dict[str, float] = {}
            for parameter, source in amounts.inputs.items():
                if not isinstance(source, str):
                    inputs[parameter] = source
                elif parameter in amounts.example:
                    inputs[parameter] = amounts.example[parameter]
                elif source.startswith("batch."):
                    inputs[parameter] = usual[source.removeprefix("batch.")]
            try:
                given.update(registry.FUNCTIONS[amounts.by].call(**inputs))
            except (AmountError, TypeError) as error:
                failed.append(f"{amounts.by} gives nothing for the figures shown when no weights are given ({error})")
        return frozenset(given), failed
