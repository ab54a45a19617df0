"""All checks over all families of a rule base."""

from __future__ import annotations

from troubleshoot.checks.amounts_named import AmountsNamed
from troubleshoot.checks.base import Check, Finding
from troubleshoot.checks.complete_cause import CompleteCause
from troubleshoot.checks.contradiction import Contradiction
from troubleshoot.checks.drawings import Drawings
from troubleshoot.checks.hand_written_amount import HandWrittenAmount
from troubleshoot.checks.told_apart import ToldApart
from troubleshoot.checks.unused import Unused
from troubleshoot.checks.wording_style import WordingStyle
from troubleshoot.knowledge.model import RuleBase

CHECKS: tuple[Check, ...] = (
    CompleteCause(),
    ToldApart(),
    Contradiction(),
    AmountsNamed(),
    HandWrittenAmount(),
    Unused(),
    Drawings(),
    WordingStyle(),
)


def run(rulebase: RuleBase) -> tuple[Finding, ...]:
    """Return every finding of every check, by place."""
    return tuple(
        sorted(
            Finding(problem, check.id, check.severity)
            for family in rulebase.families.values()
            for check in CHECKS
            for problem in check.problems(family, rulebase)
        )
    )
