"""Change one strength, rule-out or condition at a time, and see whether examples and published cases notice.

``python tests/bench/mutate_rules.py [FAMILY ...] [--mutants 300] [--seed 1] [--minutes 9]``

A mutant is noticed when ``batchmend check`` reports something, when an example no longer comes out as written, or
when a published case no longer finds its cause first where it did.  A strength whose change alters the answer in fewer than
one batch in twenty with its cause is the same in use; it is counted apart and belongs to no share.  Of the survivors
it is told whether they move any cause's probability in any of those cases by a point; they are listed, since each
stands for something written in one place only, which nothing in the rule base would contradict.
The engine is replaced by plain forward chaining over the same compiled rules, so that thousands of rulesets need
not be registered.
"""

from __future__ import annotations

import argparse
import random
import sys
import time
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import yaml

sys.path[:0] = [str(Path(__file__).parents[1] / "support"), str(Path(__file__).parents[2])]

from troubleshoot import resources  # noqa: E402
from troubleshoot.checks import run as checks  # noqa: E402
from troubleshoot.inference import engine  # noqa: E402
from troubleshoot.inference.conclusion import Conclusion  # noqa: E402
from troubleshoot.inference.examples import case_of, what_fails  # noqa: E402
from troubleshoot.inference.facts import Case, CompiledRule, Fact, Firing, Given  # noqa: E402
from troubleshoot.inference.network import sign_node  # noqa: E402
from troubleshoot.inference.reason import Reasoner  # noqa: E402
from troubleshoot.knowledge.load import load  # noqa: E402
from troubleshoot.knowledge.model import Cause, Example, Family, RuleBase, Vocabulary  # noqa: E402

#: Strict notice, and the weaker kind that only a comparison of figures would see.
MOVED = "a probability"
LEAST_MOVE = 0.01

#: A strength that alters the answer in fewer batches than this changes nothing that anybody could see.
SAME_IN_USE = 0.05

PUBLISHED = Path(__file__).parents[1] / "published" / "cases"


class Chainer:
    """Forward chaining without the engine: every rule fires once, when all its patterns find a fact."""

    def __init__(self, rules: Sequence[CompiledRule]) -> None:
        self._rules = rules

    def run(self, facts: Iterable[Fact]) -> tuple[Firing, ...]:
        known: dict[tuple[str, str], list[Fact]] = {}
        for fact in sorted(set(facts), key=str):
            known.setdefault((fact.kind, fact.name), []).append(fact)
        fired: list[Firing] = []
        seen: set[str] = set()
        more = True
        while more:
            more = False
            for rule in self._rules:
                if rule.id in seen:
                    continue
                woken = [
                    next((f for f in known.get((p.kind, p.name), ()) if p.matches(f)), None) for p in rule.patterns
                ]
                if any(fact is None for fact in woken):
                    continue
                seen.add(rule.id)
                more = True
                facts_of = tuple(fact for fact in woken if fact is not None)
                fired.append(Firing(rule.id, rule.because, facts_of, rule.concludes, rule.sources))
                for fact in rule.concludes:
                    held = known.setdefault((fact.kind, fact.name), [])
                    if fact not in held:
                        held.append(fact)
        return tuple(fired)


@dataclass(frozen=True)
class Watched:
    """A case that is watched: what must hold of it, how it comes out now, and the signs that are known in it."""

    case: Case
    now: Mapping[str, float]
    signs: frozenset[str]
    of: tuple[Cause, Example] | None = None
    causes: tuple[str, ...] = ()

    def fails(self, family: Family, conclusion: Conclusion) -> str | None:
        """Return what fails in a conclusion, or None."""
        if self.of is not None:
            cause, example = self.of
            return "an example" if what_fails(family.causes[cause.id], example, conclusion.suspects) else None
        return "a published case" if self.causes and first(conclusion) not in self.causes else None

    def moves(self, conclusion: Conclusion) -> bool:
        """Return whether any cause's probability has moved."""
        after = probabilities(conclusion)
        return any(abs(after.get(cause, 0.0) - self.now.get(cause, 0.0)) >= LEAST_MOVE for cause in {*after, *self.now})


