"""``batchmend book seen CASE.yaml``: the past cases most like this one, with what was done and what came of it."""

from __future__ import annotations

import argparse
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

from troubleshoot.commands.book.common import add_book, local, open_book
from troubleshoot.commands.output import print_json, print_text

if TYPE_CHECKING:
    from troubleshoot.casebook.names import Names
    from troubleshoot.casebook.nearest import Near
    from troubleshoot.knowledge.model import Family


def add_to(commands: Any) -> None:
    """Add the subcommand."""
    command = commands.add_parser("seen", help="look in the book for cases like the one in a file")
    command.add_argument("case", type=Path, metavar="CASE.yaml")
    command.add_argument("--json", action="store_true", help="print as JSON")
    add_book(command)
    command.set_defaults(run=run)


def run(arguments: argparse.Namespace, rules: Path) -> int:
    """Print the nearest cases."""
    from troubleshoot.casebook.concluded import record_of
    from troubleshoot.casebook.names import Names
    from troubleshoot.casebook.nearest import answers_of, nearest
    from troubleshoot.interview import casefile
    from troubleshoot.interview.shelf import Shelf

    shelf = Shelf(rules)
    document = casefile.read_document(arguments.case)
    reasoner = shelf.reasoner(casefile.family_of(document, [header.id for header in shelf.headers]))
    conclusion = reasoner.reason(casefile.to_case(document, reasoner.family))
    now = datetime.now(UTC)
    answers = answers_of(reasoner.family, record_of(conclusion, "hand", now, now, ""))
    with open_book(arguments) as book:
        found = nearest(book, reasoner.family, reasoner.network, answers)
    if arguments.json:
        print_json([_as_data(one) for one in found])
        return 0
    if not found:
        print("Nothing like it is in the book.")
    for one in found:
        _print(one, reasoner.family, Names(shelf))
    return 0


def _as_data(near: Near) -> dict[str, Any]:
    record = near.record
    return {
        "id": record.id,
        "alike": round(near.alike, 4),
        "shared": list(near.shared),
        "finished": record.finished.isoformat(),
        "cause": record.cause,
        "outcome": record.outcome.value,
        "true_cause": record.true_cause,
        "done": list(record.done),
        "pieces_saved": record.pieces_saved,
        "pieces_lost": record.pieces_lost,
        "worked": near.worked,
        "invented": record.invented,
    }


def _print(near: Near, family: Family, names: Names) -> None:
    from troubleshoot.casebook.nearest import outcome_words

    record = near.record
    head = f"{record.id}, {local(record.finished)}" + (" (invented)" if record.invented else "")
    print_text(f"{head}: {near.alike:.0%} alike")
    print_text(f"{names.cause(record.family, record.cause)}. {outcome_words(record, names.cause)}", "  ")
    for remedy in record.done:
        worked = "What worked: " if near.worked else "Done: "
        saved = "" if record.pieces_saved is None else f" ({record.pieces_saved} pieces saved)"
        print_text(names.remedy(record.family, remedy) + saved, "  ", worked)
    if near.shared:
        shared = "; ".join(family.signs[sign].ask for sign in near.shared[:3])
        print_text(f"Answered alike: {shared}", "  ")
