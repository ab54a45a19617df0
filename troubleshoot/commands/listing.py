"""``batchmend signs`` and ``batchmend causes``: what a family of the rule base holds."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

from troubleshoot.advice.wording import Wording
from troubleshoot.commands.output import print_json, print_list, print_text
from troubleshoot.errors import RuleBaseError
from troubleshoot.interview.shelf import Shelf
from troubleshoot.knowledge.model import Cause, Family, Sign
from troubleshoot.problems import Place, Problem, choose_from


def add_to(commands: Any) -> None:
    """Add both commands."""
    signs = commands.add_parser("signs", help="list the signs of a family")
    signs.add_argument("family", metavar="FAMILY")
    signs.add_argument("--json", action="store_true", help="print as JSON")
    signs.set_defaults(run=run_signs)
    causes = commands.add_parser("causes", help="list the causes of a family, or show one")
    causes.add_argument("family", metavar="FAMILY")
    causes.add_argument("cause", metavar="CAUSE", nargs="?")
    causes.add_argument("--json", action="store_true", help="print as JSON")
    causes.set_defaults(run=run_causes)


def run_signs(arguments: argparse.Namespace, rules: Path) -> int:
    """List the signs of a family with their answers."""
    shelf = Shelf(rules)
    family = shelf.reasoner(arguments.family).family
    if arguments.json:
        print_json([sign_data(sign) for sign in family.signs.values()])
        return 0
    for sign in family.signs.values():
        print_text(Wording().text(sign.ask), first=f"{sign.id}: ")
        for answer in sign.answers:
            print_text(
                f"{answer.id}: {Wording().text(answer.say)}" + (" (normal)" if answer.normal else ""), "    ", "- "
            )
    return 0


def sign_data(sign: Sign) -> dict[str, Any]:
    """Return a sign as plain data."""
    data: dict[str, Any] = {
        "sign": sign.id,
        "ask": Wording().text(sign.ask),
        "look": Wording().text(sign.look),
        "kind": sign.kind,
        "minutes": sign.minutes,
        "from": sign.first_stage,
        "until": sign.last_stage,
        "answers": [{"answer": a.id, "say": Wording().text(a.say), "normal": a.normal} for a in sign.answers],
        "loosely": {key: list(covered) for key, covered in sign.loosely.items()},
    }
    if sign.measure is not None:
        data["measure"] = {"unit": sign.measure.unit, "low": sign.measure.low, "high": sign.measure.high}
    return data


def run_causes(arguments: argparse.Namespace, rules: Path) -> int:
    """List the causes of a family, or show one in full."""
    family = Shelf(rules).reasoner(arguments.family).family
    if arguments.cause is not None and arguments.cause not in family.causes:
        place = Place(str(rules / family.id / "causes"))
        raise RuleBaseError(
            [Problem(place, arguments.cause, "there is no such cause", choose_from(arguments.cause, family.causes))]
        )
    chosen = [family.causes[arguments.cause]] if arguments.cause else list(family.causes.values())
    if arguments.json:
        print_json([cause_data(cause) for cause in chosen])
    elif arguments.cause:
        _print_cause(family, chosen[0])
    else:
        for cause in chosen:
            print_text(Wording().text(cause.name), first=f"{cause.id}: ")
    return 0


def cause_data(cause: Cause) -> dict[str, Any]:
    """Return a cause as plain data."""
    return {
        "cause": cause.id,
        "name": Wording().text(cause.name),
        "stage": cause.stage,
        "how_common": cause.how_common,
        "why": [
            {"says": Wording().text(link.says), "seen_as": {sign: list(a) for sign, a in link.seen_as.items()}}
            for link in cause.links
        ],
        "shows_as": {sign: dict(levels) for sign, levels in cause.shows_as.items()},
        "ruled_out_by": {sign: list(answers) for sign, answers in cause.ruled_out_by.items()},
        "told_apart_from": {r.cause: {"by": r.by, "because": Wording().text(r.because)} for r in cause.told_apart_from},
        "remedies": list(cause.remedies),
        "sources": list(cause.sources),
    }


def _print_cause(family: Family, cause: Cause) -> None:
    wording = Wording()
    print_text(wording.text(cause.name) + ".")
    print("\nHow it works")
    print_list([wording.text(link) for link in cause.why])
    print("\nHow it shows")
    for sign_id, levels in cause.shows_as.items():
        sign = family.signs[sign_id]
        for answer, level in sorted(levels.items(), key=lambda item: -item[1]):
            print_text(f"{wording.text(sign.ask)} {wording.text(sign.answer(answer).say)} ({level:.1%})", "  ", "- ")
    print("\nWhat helps")
    for remedy in cause.remedies:
        print_text(wording.text(family.remedies[remedy].name), "  ", "- ")
    print("\nEasily taken for")
    for rival in cause.told_apart_from:
        print_text(f"{family.causes[rival.cause].name}: {wording.text(rival.because)}", "  ", "- ")