def probabilities(conclusion: Conclusion) -> dict[str, float]:
    """Return the probability of every cause still standing."""
    return {suspect.cause: suspect.probability for suspect in conclusion.suspects}


def mutants(family: Family, vocabulary: Vocabulary) -> Iterator[tuple[str, str, object]]:
    """Yield (kind, what, change) of every mutant; the change is applied by ``apply``."""
    scale = sorted(vocabulary.frequency.values())
    for cause in family.causes.values():
        for sign, levels in cause.shows_as.items():
            for answer, level in levels.items():
                where = f"{cause.id}: {sign} {answer}"
                yield "strength dropped", where, (cause.id, sign, answer, None)
                flipped = scale[0] if level >= scale[2] else scale[-1]
                yield "strength flipped", f"{where} {level:g} to {flipped:g}", (cause.id, sign, answer, flipped)
        for sign, answers in cause.ruled_out_by.items():
            for answer in answers:
                yield "rule-out dropped", f"{cause.id}: {sign} {answer}", (cause.id, sign, answer)
    for number, rule in enumerate(family.rules):
        for index, condition in enumerate(rule.when):
            if len(rule.when) > 1:
                yield "condition dropped", f"{rule.id}: {condition.about} {condition.name}", (number, index)


def apply(family: Family, change: tuple) -> Family:
    """Return the family with one change made."""
    if isinstance(change[0], int):
        number, index = change
        rules = list(family.rules)
        when = rules[number].when
        rules[number] = replace(rules[number], when=(*when[:index], *when[index + 1 :]))
        return replace(family, rules=tuple(rules))
    cause = family.causes[change[0]]
    return replace(family, causes={**family.causes, cause.id: _changed(cause, change)})


def _changed(cause: Cause, change: tuple) -> Cause:
    if len(change) == 3:
        _, sign, answer = change
        left = tuple(a for a in cause.ruled_out_by[sign] if a != answer)
        rest = {s: a for s, a in cause.ruled_out_by.items() if s != sign}
        return replace(cause, ruled_out_by={**rest, sign: left} if left else rest)
    _, sign, answer, level = change
    levels = {a: v for a, v in cause.shows_as[sign].items() if a != answer}
    if level is not None:
        levels[answer] = level
    rest = {s: v for s, v in cause.shows_as.items() if s != sign}
    return replace(cause, shows_as={**rest, sign: levels} if levels else rest)


def same_in_use(family: Family, mutated: Family, change: tuple, vocabulary: Vocabulary) -> bool:
    """Return whether a changed strength alters the answer in too few batches with its cause to be seen."""
    if isinstance(change[0], int) or len(change) == 3:
        return False
    cause, sign = change[:2]
    before, after = (sign_node(one, sign, (cause,), vocabulary).alone()[0] for one in (family, mutated))
    return float(abs(before - after).sum()) / 2 < SAME_IN_USE


class Watch:
    """What is watched in a family: its examples as written, and its published cases as they come out now."""

    def __init__(self, rulebase: RuleBase, family: Family) -> None:
        self.rulebase, self.family = rulebase, family
        reasoner = Reasoner(family, rulebase.vocabulary)
        self.watched = []
        for cause in family.causes.values():
            for example in cause.examples:
                self._watch(reasoner, case_of(family, example), (cause, example), ())
        for case, causes in published(family):
            self._watch(reasoner, case, None, causes)
        self.findings = self._findings(rulebase, family)

    def _watch(self, reasoner: Reasoner, case: Case, of: tuple[Cause, Example] | None, causes: tuple[str, ...]) -> None:
        now = reasoner.reason(case)
        held = causes if first(now) in causes else ()
        self.watched.append(Watched(case, probabilities(now), frozenset(now.answers), of, held))

    def noticed(self, family: Family, sign: str | None) -> str | None:
        """Return what notices a mutant that bears on ``sign`` (None: on any), or None."""
        if self._findings(self.rulebase, family) - self.findings:
            return "a check"
        reasoner = Reasoner(family, self.rulebase.vocabulary)
        moved = False
        for watched in self.watched:
            if sign is not None and sign not in watched.signs:
                continue
            conclusion = reasoner.reason(watched.case)
            fails = watched.fails(family, conclusion)
            if fails is not None:
                return fails
            moved = moved or watched.moves(conclusion)
        return MOVED if moved else None

    def _findings(self, rulebase: RuleBase, family: Family) -> set[tuple[str, str, str]]:
        found = checks.run(replace(rulebase, families={family.id: family}))
        return {(one.check, one.problem.subject, one.problem.wrong) for one in found}


