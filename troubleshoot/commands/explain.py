"""``batchmend explain CASE.yaml``: why a case comes out as it does, and what would change it."""

from __future__ import annotations

import argparse
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from troubleshoot.advice.factwords import in_words
from troubleshoot.advice.verdict import Weighed, weigh
from troubleshoot.advice.wording import Wording, percent, sureness, weight_word
from troubleshoot.commands.output import print_json, print_text
from troubleshoot.errors import CaseError
from troubleshoot.inference import whatif
from troubleshoot.inference.conclusion import Conclusion
from troubleshoot.inference.facts import Fact, Firing, NearMiss, Pattern
from troubleshoot.inference.reason import Reasoner
from troubleshoot.interview import casefile
from troubleshoot.interview.shelf import Shelf
from troubleshoot.knowledge.model import Caution
from troubleshoot.problems import Place, Problem, choose_from

#: What the terminal shows of each list; ``--json`` holds all.
MOST_SHOWN = 8

#: Evidence below this many decibans is left out in the terminal.
LEAST_SHOWN = 0.5


@dataclass(frozen=True, slots=True)
class _Case:
    """A case that was reasoned about, and the words for it."""

    reasoner: Reasoner
    conclusion: Conclusion
    cautions: Mapping[str, Caution]
    wording: Wording
    cause: str

    def words(self, fact: Fact) -> str:
        return in_words(fact, self.reasoner.family, self.cautions, self.wording)

    def name(self, cause: str) -> str:
        family = self.reasoner.family
        return self.wording.text(family.causes[cause].name) if cause in family.causes else "none of the causes"


def add_to(commands: Any) -> None:
    """Add the command."""
    command = commands.add_parser("explain", help="say why a case comes out as it does, and what would change it")
    command.add_argument("case", type=Path, metavar="CASE.yaml")
    command.add_argument("--why-not", metavar="CAUSE", help="explain why this cause does not come first")
    command.add_argument("--json", action="store_true", help="print as JSON")
    command.set_defaults(run=run)


def run(arguments: argparse.Namespace, rules: Path) -> int:
    """Explain the case."""
    shelf = Shelf(rules)
    document = casefile.read_document(arguments.case)
    family_id = casefile.family_of(document, [header.id for header in shelf.headers])
    reasoner = shelf.reasoner(family_id)
    wanted: str | None = arguments.why_not
    if wanted is not None and wanted not in reasoner.family.causes:
        advice = choose_from(wanted, reasoner.family.causes)
        raise CaseError([Problem(Place(str(arguments.case)), wanted, "there is no such cause", advice)])
    conclusion = reasoner.reason(casefile.to_case(document, reasoner.family))
    first = conclusion.suspects[0].cause if conclusion.suspects else None
    cause = wanted or first
    if cause is None:
        print_text("Every cause is ruled out. Name one with --why-not to see by which answer.")
        return 0
    case = _Case(reasoner, conclusion, shelf.rulebase(family_id).cautions, Wording(), cause)
    if arguments.json:
        print_json(as_data(case))
    else:
        _print(case)
    return 0


def as_data(case: _Case) -> dict[str, Any]:
    """Return the explanation as plain data."""
    conclusion, reasoner = case.conclusion, case.reasoner
    first = conclusion.suspects[0].cause if conclusion.suspects else None
    turned = whatif.turns(reasoner, conclusion, case.cause if case.cause != first else None)
    return {
        "family": reasoner.family.id,
        "first": first,
        "cause": case.cause,
        "name": case.name(case.cause),
        "probability": round(conclusion.probability(case.cause), 6),
        "ruled_out_by": conclusion.ruled_out.get(case.cause),
        "doubted_by": conclusion.doubted.get(case.cause),
        "evidence": [
            {
                "sign": one.sign,
                "ask": one.ask,
                "said": one.said,
                "decibans": round(one.decibans, 3),
                "weight": weight_word(one.decibans),
                "from_memory": one.from_memory,
            }
            for one in weigh(reasoner, conclusion, case.cause, case.wording)
        ],
        "rules": [
            {
                "rule": firing.rule,
                "because": case.wording.text(firing.because),
                "facts": [case.words(fact) for fact in firing.facts],
                "concluded": [case.words(fact) for fact in firing.concluded],
                "sources": list(firing.sources),
            }
            for firing in _told(case)
        ],
        "near_misses": [
            {
                "rule": miss.rule,
                "held": [_pattern_words(case, pattern) for pattern in miss.held],
                "stopped_by": _pattern_words(case, miss.stopped_by),
                "because": _why_silent(case, miss),
            }
            for miss in reasoner.near_misses(conclusion)
        ],
        "would_change": [
            {
                "sign": turn.sign,
                "answer": turn.answer,
                "chance": round(turn.chance, 6),
                "then": turn.cause,
                "probability": round(turn.probability, 6),
            }
            for turn in turned
        ],
        "rests_on": [
            {"sign": one.sign, "answer": one.answer, "without": one.cause, "probability": round(one.probability, 6)}
            for one in whatif.rests_on(reasoner, conclusion)
        ],
    }


def _print(case: _Case) -> None:
    conclusion, reasoner = case.conclusion, case.reasoner
    first = conclusion.suspects[0] if conclusion.suspects else None
    if first is not None:
        sure = f"{sureness(first.probability, reasoner.vocabulary)}, {percent(first.probability)}"
        print_text(f"{case.name(first.cause)} ({sure}).", first="First: ")
    if first is None or case.cause != first.cause:
        _print_why_not(case)
    weighed = weigh(reasoner, conclusion, case.cause, case.wording)
    _print_evidence("WHAT SPEAKS FOR IT", [one for one in weighed if one.decibans >= LEAST_SHOWN])
    _print_evidence("WHAT SPEAKS AGAINST IT", [one for one in reversed(weighed) if one.decibans <= -LEAST_SHOWN])
    _print_rules(case)
    _print_near_misses(case, reasoner.near_misses(conclusion))
    _print_changes(case)


