"""The command line: ``batchmend`` opens the window; every other command is a word after it."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import NoReturn

from troubleshoot import __version__, resources
from troubleshoot.commands import amounts, ask, check, diagnose, explain, listing, measure, new, profile, window
from troubleshoot.errors import UserError

#: Exit codes: all well; findings of a check; something given cannot be read or used.
OK, FINDINGS, UNUSABLE = 0, 1, 2


class _Parser(argparse.ArgumentParser):
    """A parser whose errors are one plain line."""

    def error(self, message: str) -> NoReturn:
        print(f"{self.prog}: {message}; see {self.prog} --help", file=sys.stderr)
        raise SystemExit(UNUSABLE)


def parser() -> argparse.ArgumentParser:
    """Return the parser with every command."""
    top = _Parser(prog="batchmend", description="What went wrong with a batch of pastry, what saves it, and why.")
    top.add_argument("--rules", type=Path, metavar="FOLDER", help="use this rules folder instead of the one shipped")
    top.add_argument("--version", action="store_true", help="print the version and the rules folder in use")
    commands = top.add_subparsers(dest="command", metavar="COMMAND", parser_class=_Parser)
    for module in (ask, diagnose, explain, listing, check, new, measure, amounts, profile):
        module.add_to(commands)
    return top


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code."""
    arguments = parser().parse_args(argv)
    try:
        rules: Path = arguments.rules if arguments.rules is not None else resources.folder("rules")
        if arguments.version:
            print(f"batchmend {__version__}\nrules: {rules}")
            return OK
        if arguments.command is None:
            return window.run(rules)
        code: int = arguments.run(arguments, rules)
        return code
    except UserError as error:
        print(error, file=sys.stderr)
        return UNUSABLE
    except FileNotFoundError as error:
        print(f"batchmend: {error}", file=sys.stderr)
        return UNUSABLE
    except KeyboardInterrupt:
        print(file=sys.stderr)
        return 130
    except BrokenPipeError:
        # The reader of our output has gone; there is nobody left to tell.
        sys.stdout = open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115, PTH123
        return OK


if __name__ == "__main__":
    raise SystemExit(main())
