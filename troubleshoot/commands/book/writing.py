"""``batchmend book add`` and ``outcome``: a case from a file, and what came of a case."""

from __future__ import annotations

import argparse
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

from troubleshoot import settings
from troubleshoot.commands.book.common import OUTCOMES, add_book, open_book, whole_id
from troubleshoot.commands.output import plain, print_json
from troubleshoot.problems import choose_from

if TYPE_CHECKING:
    from troubleshoot.casebook.record import Record
    from troubleshoot.interview.shelf import Shelf


def add_to(commands: Any) -> None:
    """Add both subcommands."""
    add = commands.add_parser("add", help="put a case written in a file into the book, with its verdict")
    add.add_argument("case", type=Path, metavar="CASE.yaml")
    add.add_argument("--kitchen", metavar="KITCHEN", help="the kitchen, if not the profile's")
    add.add_argument("--role", metavar="ROLE", help="the role on shift, if not the profile's; never a name")
    _add_afterwards(add)
    add.add_argument("--json", action="store_true", help="print the case as JSON")
    add_book(add)
    add.set_defaults(run=run_add)
    outcome = commands.add_parser("outcome", help="say whether a verdict was right")
    outcome.add_argument("id", metavar="ID", help="the case's id, or its beginning")
    outcome.add_argument("outcome", choices=OUTCOMES, metavar="|".join(OUTCOMES))
    outcome.add_argument("--cause", metavar="CAUSE", help="what it was, when the verdict was wrong")
    _add_afterwards(outcome)
    outcome.add_argument("--json", action="store_true", help="print the case as JSON")
    add_book(outcome)
    outcome.set_defaults(run=run_outcome)


def _add_afterwards(command: Any) -> None:
    command.add_argument("--done", metavar="REMEDY", action="append", help="what was done; may stand several times")
    command.add_argument("--pieces", type=int, metavar="N", help="pieces in the batch")
    command.add_argument("--saved", type=int, metavar="N", help="pieces saved")
    command.add_argument("--lost", type=int, metavar="N", help="pieces lost")
    command.add_argument("--minutes", type=float, metavar="N", help="minutes it took")
    command.add_argument("--note", metavar="TEXT", help="a note; no names of people")


def _with_afterwards(record: Record, arguments: argparse.Namespace) -> Record:
    """Return the record with what was typed about afterwards; what was not typed stays."""
    typed = {
        "done": None if arguments.done is None else tuple(arguments.done),
        "pieces": arguments.pieces,
        "pieces_saved": arguments.saved,
        "pieces_lost": arguments.lost,
        "minutes": arguments.minutes,
        "note": arguments.note,
    }
    return replace(record, **{name: value for name, value in typed.items() if value is not None})


def run_add(arguments: argparse.Namespace, rules: Path) -> int:
    """Reason about the case and put it into the book."""
    from troubleshoot.casebook.concluded import record_of
    from troubleshoot.casebook.entry import new_id
    from troubleshoot.interview import casefile
    from troubleshoot.interview.shelf import Shelf

    shelf = Shelf(rules)
    document = casefile.read_document(arguments.case)
    family = casefile.family_of(document, [header.id for header in shelf.headers])
    reasoner = shelf.reasoner(family)
    now = datetime.now(UTC)
    house = settings.load().settings
    record = record_of(
        reasoner.reason(casefile.to_case(document, reasoner.family)),
        new_id(),
        begun=now,
        finished=now,
        rules_version=shelf.rulebase(family).version,
        kitchen=house.kitchen if arguments.kitchen is None else arguments.kitchen,
        role=house.role if arguments.role is None else arguments.role,
    )
    record = _with_afterwards(record, arguments)
    _known_remedies(shelf, record)
    with open_book(arguments) as book:
        book.add(record)
        where = book.where
    return _tell(
        record, arguments.json, f"Case {record.id} is in the book at {where}: {record.cause or 'no cause known'}."
    )


def run_outcome(arguments: argparse.Namespace, rules: Path) -> int:
    """Note what came of a case."""
    from troubleshoot.casebook.errors import BookError
    from troubleshoot.casebook.record import Outcome
    from troubleshoot.interview.shelf import Shelf

    outcome = Outcome(arguments.outcome)
    if arguments.cause is not None and outcome is not Outcome.WRONG:
        raise BookError("book outcome: --cause is for a verdict that was wrong; leave it out, or write wrong")
    with open_book(arguments) as book:
        record = book.get(whole_id(book, arguments.id))
        shelf = Shelf(rules)
        known = shelf.rulebase(record.family).families[record.family].causes
        if arguments.cause is not None and arguments.cause not in known:
            raise BookError(
                f"book outcome: {record.family} has no cause '{arguments.cause}'; {choose_from(arguments.cause, known)}"
            )
        changed = _with_afterwards(record, arguments)
        true = {Outcome.RIGHT: record.cause, Outcome.WRONG: arguments.cause, Outcome.NOT_KNOWN: None}[outcome]
        changed = replace(changed, outcome=outcome, true_cause=true)
        if arguments.done is not None:
            _known_remedies(shelf, changed)
        book.replace(changed)
    return _tell(
        changed, arguments.json, f"Case {changed.id}: {outcome}" + (f", it was {true}." if arguments.cause else ".")
    )


def _known_remedies(shelf: Shelf, record: Record) -> None:
    from troubleshoot.casebook.errors import BookError

    known = shelf.rulebase(record.family).families[record.family].remedies
    for remedy in record.done:
        if remedy not in known:
            raise BookError(f"book: {record.family} has no remedy '{remedy}'; {choose_from(remedy, known)}")


def _tell(record: Record, as_json: bool, words: str) -> int:
    from troubleshoot.casebook.lines import to_data

    if as_json:
        print_json(to_data(record))
    else:
        print(plain(words))
    return 0
