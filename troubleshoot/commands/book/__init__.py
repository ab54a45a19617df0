"""``batchmend book …``: the case book on the command line, one module for each subcommand or two."""

from __future__ import annotations

from typing import Any

from troubleshoot.commands.book import copies, demo, figures, look, moving, seen, writing

#: Modules with ``add_to``, in the order of the help.  The database is only loaded when one of them runs.
SUBCOMMANDS = (look, writing, figures, seen, moving, copies, demo)


def add_to(commands: Any) -> None:
    """Add the command and its subcommands."""
    book = commands.add_parser("book", help="the case book: what went wrong here, and what keeps coming back")
    subcommands = book.add_subparsers(dest="subcommand", metavar="SUBCOMMAND", required=True, parser_class=type(book))
    for module in SUBCOMMANDS:
        module.add_to(subcommands)
