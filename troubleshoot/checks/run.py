"""All checks over all families of a rule base."""

from __future__ import annotations

from troubleshoot.checks.amounts_named import AmountsNamed
from troubleshoot.checks.base import Check, Finding, WholeCheck
from troubleshoot.checks.chain_gap import ChainGap
from troubleshoot.checks.chain_shows import ChainShows
from troubleshoot.checks.complete_cause import CompleteCause
from troubleshoot.checks.complete_remedy import CompleteRemedy
from troubleshoot.checks.contradiction import Contradiction
from troubleshoot.checks.differential import DifferentialAgrees, DisputeIsOpen
from troubleshoot.checks.drawings import Drawings
from troubleshoot.checks.duplicate import Duplicate
from troubleshoot.checks.fitting_strengths import FittingStrengths
from troubleshoot.checks.hand_written_amount import HandWrittenAmount
from troubleshoot.checks.kept_words import KeptWords
from troubleshoot.checks.near_miss import NearMissIsSilent
from troubleshoot.checks.never_fires import NeverFires
from troubleshoot.checks.parts_nothing import PartsNothing
from troubleshoot.checks.plain_question import PlainQuestion
from troubleshoot.checks.renamed_ids import RenamedIds
from troubleshoot.checks.told_apart import ToldApart
from troubleshoot.checks.unread_lists import UnreadLists
from troubleshoot.checks.unused import Unused
from troubleshoot.checks.wording_style import WordingStyle
from troubleshoot.knowledge.model import RuleBase

CHECKS: tuple[Check, ...] = (
    CompleteCause(),
    CompleteRemedy(),
    Duplicate(),
    ToldApart(),
    PartsNothing(),
    Contradiction(),
    FittingStrengths(),
    DifferentialAgrees(),
    DisputeIsOpen(),
    NeverFires(),
    NearMissIsSilent(),
    ChainGap(),
    ChainShows(),
    AmountsNamed(),
    HandWrittenAmount(),
    Unused(),
    Drawings(),
    WordingStyle(),
    PlainQuestion(),
    KeptWords(),
)

#: These look at what all families share, and are left out when only some were read.
WHOLE_CHECKS: tuple[WholeCheck, ...] = (RenamedIds(), UnreadLists())

#: What each check demands, by its id.
ABOUT = {
    **{check.id: check.about for check in CHECKS},
    **{check.id: check.about for check in WHOLE_CHECKS},
}


def run(rulebase: RuleBase) -> tuple[Finding, ...]:
    """Return every finding of every check once, by place."""
    found = {
        Finding(problem, check.id, check.severity)
        for family in rulebase.families.values()
        for check in CHECKS
        for problem in check.problems(family, rulebase)
    }
    if set(rulebase.families) == set(rulebase.headers):
        found |= {
            Finding(problem, check.id, check.severity) for check in WHOLE_CHECKS for problem in check.problems(rulebase)
        }
    return tuple(sorted(found))
