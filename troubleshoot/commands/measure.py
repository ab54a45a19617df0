"""``batchmend measure [FAMILY]``: how well the interview finds the causes it knows, measured on itself."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

from troubleshoot.commands.output import print_json, print_text
from troubleshoot.inference.selfmeasure import Measurement, measure
from troubleshoot.interview.shelf import Shelf

#: What the rule base aims at, as shares; causes below the first are listed.
AIM_FIRST, AIM_THREE, AIM_QUESTIONS = 0.85, 0.97, 6.0


def add_to(commands: Any) -> None:
    """Add the command."""
    command = commands.add_parser("measure", help="measure the interview on batches drawn from the rule base")
    command.add_argument("family", nargs="?", metavar="FAMILY")
    command.add_argument("--batches", type=int, default=40, help="batches a cause (40)")
    command.add_argument("--seed", type=int, default=1, help="seed of the drawing (1)")
    command.add_argument("--json", action="store_true", help="print as JSON")
    command.set_defaults(run=run)


def run(arguments: argparse.Namespace, rules: Path) -> int:
    """Measure one family or all and print what was found."""
    shelf = Shelf(rules)
    families = [arguments.family] if arguments.family else [header.id for header in shelf.headers]
    results = [measure(shelf.reasoner(family), max(1, arguments.batches), arguments.seed) for family in families]
    if arguments.json:
        print_json([as_data(result) for result in results])
    else:
        for result in results:
            _print(result, arguments.batches)
    return 0


def as_data(result: Measurement) -> dict[str, Any]:
    """Return a measurement as plain data."""
    return {
        "family": result.family,
        "first": round(result.first_share, 4),
        "in_three": round(result.three_share, 4),
        "mean_questions": round(result.mean_questions, 3),
        "most_questions": max(result.questions, default=0),
        "bins": [[round(stated, 3), round(right, 3), count] for stated, right, count in result.bins()],
        "causes": [
            {"cause": c.cause, "first": c.first, "in_three": c.in_three, "batches": c.batches, "rivals": dict(c.rivals)}
            for c in result.causes
        ],
    }


def _print(result: Measurement, batches: int) -> None:
    print(
        f"{result.family}: {batches} batches for each of {len(result.causes)} causes, drawn from the rule base itself"
    )
    print(f"  cause first        {result.first_share:.1%}   (aim {AIM_FIRST:.0%})")
    print(f"  in the first three {result.three_share:.1%}   (aim {AIM_THREE:.0%})")
    print(
        f"  questions asked    {result.mean_questions:.2f} on average (aim {AIM_QUESTIONS:g}), "
        f"at most {max(result.questions)}"
    )
    print("  stated probability of the first cause against how often it was right:")
    for stated, right, count in result.bins():
        print(f"    said {stated:6.1%}   was {right:6.1%}   ({count} batches)")
    low = [c for c in result.causes if c.first < AIM_FIRST * c.batches]
    if low:
        print(f"  causes first in fewer than {AIM_FIRST:.0%}, with what won instead:")
    for c in sorted(low, key=lambda c: (c.first, c.cause)):
        won = ", ".join(f"{rival} {count}" for rival, count in c.rivals)
        print_text(f"{c.cause} {c.first}/{c.batches} first, {c.in_three}/{c.batches} in three; {won}", "    ")
