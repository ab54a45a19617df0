"""The adapter to the rule engine: chaining as a plain model and as another engine does it, and its limits guarded."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterable, Sequence

import clips
import numpy as np
import pytest

from troubleshoot.errors import BugError
from troubleshoot.inference.engine import MOST_NAMES, Ruleset, ruleset
from troubleshoot.inference.facts import Case, CompiledRule, Fact, Given, Pattern
from troubleshoot.inference.reason import Reasoner


def rule(key: str, patterns: Iterable[Pattern], concludes: Iterable[Fact]) -> CompiledRule:
    return CompiledRule(key, key, tuple(patterns), tuple(concludes), "because", ())


def test_numbers_chain_through_bands_to_findings():
    """A number wakes its band, the band wakes a rule, and each firing keeps the facts that woke it."""
    rules = [
        rule("band", [Pattern("number", "oven", at_least=150.0, below=175.0)], [Fact("sign", "oven", "cool")]),
        rule("finding", [Pattern("sign", "oven", "cool"), Pattern("sign", "tray", "full")], [Fact("finding", "slow")]),
    ]
    firings = Ruleset("chain", rules).run([Fact("number", "oven", 165.0), Fact("sign", "tray", "full")])
    assert [firing.rule for firing in firings] == ["band", "finding"]
    assert firings[0].facts == (Fact("number", "oven", 165.0),)
    assert firings[1].facts == (Fact("sign", "oven", "cool"), Fact("sign", "tray", "full"))


@pytest.mark.parametrize(("value", "fires"), [(149.999, False), (150.0, True), (174.999, True), (175.0, False)])
def test_bounds_are_closed_below_and_open_above(value: float, fires: bool):
    """A bound holds from its lower edge and stops short of its upper one."""
    rules = [rule("band", [Pattern("number", "oven", at_least=150.0, below=175.0)], [Fact("sign", "oven", "cool")])]
    assert bool(Ruleset("bounds", rules).run([Fact("number", "oven", value)])) is fires


def test_facts_that_no_rule_reads_are_let_pass():
    """Unread facts, answers no rule waits for and numbers outside every bound change nothing and raise nothing."""
    rules = [rule("one", [Pattern("sign", "a", "x"), Pattern("number", "n", below=5.0)], [Fact("finding", "f")])]
    facts = [Fact("sign", "b", "y"), Fact("sign", "a", "other"), Fact("number", "n", 9.0), Fact("stage", "bake")]
    assert Ruleset("unread", rules).run(facts) == ()


def test_sessions_in_which_nothing_fires_leave_the_process_alive():
    """A set of facts that no rule answers harms nothing, whatever the memory held that the engine takes."""
    program = (
        "from troubleshoot.inference.engine import Ruleset\n"
        "from troubleshoot.inference.facts import CompiledRule, Fact, Pattern\n"
        "patterns = (Pattern('sign', 'a', 'x'), Pattern('sign', 'b', 'x'))\n"
        "rules = [CompiledRule('one', 'one', patterns, (Fact('finding', 'f'),), 'because', ())]\n"
        "for name in range(3):\n"
        "    made = Ruleset(f'quiet{name}', rules)\n"
        "    for facts in ([Fact('sign', 'a', 'x')], [Fact('sign', 'a', 'other')]):\n"
        "        assert made.run(facts) == ()\n"
    )
    # glibc fills the memory it hands out with this byte, so that reading what was never set shows.
    env = {**os.environ, "MALLOC_PERTURB_": "165"}
    ended = subprocess.run([sys.executable, "-c", program], env=env, capture_output=True, text=True, check=False)
    assert (ended.returncode, ended.stderr) == (0, "")


def test_the_order_of_facts_changes_nothing():
    """The same facts in any order give the same firings in the same order."""
    rules = [
        rule(f"r{i}", [Pattern("sign", f"s{i}", "x"), Pattern("sign", f"s{i + 1}", "x")], [Fact("finding", f"f{i}")])
        for i in range(6)
    ]
    facts = [Fact("sign", f"s{i}", "x") for i in range(7)]
    runs = Ruleset("order", rules)
    assert runs.run(facts) == runs.run(list(reversed(facts)))
    assert len(runs.run(facts)) == 6


def test_two_alternatives_of_one_rule_fire_once():
    """A rule whose two alternatives both hold concludes once."""
    rules = [
        CompiledRule("r:0", "r", (Pattern("sign", "a", "x"),), (Fact("finding", "f"),), "because", ()),
        CompiledRule("r:1", "r", (Pattern("sign", "b", "x"),), (Fact("finding", "f"),), "because", ()),
    ]
    assert len(Ruleset("alternatives", rules).run([Fact("sign", "a", "x"), Fact("sign", "b", "x")])) == 1


def test_more_names_than_the_engine_takes_are_refused():
    """A ruleset too large for the engine is refused with a reason, not left to hang."""
    rules = [rule(f"r{i}", [Pattern("sign", f"s{i}", "x")], [Fact("finding", "f")]) for i in range(MOST_NAMES + 1)]
    with pytest.raises(BugError, match="split the family"):
        Ruleset("large", rules)


def test_equal_rules_are_registered_once():
    """Asking twice for the same rules gives the same ruleset: each costs memory for ever."""
    rules = [rule("one", [Pattern("sign", "a", "x")], [Fact("finding", "f")])]
    assert ruleset("same", rules) is ruleset("same", list(rules))


def chained_plainly(rules: Sequence[CompiledRule], facts: Iterable[Fact]) -> set[Fact]:
    """Everything that follows, by trying every rule until nothing is new: a plain model of forward chaining."""
    known = set(facts)
    while True:
        new = {
            fact
            for one in rules
            if all(any(pattern.matches(fact) for fact in known) for pattern in one.patterns)
            for fact in one.concludes
        } - known
        if not new:
            return known
        known |= new


class Clips:
    """The same rules in CLIPS, through clipspy."""

    def __init__(self, rules: Sequence[CompiledRule]) -> None:
        self.environment = clips.Environment()
        self.environment.build(
            "(deftemplate fact (slot kind) (slot name) (slot word (default nothing-at-all)) (slot amount (default 0.0)))"
        )
        for number, one in enumerate(rules):
            conditions = " ".join(self._condition(pattern, i) for i, pattern in enumerate(one.patterns))
            actions = " ".join(f"(assert {self._fact(fact)})" for fact in one.concludes)
            self.environment.build(f"(defrule r{number} {conditions} => {actions})")

    def run(self, facts: Iterable[Fact]) -> set[Fact]:
        """Return everything known after running to the end."""
        self.environment.reset()
        for fact in facts:
            self.environment.assert_string(self._fact(fact))
        self.environment.run()
        return {self._back(fact) for fact in self.environment.facts() if fact.template.name == "fact"}

    @staticmethod
    def _fact(fact: Fact) -> str:
        word = f' (word "{fact.value}")' if isinstance(fact.value, str) else ""
        amount = f" (amount {float(fact.value)!r})" if isinstance(fact.value, float) else ""
        return f'(fact (kind "{fact.kind}") (name "{fact.name}"){word}{amount})'

    @staticmethod
    def _condition(pattern: Pattern, index: int) -> str:
        word = f' (word "{pattern.value}")' if pattern.value is not None else ""
        bounds = []
        if pattern.at_least is not None:
            bounds.append(f":(>= ?v{index} {float(pattern.at_least)!r})")
        if pattern.below is not None:
            bounds.append(f":(< ?v{index} {float(pattern.below)!r})")
        amount = f" (amount ?v{index}&{'&'.join(bounds)})" if bounds else ""
        return f'(fact (kind "{pattern.kind}") (name "{pattern.name}"){word}{amount})'

    @staticmethod
    def _back(fact: clips.TemplateFact) -> Fact:
        word = fact["word"]
        numeric = fact["kind"] in ("number", "suspect_at")
        return Fact(
            fact["kind"],
            fact["name"],
            float(fact["amount"]) if numeric else None if word == "nothing-at-all" else str(word),
        )


def random_case(choux: Reasoner, rng: np.random.Generator) -> Case:
    """A case of up to a dozen random answers, words and numbers mixed, at a random complaint."""
    answers = {}
    for sign_id in rng.choice(list(choux.family.signs), size=int(rng.integers(1, 13)), replace=False):
        sign = choux.family.signs[str(sign_id)]
        if sign.measure is not None and rng.random() < 0.5:
            answers[sign.id] = Given(value=float(rng.uniform(sign.measure.low, sign.measure.high)))
        else:
            answers[sign.id] = Given(answer=str(rng.choice(sign.answer_ids)))
    fault = str(rng.choice(list(choux.family.faults))) if rng.random() < 0.8 else None
    service = float(rng.integers(10, 200)) if rng.random() < 0.5 else None
    return Case("choux", fault, answers, service_in_min=service)


def test_same_conclusions_as_clips_and_as_a_plain_model(choux: Reasoner):
    """On 500 random answer sets the engine concludes what CLIPS and a plain model of chaining conclude."""
    rng = np.random.default_rng(2026)
    diagnosis, advice = Clips(choux.rules.diagnosis), Clips(choux.rules.advice)
    differing = 0
    for number in range(500):
        case = random_case(choux, rng)
        first, second = choux.working_memory(case)
        for facts, compiled, other in ((first, choux.rules.diagnosis, diagnosis), (second, choux.rules.advice, advice)):
            runs = choux.diagnosis if compiled is choux.rules.diagnosis else choux.advice
            ours = set(facts) | {fact for firing in runs.run(facts) for fact in firing.concluded}
            assert ours == other.run(facts), case
            if number % 10 == 0:
                assert ours == chained_plainly(compiled, facts), case
            differing += len(ours) > len(set(facts))
    assert differing > 900, "the cases are too dull to prove anything"