def published(family: Family) -> Iterator[tuple[Case, tuple[str, ...]]]:
    """Yield the published cases of a family with the causes they name."""
    path = PUBLISHED / f"{family.id}.yaml"
    if not path.is_file():
        return
    for entry in yaml.safe_load(path.read_text(encoding="utf-8"))["cases"]:
        answers = {
            sign: Given(answer=value) if isinstance(value, str) else Given(value=float(value))
            for sign, value in entry["answers"].items()
        }
        causes = tuple(entry["any_of"]) if "any_of" in entry else (entry["cause"],)
        yield Case(family.id, entry["fault"], answers), causes


def first(conclusion: Conclusion) -> str:
    """Return the first cause of a conclusion."""
    return conclusion.suspects[0].cause if conclusion.suspects else "nothing"


def main() -> int:
    """Mutate and report."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("families", nargs="*")
    parser.add_argument("--mutants", type=int, default=300, help="mutants in all (300)")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--minutes", type=float, default=9.0, help="stop after this time (9)")
    arguments = parser.parse_args()
    engine.ruleset = lambda name, rules: Chainer(rules)  # type: ignore[assignment, return-value]
    rulebase = load(resources.folder("rules"))
    wanted = arguments.families or list(rulebase.families)
    watches = {name: Watch(rulebase, rulebase.families[name]) for name in wanted}
    rng = random.Random(arguments.seed)
    chosen = [(name, *one) for name in wanted for one in mutants(rulebase.families[name], rulebase.vocabulary)]
    in_all = len(chosen)
    chosen = rng.sample(chosen, min(arguments.mutants, in_all))
    made: Counter[str] = Counter()
    caught: Counter[tuple[str, str]] = Counter()
    survivors, same = [], 0
    end = time.monotonic() + 60 * arguments.minutes
    for name, kind, what, change in chosen:
        if time.monotonic() > end:
            print(f"stopped after {arguments.minutes:g} minutes")
            break
        sign = None if isinstance(change[0], int) else change[1]
        mutated = apply(rulebase.families[name], change)
        if same_in_use(rulebase.families[name], mutated, change, rulebase.vocabulary):
            same += 1
            continue
        by = watches[name].noticed(mutated, sign)
        made[kind] += 1
        if by in (None, MOVED):
            survivors.append(f"{kind}: {name}, {what}" + (" (moves a probability)" if by else ""))
        if by is not None:
            caught[kind, by] += 1
    total = sum(made.values())
    moved = sum(number for (_, by), number in caught.items() if by == MOVED)
    noticed = total - len(survivors)
    print(f"{total} mutants drawn from {in_all}: {noticed} noticed ({noticed / max(1, total):.1%}; aim 85 %)")
    print(f"  {same} more were drawn that are the same in use; they are counted in no share")
    print(
        f"  {moved} of the survivors move a probability by a point ({(noticed + moved) / max(1, total):.1%} with these)"
    )
    for kind, count in sorted(made.items()):
        shares = ", ".join(f"{by} {number}" for (of, by), number in sorted(caught.items()) if of == kind)
        print(f"  {kind}: {count} made; noticed by {shares or 'nothing'}")
    print("survivors:")
    for line in sorted(survivors):
        print(f"  {line}")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
