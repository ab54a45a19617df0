"""The identifiability report of ``batchmend check --identify``."""

from __future__ import annotations

from typing import Any

from troubleshoot.advice.wording import Wording
from troubleshoot.commands.output import print_json, print_text
from troubleshoot.errors import RuleBaseError
from troubleshoot.inference.identify import Identified, LostTo, identify
from troubleshoot.inference.reason import Reasoner
from troubleshoot.knowledge.model import Family, RuleBase
from troubleshoot.problems import Place, Problem, choose_from


def report(rulebase: RuleBase, wanted: str, as_json: bool) -> int:
    """Print the report for one family, or for all when none is named."""
    if wanted and wanted not in rulebase.families:
        place = Place(str(rulebase.folder))
        advice = choose_from(wanted, rulebase.families)
        raise RuleBaseError([Problem(place, wanted, "there is no such family", advice)])
    families = [rulebase.families[wanted]] if wanted else list(rulebase.families.values())
    results = [(family, identify(Reasoner(family, rulebase.vocabulary))) for family in families]
    if as_json:
        print_json([as_data(family, found) for family, found in results])
        return 0
    for family, found in results:
        _print(family, found)
    return 0


def as_data(family: Family, found: tuple[Identified, ...]) -> dict[str, Any]:
    """Return a report as plain data."""
    return {
        "family": family.id,
        "causes": [
            {
                "cause": one.cause,
                "first": round(one.first, 4),
                "nearest": _rival(one.nearest),
                "loses_to": [_rival(rival) for rival in one.lost_to],
            }
            for one in found
        ],
    }


def _rival(lost: LostTo) -> dict[str, Any]:
    return {
        "rival": lost.rival,
        "share": round(lost.share, 4),
        "overlap": round(lost.overlap, 6),
        "sign": lost.sign,
        "sign_overlap": round(lost.sign_overlap, 4),
    }


def _print(family: Family, found: tuple[Identified, ...]) -> None:
    mean = sum(one.first for one in found) / max(1, len(found))
    print(f"{family.id}: with every sign known, the cause at work comes first in {mean:.1%} (mean of {len(found)})")
    for one in found:
        print_text(f"first in {one.first:.1%}", "  ", f"{one.cause}: ")
        for rival in one.lost_to:
            print_text(f"loses {rival.share:.1%} to {rival.rival}; {_parting(family, rival)}", "      ")
        if not one.lost_to:
            print_text(f"nearest is {one.nearest.rival}; {_parting(family, one.nearest)}", "      ")


def _parting(family: Family, lost: LostTo) -> str:
    ask = Wording().text(family.signs[lost.sign].ask) if lost.sign in family.signs else lost.sign
    if lost.sign_overlap > 0.9:
        return f"no sign parts them well; the best is {lost.sign} ({ask})"
    return f"best parted by {lost.sign} ({ask})"
