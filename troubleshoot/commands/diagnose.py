"""``batchmend diagnose CASE.yaml``: the cause, the rescue and the reason for a case written down."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

from troubleshoot import settings
from troubleshoot.advice.remedies import RemedyAdvice, advise
from troubleshoot.advice.verdict import verdict
from troubleshoot.advice.wording import Wording
from troubleshoot.commands import report
from troubleshoot.commands.output import print_json, print_text
from troubleshoot.inference.conclusion import Conclusion
from troubleshoot.inference.facts import Fact
from troubleshoot.inference.reason import Reasoner
from troubleshoot.interview import casefile
from troubleshoot.interview.shelf import Shelf


def add_to(commands: Any) -> None:
    """Add the command."""
    command = commands.add_parser("diagnose", help="diagnose a case written in a file")
    command.add_argument("case", type=Path, metavar="CASE.yaml")
    command.add_argument("--json", action="store_true", help="print the conclusion as JSON")
    command.set_defaults(run=run)


def run(arguments: argparse.Namespace, rules: Path) -> int:
    """Diagnose the case and print the verdict."""
    shelf = Shelf(rules)
    document = casefile.read_document(arguments.case)
    family_id = casefile.family_of(document, [header.id for header in shelf.headers])
    reasoner = shelf.reasoner(family_id)
    conclusion = reasoner.reason(casefile.to_case(document, reasoner.family))
    if arguments.json:
        # Machine output does not depend on this kitchen's settings: the same input gives the same bytes.
        print_json(as_data(reasoner, conclusion, Wording()))
    else:
        rulebase = shelf.rulebase(family_id)
        wording = settings.load().settings.wording()
        report.print_verdict(verdict(reasoner, conclusion, rulebase.cautions, rulebase.sources, wording))
        if conclusion.next_question is not None:
            sign = reasoner.family.signs[conclusion.next_question.sign]
            print()
            print_text(wording.text(sign.ask), first="To be surer, answer: ")
    return 0


def as_data(reasoner: Reasoner, conclusion: Conclusion, wording: Wording) -> dict[str, Any]:
    """Return a conclusion as plain data for ``--json``."""
    family = reasoner.family
    worth = conclusion.next_question
    return {
        "family": family.id,
        "suspects": [
            {"cause": s.cause, "name": family.causes[s.cause].name, "probability": round(s.probability, 6)}
            for s in conclusion.suspects
        ],
        "unlisted": round(conclusion.unlisted, 6),
        "settled": conclusion.settled,
        "next": None
        if worth is None
        else {
            "sign": worth.sign,
            "question": wording.text(family.signs[worth.sign].ask),
            "bits": round(worth.bits, 6),
            "minutes": family.signs[worth.sign].minutes,
        },
        "remedies": [_remedy(advice) for advice in advise(family, conclusion, wording, reasoner.vocabulary)],
        "cautions": list(conclusion.cautions),
        "findings": list(conclusion.findings),
        "clash": list(conclusion.clash.signs) if conclusion.clash else [],
        "trace": [
            {
                "rule": firing.rule,
                "because": wording.text(firing.because),
                "facts": [_fact(fact) for fact in firing.facts],
                "concluded": [_fact(fact) for fact in firing.concluded],
                "sources": list(firing.sources),
            }
            for firing in conclusion.trace
        ],
    }


def _remedy(advice: RemedyAdvice) -> dict[str, Any]:
    return {
        "remedy": advice.remedy,
        "kind": advice.kind,
        "name": advice.name,
        "steps": list(advice.steps),
        "minutes": advice.minutes,
        "ready_in_min": advice.ready_in_min,
        "in_time": advice.in_time,
        "pieces_saved": advice.pieces_saved,
        "because": advice.because,
        "not_this": list(advice.not_this),
        "assumed": list(advice.assumed),
    }


def _fact(fact: Fact) -> dict[str, Any]:
    data: dict[str, Any] = {"kind": fact.kind, "name": fact.name}
    if fact.value is not None:
        data["value"] = fact.value
    return data
