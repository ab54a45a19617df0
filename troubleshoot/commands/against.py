"""What a change of the rule base does, for ``batchmend check --against OLD_FOLDER``."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

from troubleshoot.checks import run as checks
from troubleshoot.checks.base import Finding
from troubleshoot.commands.output import plain, print_json, print_text
from troubleshoot.errors import CaseError
from troubleshoot.inference.compare import Changed, Moved, Outcome, changed, examples, moved
from troubleshoot.inference.facts import Case
from troubleshoot.inference.reason import Reasoner
from troubleshoot.interview import casefile
from troubleshoot.knowledge.load import load
from troubleshoot.knowledge.model import Family, RuleBase
from troubleshoot.problems import Place


def report(rulebase: RuleBase, old_folder: Path, as_json: bool) -> int:
    """Print what differs from the rule base in ``old_folder``: 0 when nothing does, else 1."""
    old = load(old_folder)
    cases, causes = [], []
    for family in rulebase.families.values():
        if family.id in old.families:
            before = Reasoner(old.families[family.id], old.vocabulary)
            after = Reasoner(family, rulebase.vocabulary)
            if before.family == after.family and old.vocabulary == rulebase.vocabulary:
                continue
            cases += [(family.id, one) for one in changed(before, after, _cases(family, rulebase))]
            causes += [(family.id, one) for one in moved(before, after)]
    families = sorted(set(rulebase.families) ^ set(old.families))
    known = {_what(finding) for finding in checks.run(old)}
    found = [finding for finding in checks.run(rulebase) if _what(finding) not in known]
    if as_json:
        print_json(_data(old_folder, families, cases, causes, found))
    else:
        _print(old_folder, families, cases, causes, found)
    return 1 if families or cases or causes or found else 0


def _cases(family: Family, rulebase: RuleBase) -> Iterator[tuple[str, Place, Case]]:
    yield from examples(family)
    for path in sorted((rulebase.folder / family.id / "cases").glob("*.yaml")):
        try:
            case = casefile.to_case(casefile.read_document(path), family)
        except CaseError:
            continue
        yield f"case {path.stem}", Place(str(path)), case


def _what(finding: Finding) -> tuple[str, str, str]:
    """Return what a finding says, wherever its line has moved to."""
    return finding.check, finding.problem.subject, finding.problem.wrong


def _print(
    old_folder: Path,
    families: list[str],
    cases: list[tuple[str, Changed]],
    causes: list[tuple[str, Moved]],
    found: list[Finding],
) -> None:
    if not (families or cases or causes or found):
        print(plain(f"against {old_folder}: no case comes out otherwise, no cause moves, nothing new is found"))
        return
    for family in families:
        print(f"family {family} stands in one of the two only")
    if cases:
        print(f"{len(cases)} cases come out otherwise")
    for family, one in cases:
        print_text(f"{_sure(one.before)} before, {_sure(one.after)} now", "  ", f"{family}, {one.name}: ")
        print(f"    {one.place}")
    if causes:
        print(f"{len(causes)} causes move (first with every sign known)")
    for family, cause in causes:
        print_text(f"{_share(cause.before)} before, {_share(cause.after)} now", "  ", f"{family}, {cause.cause}: ")
    if found:
        print(f"{len(found)} findings are new")
    for finding in found:
        print(f"  {finding}")


def _sure(one: Outcome) -> str:
    return f"{one.cause} ({one.probability:.0%}, {'settled' if one.settled else 'not settled'})"


def _share(share: float | None) -> str:
    return "not there" if share is None else f"{share:.1%}"


def _data(
    old_folder: Path,
    families: list[str],
    cases: list[tuple[str, Changed]],
    causes: list[tuple[str, Moved]],
    found: list[Finding],
) -> dict[str, Any]:
    return {
        "against": str(old_folder),
        "families_of_one_only": families,
        "cases": [
            {
                "family": family,
                "case": one.name,
                "file": one.place.file,
                "line": one.place.line,
                "before": _outcome(one.before),
                "after": _outcome(one.after),
            }
            for family, one in cases
        ],
        "causes": [
            {"family": family, "cause": one.cause, "before": one.before, "after": one.after} for family, one in causes
        ],
        "new_findings": [
            {
                "file": finding.problem.place.file,
                "line": finding.problem.place.line,
                "check": finding.check,
                "subject": finding.problem.subject,
                "wrong": finding.problem.wrong,
            }
            for finding in found
        ],
    }


def _outcome(one: Outcome) -> dict[str, Any]:
    return {"cause": one.cause, "probability": round(one.probability, 6), "settled": one.settled}
