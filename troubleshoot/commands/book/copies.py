"""``batchmend book backup``, ``restore`` and ``check``: a copy of the book, bringing it back, whether all is well."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING, Any

from troubleshoot.commands.book.common import add_book, open_book
from troubleshoot.commands.output import plain, print_json

if TYPE_CHECKING:
    from troubleshoot.casebook.upkeep import Copied, Restored


def add_to(commands: Any) -> None:
    """Add the subcommands."""
    backup = commands.add_parser(
        "backup", help="write a copy of the whole book with its pictures, also while it is in use"
    )
    backup.add_argument("file", type=Path, metavar="FILE", help="a new file")
    add_book(backup)
    backup.set_defaults(run=run_backup)
    restore = commands.add_parser("restore", help="put a copy in the place of the book")
    restore.add_argument("file", type=Path, metavar="FILE", help="a file that 'batchmend book backup' wrote")
    restore.add_argument("--over", action="store_true", help="also when the book holds cases; they are kept beside it")
    add_book(restore)
    restore.set_defaults(run=run_restore)
    check = commands.add_parser("check", help="look whether the book is whole; exit 1 when it is not")
    check.add_argument("--json", action="store_true", help="print as JSON")
    add_book(check)
    check.set_defaults(run=run_check)


def run_backup(arguments: argparse.Namespace, rules: Path) -> int:
    """Write a copy."""
    from troubleshoot.casebook import upkeep

    with open_book(arguments) as book:
        done = upkeep.backup(book, arguments.file)
    print(plain(f"{_held(done)} copied to {arguments.file}.{_missing(done)}"))
    return 0


def run_restore(arguments: argparse.Namespace, rules: Path) -> int:
    """Bring a copy back."""
    from troubleshoot.casebook import upkeep

    done = upkeep.restore(arguments.file, arguments.book, over=arguments.over)
    kept = f" What was there is kept as {done.kept}." if done.kept else ""
    print(plain(f"{_held(done)} brought back.{_missing(done)}{kept}"))
    return 0


def _held(done: Copied | Restored) -> str:
    return f"{done.cases} cases" + (f" with {done.pictures} pictures" if done.pictures else "")


def _missing(done: Copied | Restored) -> str:
    """Return what is to be said of pictures that cases name and the book does not hold."""
    if not done.missing:
        return ""
    return f" Pictures missing: {done.missing}; they may still lie on the machine they were attached on."


def run_check(arguments: argparse.Namespace, rules: Path) -> int:
    """Say what is wrong with the book."""
    from troubleshoot.casebook import upkeep

    with open_book(arguments) as book:
        found = upkeep.check(book)
        number, where = book.count(), book.where
    if arguments.json:
        print_json({"book": where, "cases": number, "findings": found})
    else:
        for finding in found:
            print(plain(f"{where}: {finding}"))
        if not found:
            print(plain(f"{where}: {number} cases, all whole."))
    return 1 if found else 0
