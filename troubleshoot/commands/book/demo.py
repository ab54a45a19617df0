"""``batchmend book demo``: a book of invented cases to look around in, made and taken away by one command."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import Any

from troubleshoot.commands.book.common import add_book, open_book
from troubleshoot.commands.output import plain
from troubleshoot.errors import UserError


def add_to(commands: Any) -> None:
    """Add the subcommand."""
    command = commands.add_parser("demo", help="make a book of invented cases, apart from your own, to look around in")
    command.add_argument("--seed", type=int, default=1, metavar="N", help="another seed, other cases (1)")
    command.add_argument(
        "--into-mine", action="store_true", help="put the invented cases into your own book, each marked as invented"
    )
    command.add_argument("--remove", action="store_true", help="take the demo book and every invented case away again")
    add_book(command)
    command.set_defaults(run=run)


def run(arguments: argparse.Namespace, rules: Path) -> int:
    """Make the demo book, or take it away."""
    from troubleshoot.casebook import demobook

    if arguments.book is not None and not (arguments.into_mine or arguments.remove):
        raise UserError("book demo: --book goes with --into-mine or --remove; the demo book has a place of its own")
    if arguments.remove:
        with open_book(arguments) as book:
            number = demobook.take_out(book)
        number += demobook.throw_away()
        print(f"{number} invented cases taken away." if number else "There was no invented case.")
        return 0
    from troubleshoot.interview.shelf import Shelf

    records = list(demobook.drawn(Shelf(rules), arguments.seed, _progress))
    if arguments.into_mine:
        with open_book(arguments) as book:
            demobook.put_into(book, records)
            where = book.where
        print(plain(f"{len(records)} invented cases are in the book at {where}, each marked as invented."))
        print("Take them out again with: batchmend book demo --remove")
        return 0
    path = demobook.make(records)
    print(plain(f"{len(records)} invented cases of a season are in {path}."))
    print(plain(f"Look around: batchmend book figures --book {path}"))
    print("Take it away: batchmend book demo --remove")
    return 0


def _progress(done: int, of: int) -> None:
    if sys.stderr.isatty():
        print(f"\rInventing case {done} of {of} …", end="\n" if done == of else "", file=sys.stderr, flush=True)
