"""``batchmend book list`` and ``show``: cases of the book, newest first, and one of them in full."""

from __future__ import annotations

import argparse
from collections.abc import Collection
from pathlib import Path
from typing import TYPE_CHECKING, Any

from troubleshoot.commands.book.common import add_book, add_filters, local, open_book, wanted, whole_id
from troubleshoot.commands.output import plain, print_json, print_text

if TYPE_CHECKING:
    from troubleshoot.casebook.record import GivenAnswer, Record

#: Cases on a page unless told otherwise.
PAGE = 20


def add_to(commands: Any) -> None:
    """Add both subcommands."""
    listed = commands.add_parser("list", help="list cases, newest first")
    add_filters(listed)
    listed.add_argument("--limit", type=_whole, default=PAGE, metavar="N", help=f"at most so many ({PAGE})")
    listed.add_argument("--offset", type=_whole, default=0, metavar="N", help="leave out the newest so many")
    listed.add_argument("--json", action="store_true", help="print as JSON")
    add_book(listed)
    listed.set_defaults(run=run_list)
    show = commands.add_parser("show", help="show a case in full")
    show.add_argument("id", metavar="ID", help="the case's id, or its beginning")
    show.add_argument("--json", action="store_true", help="print as JSON")
    add_book(show)
    show.set_defaults(run=run_show)


def _whole(text: str) -> int:
    if text.isascii() and text.isdigit() and len(text) <= 9:
        return int(text)
    raise argparse.ArgumentTypeError(f"'{text}' is no whole number")


def run_list(arguments: argparse.Namespace, rules: Path) -> int:
    """List the cases that fit."""
    from dataclasses import replace

    from troubleshoot.casebook.lines import to_data

    chosen = wanted(arguments)
    with open_book(arguments) as book:
        page = book.records(replace(chosen, limit=arguments.limit, offset=arguments.offset))
        number = book.count(chosen)
    if arguments.json:
        print_json({"cases": number, "offset": arguments.offset, "shown": [to_data(record) for record in page]})
        return 0
    if not page:
        print("No case fits." if number == 0 else f"There are {number} cases; none so far back.")
        return 0
    for record in page:
        print(plain(_line(record)))
    shown = f"{arguments.offset + 1} to {arguments.offset + len(page)} of {number}"
    print(
        f"\n{shown}."
        + (" More: --offset " + str(arguments.offset + len(page)) if number > arguments.offset + len(page) else "")
    )
    return 0


def _line(record: Record) -> str:
    verdict = record.cause or "none of those known"
    sure = f" {record.suspects[0].probability:.0%}" if record.suspects else ""
    outcome = {"right": "right", "wrong": f"wrong: {record.true_cause or 'none of those known'}"}.get(
        record.outcome, ""
    )
    lost = "" if record.pieces_lost is None else f"lost {record.pieces_lost}"
    where = record.kitchen + (" (invented)" if record.invented else "")
    parts = (record.id, local(record.finished), record.family, f"{verdict}{sure}", outcome, lost, where.strip())
    return "  ".join(part for part in parts if part)


def run_show(arguments: argparse.Namespace, rules: Path) -> int:
    """Show one case."""
    from troubleshoot.casebook.lines import to_data

    with open_book(arguments) as book:
        record = book.get(whole_id(book, arguments.id))
        missing = book.pictures_missing(record.pictures)
    if arguments.json:
        print_json(to_data(record))
        return 0
    _print(record, missing)
    return 0


def _print(record: Record, missing: Collection[str]) -> None:
    for head, text in (
        ("Case", record.id + (" (invented)" if record.invented else "")),
        ("Family", record.family),
        ("Kitchen", record.kitchen),
        ("Role on shift", record.role),
        ("Begun", local(record.begun)),
        ("Finished", local(record.finished)),
        ("Complaint", record.fault or "hard to say"),
        ("Stage", record.stage or ""),
        ("Rule base", record.rules_version),
    ):
        if text:
            print_text(text, first=f"{head}: ")
    print("\nAnswers")
    for answer in record.answers:
        print_text(f"{answer.sign}: {_said(answer)} ({local(answer.at)[-5:]})", "  ", "- ")
    print("\nVerdict" + (" (settled)" if record.settled else ""))
    for suspect in record.suspects:
        print_text(f"{suspect.cause}: {suspect.probability:.1%}", "  ", "- ")
    if not record.suspects:
        print_text("none of the causes known", "  ", "- ")
    print("\nAfterwards")
    for head, value in (
        ("Outcome", _outcome(record)),
        ("Done", ", ".join(record.done)),
        ("Pieces in the batch", record.pieces),
        ("Pieces saved", record.pieces_saved),
        ("Pieces lost", record.pieces_lost),
        ("Minutes", None if record.minutes is None else f"{record.minutes:g}"),
        ("Pictures", ", ".join(name + (" (not in the book)" if name in missing else "") for name in record.pictures)),
    ):
        if value not in (None, ""):
            print_text(str(value), "  ", f"- {head}: ")
    for line in record.note.splitlines():
        print_text(line, "    ")


def _said(answer: GivenAnswer) -> str:
    if answer.answer is not None:
        return answer.answer
    return "can't tell" if answer.value is None else f"{answer.value:g}"


def _outcome(record: Record) -> str:
    if record.outcome == "wrong":
        return f"wrong: it was {record.true_cause or 'none of the causes known'}"
    return "right" if record.outcome == "right" else "not known"
