"""In the engine, every rule of several answers fires in its own case and stays silent in each of its near misses."""

from __future__ import annotations

from dataclasses import replace

import pytest

from troubleshoot.inference import compile as compiling
from troubleshoot.inference import engine
from troubleshoot.inference.facts import Fact
from troubleshoot.interview.shelf import Shelf
from troubleshoot.knowledge.model import Family
from troubleshoot.knowledge.rule import Condition, NearMiss, Rule


def fact_of(condition: Condition) -> Fact:
    """A fact that meets a condition."""
    if condition.about == "number":
        low = condition.at_least
        return Fact("number", condition.name, float(low if low is not None else (condition.below or 0.0) / 2))
    if condition.about in ("fault", "stage", "remedy"):
        return Fact(condition.about, condition.values[0])
    if condition.about == "finding":
        return Fact("finding", condition.name)
    return Fact(condition.about, condition.name, condition.values[0])


def facts_of(rule: Rule) -> list[Fact]:
    """Facts that meet all conditions of a rule; two bounds of one number are met by the higher of the two."""
    found: dict[tuple[str, str], Fact] = {}
    for condition in rule.when:
        fact = fact_of(condition)
        key = (fact.kind, "" if condition.about in ("fault", "stage") else fact.name)
        known = found.get(key)
        found[key] = (
            max(fact, known, key=lambda one: float(one.value or 0)) if known and fact.kind == "number" else fact
        )
    return list(found.values())


def facts_in(rule: Rule, near_miss: NearMiss) -> list[Fact]:
    """Facts of a near miss: all that the rule waits for, but for one."""
    if near_miss.about == "without":
        gone = {name for c in rule.when if near_miss.fails(c) for name in c.names}
        return [fact for fact in facts_of(rule) if fact.name not in gone]
    if near_miss.about in ("fault", "stage"):
        other = [fact for fact in facts_of(rule) if fact.kind != near_miss.about]
        return [*other, Fact(near_miss.about, str(near_miss.value))]
    same = (near_miss.about, near_miss.name)
    other = [fact for fact in facts_of(rule) if (fact.kind, fact.name) != same]
    return [*other, Fact(near_miss.about, near_miss.name, near_miss.value)]


def rules_alone(family: Family) -> engine.Ruleset:
    """The written rules of a family in the engine, concluding nothing that another of them waits for."""
    compiled = compiling.compile_family(family)
    written = [rule for rule in (*compiled.diagnosis, *compiled.advice) if rule.authored]
    return engine.ruleset(
        f"{family.id}_alone", [replace(rule, concludes=(Fact("caution", rule.key),)) for rule in written]
    )


FAMILIES = ("candied-peel", "choux", "melted-chocolate", "shortbread", "whipped-cream")


@pytest.mark.parametrize("family_id", FAMILIES)
def test_rules_fire_in_their_own_case_and_stay_silent_in_near_misses(shelf: Shelf, family_id: str):
    """What the check works out from the conditions is what the engine does."""
    family = shelf.reasoner(family_id).family
    ruleset = rules_alone(family)
    silent, spoken, tried = [], [], 0
    for rule in (rule for rule in family.rules if rule.near_misses):
        if rule.id not in {firing.rule for firing in ruleset.run(facts_of(rule))}:
            silent.append(rule.id)
        for near_miss in rule.near_misses:
            tried += 1
            if rule.id in {firing.rule for firing in ruleset.run(facts_in(rule, near_miss))}:
                spoken.append((rule.id, near_miss.name, near_miss.value))
    assert silent == []
    assert spoken == []
    assert tried > 100
