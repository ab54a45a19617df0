"""The command line: ``batchmend`` opens the window; every other command is a word after it."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import NoReturn

from troubleshoot import __version__, resources
from troubleshoot.errors import UserError
from troubleshoot.problems import plain

#: Exit codes: all well; findings of a check; something given cannot be read or used.
OK, FINDINGS, UNUSABLE = 0, 1, 2


class _Parser(argparse.ArgumentParser):
    """A parser whose errors are one plain line."""

    def error(self, message: str) -> NoReturn:
        print(plain(f"{self.prog}: {message}; see {self.prog} --help"), file=sys.stderr)
        raise SystemExit(UNUSABLE)


def _options() -> argparse.ArgumentParser:
    """Return the parser of what can stand before a command."""
    top = _Parser(prog="batchmend", description="What went wrong with a batch of pastry, what saves it, and why.")
    top.add_argument("--rules", type=Path, metavar="FOLDER", help="use this rules folder instead of the one shipped")
    top.add_argument("--version", action="store_true", help="print the version and the rules folder in use")
    return top


def parser() -> argparse.ArgumentParser:
    """Return the parser with every command."""
    # Reading in every command costs a second that the window and --version need not wait for.
    from troubleshoot.commands import (
        amounts,
        ask,
        book,
        card,
        check,
        diagnose,
        explain,
        listing,
        measure,
        new,
        practice,
        practise,
        profile,
    )

    top = _options()
    commands = top.add_subparsers(dest="command", metavar="COMMAND", parser_class=_Parser)
    for module in (
        ask,
        diagnose,
        explain,
        listing,
        check,
        new,
        measure,
        amounts,
        profile,
        book,
        card,
        practise,
        practice,
    ):
        module.add_to(commands)
    return top


def _parsed(argv: Sequence[str]) -> argparse.Namespace:
    if not {"-h", "--help"} & set(argv):
        arguments, further = _options().parse_known_args(argv)
        if not further:
            arguments.command = None
            return arguments
    return parser().parse_args(argv)


def _run(arguments: argparse.Namespace) -> int:
    rules: Path = arguments.rules if arguments.rules is not None else resources.folder("rules")
    if arguments.version:
        print(plain(f"batchmend {__version__}\nrules: {rules}"))
        return OK
    if arguments.command is None:
        from troubleshoot.commands import window

        return window.run(rules)
    code: int = arguments.run(arguments, rules)
    return code


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code."""
    arguments = _parsed(sys.argv[1:] if argv is None else argv)
    try:
        code = _run(arguments)
        if sys.stdout is not None:
            # What could not be shown is noticed here, and not when nobody can be told any more.
            sys.stdout.flush()
        return code
    except UserError as error:
        print(plain(str(error)), file=sys.stderr)
        return UNUSABLE
    except KeyboardInterrupt:
        print(file=sys.stderr)
        return 130
    except BrokenPipeError:
        # The reader of our output has gone; there is nobody left to tell.
        _show_nothing_more()
        return OK
    except OSError as error:
        if error.filename is None and error.errno is not None:
            _show_nothing_more()
        print(plain(f"batchmend: {_said(error)}"), file=sys.stderr)
        return UNUSABLE


def _show_nothing_more() -> None:
    """Let what is still to be shown go nowhere, or Python would try once more at its end."""
    sys.stdout = open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115, PTH123


def _said(error: OSError) -> str:
    """Return what the system refused, with the file it was about, in one line."""
    if error.errno is None:
        return str(error)
    reason = error.strerror or os.strerror(error.errno)
    if error.filename is None:
        return f"this could not be finished ({reason}); make room on the disk, or choose another place to write to"
    return f"{error.filename}: this cannot be read or written ({reason})"


if __name__ == "__main__":
    raise SystemExit(main())
