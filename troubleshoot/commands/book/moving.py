"""``batchmend book export`` and ``import``: the book as JSON Lines, or as a table for a spreadsheet."""

from __future__ import annotations

import argparse
import io
import sys
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any, TextIO, cast

from troubleshoot.commands.book.common import add_book, add_filters, open_book, wanted
from troubleshoot.commands.output import plain, plain_json, plain_row

if TYPE_CHECKING:
    from troubleshoot.casebook.record import Record


def add_to(commands: Any) -> None:
    """Add both subcommands."""
    export = commands.add_parser("export", help="write cases as JSON Lines, oldest first, or as CSV; pictures by name")
    export.add_argument("file", nargs="?", type=Path, metavar="FILE", help="a new file; by default the output")
    export.add_argument("--csv", action="store_true", help="as a table; a spreadsheet will find no formula in it")
    add_filters(export)
    add_book(export)
    export.set_defaults(run=run_export)
    taken = commands.add_parser("import", help="put the cases of a JSON Lines file into the book, all or none")
    taken.add_argument("file", metavar="FILE", help="the file; - is the input")
    add_book(taken)
    taken.set_defaults(run=run_import)


def run_export(arguments: argparse.Namespace, rules: Path) -> int:
    """Write the cases that fit."""
    from troubleshoot.casebook import exchange
    from troubleshoot.casebook.errors import BookError

    write = exchange.write_table if arguments.csv else exchange.write_lines
    named = 0

    def counted(records: Iterable[Record]) -> Iterator[Record]:
        nonlocal named
        for record in records:
            named += len(record.pictures)
            yield record

    with open_book(arguments) as book:
        records = counted(book.each(wanted(arguments)))
        if arguments.file is None:
            # Writing lines and tables needs no more of a stream than this.
            write(records, cast(TextIO, _Shown(plain_row if arguments.csv else plain_json)))
            return 0
        try:
            with exchange.new_file(arguments.file) as stream:
                number = write(records, stream)
        except FileExistsError:
            raise BookError(f"{arguments.file}: there is a file already; it was left as it is. Name another.") from None
        except OSError as error:
            raise BookError(f"{arguments.file}: it cannot be written ({error.strerror or error}).") from None
    print(plain(f"{number} cases written to {arguments.file}."))
    if named:
        print(f"Pictures named in it, not held: {named}. 'batchmend book backup' copies the pictures too.")
    return 0


class _Shown:
    """The output as UTF-8 without change of line ends, whatever the terminal's language; nothing in it drives one."""

    def __init__(self, spell: Callable[[str], str]) -> None:
        """``spell`` makes the control characters of a line visible."""
        self._spell = spell
        if isinstance(sys.stdout, io.TextIOWrapper):
            sys.stdout.reconfigure(encoding="utf-8", newline="")

    def write(self, text: str) -> int:
        """Write a text and return the number of characters written."""
        return sys.stdout.write(self._spell(text))


def run_import(arguments: argparse.Namespace, rules: Path) -> int:
    """Take in the cases of a file."""
    from troubleshoot.casebook import exchange
    from troubleshoot.casebook.entry import bring_pictures
    from troubleshoot.casebook.errors import BookError

    with open_book(arguments) as book:
        if arguments.file == "-":
            new, known = exchange.take_in(book, sys.stdin.buffer, "input")
        else:
            try:
                with Path(arguments.file).open("rb") as stream:
                    new, known = exchange.take_in(book, stream, arguments.file)
            except OSError as error:
                raise BookError(f"{arguments.file}: it cannot be read ({error.strerror or error}).") from None
        missing = bring_pictures(book)
    print(f"{new} cases put into the book" + (f"; {known} were in it already." if known else "."))
    if missing:
        print(f"Pictures named but not in the book: {len(missing)}. Such a file holds none, a backup does.")
    return 0
