"""Nothing stands twice under two names: causes, questions, answers, complaints, remedies and rules."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from troubleshoot.checks.base import ERROR
from troubleshoot.knowledge.model import Family, RuleBase
from troubleshoot.problems import Place, Problem


class Duplicate:
    """Two things of a kind have two texts."""

    id = "duplicate"
    severity = ERROR
    about = "no two causes, questions, complaints, remedies, answers of a question, or rules say the same"

    def problems(self, family: Family, rulebase: RuleBase) -> Iterator[Problem]:
        """Yield what says the same as something before it."""
        at = rulebase.places.at
        yield from _twice("name", ((at(c.place, "name"), c.id, c.name) for c in family.causes.values()))
        yield from _twice("question", ((at(s.place, "ask"), s.id, s.ask) for s in family.signs.values()))
        yield from _twice(
            "complaint", ((at(f.place, "faults", f.id, "say"), f.id, f.say) for f in family.faults.values())
        )
        yield from _twice("name", ((at(r.place, "name"), r.id, r.name) for r in family.remedies.values()))
        for sign in family.signs.values():
            said = ((at(sign.place, "answers", a.id, "say"), a.id, a.say) for a in sign.answers)
            yield from _twice("answer", said)
        yield from _twice(
            "rule",
            (
                (
                    rule.place,
                    rule.id,
                    f"{sorted((c.about, c.name, c.values, str(c.at_least), str(c.below)) for c in rule.when)}"
                    f"{sorted((c.kind, c.name, c.value or '') for c in rule.then)}",
                )
                for rule in family.rules
            ),
        )


def _twice(what: str, said: Iterable[tuple[Place, str, str]]) -> Iterator[Problem]:
    first: dict[str, str] = {}
    for place, subject, text in said:
        key = " ".join(text.lower().split()).rstrip(".?!")
        if key in first:
            advice = "keep one" if what == "rule" else "keep one, or say how they differ"
            yield Problem(place, subject, f"this {what} says the same as '{first[key]}'", advice)
        first.setdefault(key, subject)
