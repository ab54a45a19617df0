"""Findings of a check as SARIF 2.1.0, which editors and code hosts show at their lines."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

from troubleshoot import __version__
from troubleshoot.checks.base import Finding

SCHEMA = "https://json.schemastore.org/sarif-2.1.0.json"


def as_sarif(findings: Iterable[Finding], about: Mapping[str, str], folder: Path) -> dict[str, Any]:
    """Return findings as one SARIF run; ``about`` says of each check what it demands.

    Files are named relative to ``folder``, so that the same findings give the same bytes anywhere.
    """
    findings = list(findings)
    names = sorted({finding.check for finding in findings} | set(about))
    return {
        "$schema": SCHEMA,
        "version": "2.1.0",
        "runs": [
            {
                "tool": {
                    "driver": {
                        "name": "batchmend check",
                        "version": __version__,
                        "rules": [{"id": name, "shortDescription": {"text": about.get(name, name)}} for name in names],
                    }
                },
                "columnKind": "unicodeCodePoints",
                "originalUriBaseIds": {"RULES": {"description": {"text": "the rules folder that was checked"}}},
                "results": [_result(finding, names.index(finding.check), folder) for finding in findings],
            }
        ],
    }


def _result(finding: Finding, index: int, folder: Path) -> dict[str, Any]:
    problem = finding.problem
    return {
        "ruleId": finding.check,
        "ruleIndex": index,
        "level": finding.severity,
        "message": {"text": f"{problem.subject}: {problem.wrong}; {problem.advice}"},
        "locations": [
            {
                "physicalLocation": {
                    "artifactLocation": {"uri": _relative(problem.place.file, folder), "uriBaseId": "RULES"},
                    "region": {"startLine": problem.place.line, "startColumn": problem.place.column},
                }
            }
        ],
    }


def _relative(file: str, folder: Path) -> str:
    path = Path(file)
    return (path.relative_to(folder) if path.is_relative_to(folder) else path).as_posix()
