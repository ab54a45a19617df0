"""``batchmend check [FOLDER]``: everything wrong with a rules folder, at once."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from troubleshoot.checks import run as checks
from troubleshoot.checks.base import ERROR, WARNING, Finding
from troubleshoot.commands import against, identify
from troubleshoot.commands.output import plain, print_json
from troubleshoot.commands.sarif import as_sarif
from troubleshoot.errors import RuleBaseError
from troubleshoot.inference.examples import failures
from troubleshoot.inference.reason import Reasoner
from troubleshoot.knowledge.load import load
from troubleshoot.knowledge.model import RuleBase
from troubleshoot.knowledge.yamlread import Document, read_file
from troubleshoot.problems import Problem

#: What is demanded beside the checks of their own.
ABOUT = {
    "readable": "every file is sound YAML of the expected form, and every name leads somewhere",
    "example": "every example beside a cause comes out as its author expects",
}


def add_to(commands: Any) -> None:
    """Add the command."""
    command = commands.add_parser("check", help="check a rules folder")
    command.add_argument("folder", nargs="?", type=Path, metavar="FOLDER")
    output = command.add_mutually_exclusive_group()
    output.add_argument("--json", action="store_true", help="print the findings as JSON")
    output.add_argument("--sarif", action="store_true", help="print the findings as SARIF 2.1.0")
    task = command.add_mutually_exclusive_group()
    task.add_argument(
        "--identify",
        nargs="?",
        const="",
        metavar="FAMILY",
        help="say how well each cause can be told from its rivals, and by which sign",
    )
    task.add_argument("--against", type=Path, metavar="OLD_FOLDER", help="say what differs from an older rules folder")
    command.set_defaults(run=run)


def run(arguments: argparse.Namespace, rules: Path) -> int:
    """Check the folder: 0 when clean, 1 with findings, 2 when it cannot be read."""
    folder = arguments.folder or rules
    try:
        rulebase = load(folder)
    except RuleBaseError as error:
        findings = [Finding(problem, "readable", ERROR) for problem in error.problems]
        findings += [Finding(problem, "wording", WARNING) for problem in _unfinished(folder)]
        if not (arguments.json or arguments.sarif):
            raise RuleBaseError(finding.problem for finding in sorted(findings)) from error
        _print(sorted(findings), arguments, folder)
        return 2
    if arguments.identify is not None:
        return identify.report(rulebase, arguments.identify, arguments.json)
    if arguments.against is not None:
        return against.report(rulebase, arguments.against, arguments.json)
    findings = sorted([*checks.run(rulebase), *_examples(rulebase)])
    _print(findings, arguments, folder)
    if not findings and not (arguments.json or arguments.sarif):
        print(plain(f"{folder}: {_counts(rulebase)}: nothing to mend"))
    return 1 if findings else 0


def _examples(rulebase: RuleBase) -> list[Finding]:
    return [
        Finding(problem, "example", ERROR)
        for family in rulebase.families.values()
        for problem in failures(Reasoner(family, rulebase.vocabulary))
    ]


def _unfinished(folder: Path) -> Iterator[Problem]:
    """Yield the texts still to be written, which the checks cannot name while the folder cannot be read."""
    for path in sorted(folder.glob("*/*/*.yaml")):
        # A pipe in the folder has been told of already, and would be waited for here.
        document = read_file(path) if path.is_file() else Document(str(path))
        for place, text in document.texts():
            if "TODO" in text:
                yield Problem(place, path.stem, "a text is unfinished", "write it")


def _print(findings: list[Finding], arguments: argparse.Namespace, folder: Path) -> None:
    if arguments.json:
        print_json({"folder": str(folder), "findings": [_data(finding) for finding in findings]})
        return
    if arguments.sarif:
        print_json(as_sarif(findings, {**checks.ABOUT, **ABOUT}, folder))
        return
    for finding in findings:
        print(plain(str(finding)))
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
