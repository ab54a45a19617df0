"""Rules that nearly fired, and the first condition that stopped each."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from troubleshoot.inference.facts import CompiledRule, Fact, Firing, NearMiss, Pattern


def near_misses(rules: Sequence[CompiledRule], trace: Iterable[Firing], facts: Iterable[Fact]) -> tuple[NearMiss, ...]:
    """Return each rule with some but not all conditions met, with the first that failed.

    Of the alternatives of one rule the one that came furthest is kept.  A rule that
    was stopped by its only condition is no near miss.
    """
    fired = {firing.rule for firing in trace}
    by_key: dict[tuple[str, str], list[Fact]] = {}
    for fact in facts:
        by_key.setdefault((fact.kind, fact.name), []).append(fact)
    best: dict[str, tuple[int, NearMiss]] = {}
    for rule in rules:
        if rule.id in fired or len(rule.patterns) < 2:
            continue
        met = [
            any(pattern.matches(fact) for fact in by_key.get((pattern.kind, pattern.name), ()))
            for pattern in rule.patterns
        ]
        telling = [p for p, holds in zip(rule.patterns, met, strict=True) if holds and p.kind != "stage"]
        if telling and not all(met) and sum(met) > best.get(rule.id, (0, None))[0]:
            best[rule.id] = (sum(met), NearMiss(rule.id, _held(rule.patterns, met), rule.patterns[met.index(False)]))
    return tuple(miss for _, (_, miss) in sorted(best.items()))


def _held(patterns: Sequence[Pattern], met: Sequence[bool]) -> tuple[Pattern, ...]:
    return tuple(pattern for pattern, holds in zip(patterns, met, strict=True) if holds)
