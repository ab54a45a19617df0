"""``batchmend check [FOLDER]``: everything wrong with a rules folder, at once."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

from troubleshoot.checks import run as checks
from troubleshoot.checks.base import ERROR, WARNING, Finding
from troubleshoot.commands.output import print_json
from troubleshoot.errors import RuleBaseError
from troubleshoot.inference.examples import failures
from troubleshoot.inference.reason import Reasoner
from troubleshoot.knowledge.load import load
from troubleshoot.knowledge.model import RuleBase


def add_to(commands: Any) -> None:
    """Add the command."""
    command = commands.add_parser("check", help="check a rules folder")
    command.add_argument("folder", nargs="?", type=Path, metavar="FOLDER")
    command.add_argument("--json", action="store_true", help="print the findings as JSON")
    command.set_defaults(run=run)


def run(arguments: argparse.Namespace, rules: Path) -> int:
    """Check the folder: 0 when clean, 1 with findings, 2 when it cannot be read."""
    folder = arguments.folder or rules
    try:
        rulebase = load(folder)
    except RuleBaseError as error:
        if not arguments.json:
            raise
        _print([Finding(problem, "readable", ERROR) for problem in error.problems], as_json=True, folder=folder)
        return 2
    findings = [*checks.run(rulebase), *_examples(rulebase)]
    _print(findings, arguments.json, folder)
    if not findings and not arguments.json:
        print(f"{folder}: {_counts(rulebase)}: nothing to mend")
    return 1 if findings else 0


def _examples(rulebase: RuleBase) -> list[Finding]:
    return [
        Finding(problem, "example", ERROR)
        for family in rulebase.families.values()
        for problem in failures(Reasoner(family, rulebase.vocabulary))
    ]


def _print(findings: list[Finding], as_json: bool, folder: Path) -> None:
    if as_json:
        print_json({"folder": str(folder), "findings": [_data(finding) for finding in findings]})
        return
    for finding in findings:
        print(finding)
    if findings:
        errors = sum(finding.severity == ERROR for finding in findings)
        warnings = sum(finding.severity == WARNING for finding in findings)
        print(f"{errors} to mend, {warnings} to look at")


def _data(finding: Finding) -> dict[str, Any]:
    problem = finding.problem
    return {
        "file": problem.place.file,
        "line": problem.place.line,
        "column": problem.place.column,
        "subject": problem.subject,
        "wrong": problem.wrong,
        "advice": problem.advice,
        "check": finding.check,
        "severity": finding.severity,
    }


def _counts(rulebase: RuleBase) -> str:
    return "; ".join(
        f"{family.id} {len(family.faults)} faults, {len(family.signs)} signs, {len(family.causes)} causes, "
        f"{len(family.remedies)} remedies, {len(family.rules)} rules"
        for family in rulebase.families.values()
    )