def _print_why_not(case: _Case) -> None:
    conclusion, family = case.conclusion, case.reasoner.family
    print()
    print_text(case.name(case.cause) + ".", first="Why not: ")
    rule = conclusion.ruled_out.get(case.cause)
    if rule is not None:
        print_text(f"It is ruled out: {rule}.", "  ")
    else:
        print_text(f"It stands at {percent(conclusion.probability(case.cause))}.", "  ")
        if case.cause in conclusion.doubted:
            print_text(f"It is made unlikely: {conclusion.doubted[case.cause]}.", "  ")
    first = conclusion.suspects[0].cause if conclusion.suspects else None
    for one, other in ((case.cause, first), (first, case.cause)):
        if one is None or other is None:
            continue
        for rival in family.causes[one].told_apart_from:
            if rival.cause == other:
                ask = case.wording.text(family.signs[rival.by].ask)
                print_text(f"What parts the two: {ask} {case.wording.text(rival.because)}", "  ")
                return


def _print_evidence(heading: str, weighed: Iterable[Weighed]) -> None:
    shown = list(weighed)[:MOST_SHOWN]
    if not shown:
        return
    print(f"\n{heading}")
    for one in shown:
        memory = ", from memory" if one.from_memory else ""
        asked = one.ask if one.ask.endswith(("?", ".")) else f"{one.ask}:"
        weight = f"{weight_word(one.decibans)}, {one.decibans:+.1f} decibans{memory}"
        print_text(f"{asked} {one.said} ({weight})", "  ", "- ")


def _told(case: _Case) -> tuple[Firing, ...]:
    """Return the firings of rules that people wrote, and those that rule the explained cause out or doubt it."""
    written = {rule.id for rule in case.reasoner.family.rules}
    against = {case.conclusion.ruled_out.get(case.cause), case.conclusion.doubted.get(case.cause)}
    return tuple(firing for firing in case.conclusion.trace if firing.rule in written or firing.rule in against)


def _print_rules(case: _Case) -> None:
    told = _told(case)
    if not told:
        return
    print("\nRULES THAT FIRED")
    for firing in told:
        print_text(case.wording.text(firing.because), "  ", f"{firing.rule}: ")
        for fact in firing.facts:
            print_text(case.words(fact), "      ", "when ")
        for fact in firing.concluded:
            print_text(case.words(fact), "      ", "then ")


def _print_near_misses(case: _Case, misses: Iterable[NearMiss]) -> None:
    shown = sorted(misses, key=lambda miss: (-len(miss.held), miss.rule))[:MOST_SHOWN]
    if not shown:
        return
    print("\nRULES THAT NEARLY FIRED")
    for miss in shown:
        print(f"  {miss.rule}")
        for pattern in miss.held:
            print_text(_pattern_words(case, pattern), "      ", "held: ")
        print_text(_pattern_words(case, miss.stopped_by), "      ", "stopped by: ")
        because = _why_silent(case, miss)
        if because is not None:
            print_text(because, "      ", "rightly so: ")


def _why_silent(case: _Case, miss: NearMiss) -> str | None:
    """Return why the rule would be wrong here, when its own near miss is the very answer of this case."""
    rule = next(rule for rule in case.reasoner.family.rules if rule.id == miss.rule)
    given = case.conclusion.answers.get(miss.stopped_by.name) if miss.stopped_by.kind == "sign" else None
    for written in rule.near_misses:
        if written.about == "sign" and (written.name, written.value) == (miss.stopped_by.name, given):
            return case.wording.text(written.because)
    return None


def _print_changes(case: _Case) -> None:
    reasoner, conclusion = case.reasoner, case.conclusion
    first = conclusion.suspects[0].cause if conclusion.suspects else None
    wanted = case.cause if case.cause != first else None
    print("\nWHAT WOULD CHANGE IT")
    rests = whatif.rests_on(reasoner, conclusion)
    for one in rests:
        fact = case.words(Fact("sign", one.sign, one.answer)) if one.answer else one.sign
        print_text(f"Without this answer {case.name(one.cause)} leads ({percent(one.probability)}): {fact}", "  ", "- ")
    turned = whatif.turns(reasoner, conclusion, wanted)
    for turn in turned[:MOST_SHOWN]:
        fact = case.words(Fact("sign", turn.sign, turn.answer))
        print_text(
            f"{fact} (chance {percent(turn.chance)}): then {case.name(turn.cause)} leads ({percent(turn.probability)})",
            "  ",
            "- ",
        )
    if not rests and not turned:
        who = "this cause" if wanted else "another cause"
        print_text(f"No single answer would put {who} first.", "  ")


def _pattern_words(case: _Case, pattern: Pattern) -> str:
    """Return a condition as a person would say it."""
    if pattern.kind == "number":
        sign = case.reasoner.family.signs.get(pattern.name)
        about = case.wording.text(sign.ask) if sign is not None else pattern.name
        low = "" if pattern.at_least is None else f" at least {pattern.at_least:g}"
        high = "" if pattern.below is None else f" below {pattern.below:g}"
        return f"{about}{low}{high}"
    return case.words(Fact(pattern.kind, pattern.name, pattern.value))
