"""``batchmend practice-set`` and ``batchmend practice-results``: what a trainer makes and what came of it."""

from __future__ import annotations

import argparse
import io
import sys
from pathlib import Path
from typing import Any

from troubleshoot import atomic, settings
from troubleshoot.commands.output import plain, print_text
from troubleshoot.errors import CaseError
from troubleshoot.interview.shelf import Shelf
from troubleshoot.practice import sheets, trainer
from troubleshoot.practice.cases import CaseKey, checked, draw_case
from troubleshoot.practice.record import Finished, LearnerStore
from troubleshoot.practice.round import Round
from troubleshoot.practice.sets import CaseSet, read_set, write_set
from troubleshoot.problems import Place, Problem

#: Confusions printed; the table has them all.
SHOWN = 8


def add_to(commands: Any) -> None:
    """Add both commands."""
    made = commands.add_parser("practice-set", help="a set of cases for all: make one, or print its sheets")
    made.add_argument("file", type=Path, metavar="SET.yaml")
    made.add_argument("--make", metavar="FAMILY", help="make the file, of cases of this family")
    made.add_argument("--title", default="", help="with --make: the title")
    made.add_argument("--level", type=int, default=1, help="with --make: the level, 1 to 4 (1)")
    made.add_argument("--numbers", default="", help="with --make: the numbers of the cases, as in 3,17,20")
    made.add_argument("--answers", action="store_true", help="print the answer sheet, not the work sheet")
    made.set_defaults(run=run_set)
    results = commands.add_parser("practice-results", help="what learners know and confuse, and their records as files")
    results.add_argument("--learner", metavar="X", help="only this learner")
    results.add_argument("--set", type=Path, metavar="SET.yaml", help="only the cases of this set")
    results.add_argument("--csv", type=Path, metavar="FILE", help="write a table instead; - for the terminal")
    results.add_argument("--export", type=Path, metavar="FILE", help="write the learner's record to a file")
    results.add_argument("--import", dest="take_in", type=Path, metavar="FILE", help="read an exported record")
    results.add_argument("--forget", action="store_true", help="delete all that is kept of the learner")
    results.set_defaults(run=run_results)


def run_set(arguments: argparse.Namespace, rules: Path) -> int:
    """Make a set, or print a sheet of one."""
    shelf = Shelf(rules)
    if arguments.make is not None:
        shelf.rulebase(arguments.make)
        keys = tuple(checked(CaseKey(arguments.make, arguments.level, n)) for n in _numbers(arguments.numbers))
        write_set(arguments.file, CaseSet(arguments.title or arguments.make, keys))
        print_text(f"Kept as {arguments.file}, cases: {len(keys)}.")
        return 0
    chosen = read_set(arguments.file, [header.id for header in shelf.headers])
    wording = settings.load().settings.wording()
    rounds = [
        Round(shelf.reasoner(key.family), draw_case(shelf.reasoner(key.family), key), wording) for key in chosen.keys
    ]
    print_text(chosen.title)
    for block in sheets.answer_sheet(rounds) if arguments.answers else sheets.work_sheet(rounds):
        if block.kind in ("title", "heading"):
            print()
        print_text(block.text, "   " if block.kind == "step" else "")
    return 0


def run_results(arguments: argparse.Namespace, rules: Path) -> int:
    """Print, write, take in or delete records."""
    store = LearnerStore()
    if arguments.take_in is not None:
        learner, new = store.take_in(arguments.take_in)
        print_text(f"New rounds of {learner}: {new}.")
        return 0
    if arguments.export is not None or arguments.forget:
        return _of_one(store, arguments)
    rounds = _chosen(store, arguments, rules)
    if arguments.csv is not None:
        return _table(rounds, arguments.csv)
    _print(rounds, Shelf(rules))
    return 0


def _of_one(store: LearnerStore, arguments: argparse.Namespace) -> int:
    if arguments.learner is None:
        advice = "name one with --learner"
        raise CaseError([Problem(Place("practice-results"), "learner", "no learner is named", advice)])
    if arguments.export is not None:
        count = store.export(arguments.learner, arguments.export)
        print_text(f"Kept as {arguments.export}, rounds: {count}.")
    if arguments.forget:
        store.forget(arguments.learner)
        print_text(f"Nothing is kept of {arguments.learner} any more.")
    return 0


def _chosen(store: LearnerStore, arguments: argparse.Namespace, rules: Path) -> list[tuple[str, Finished]]:
    learners = store.learners() if arguments.learner is None else (arguments.learner,)
    rounds = [(learner, one) for learner in learners for one in store.rounds(learner)]
    if arguments.set is None:
        return rounds
    codes = {key.code for key in read_set(arguments.set, [header.id for header in Shelf(rules).headers]).keys}
    return [(learner, one) for learner, one in rounds if one.code in codes]


def _table(rounds: list[tuple[str, Finished]], path: Path) -> int:
    stream = io.StringIO(newline="")
    trainer.write_table(rounds, stream)
    if str(path) == "-":
        sys.stdout.write("".join(plain(line) + "\n" for line in stream.getvalue().splitlines()))
    else:
        atomic.write_text(path, stream.getvalue())
        print_text(f"Kept as {path}, rounds: {len(rounds)}.")
    return 0


def _print(rounds: list[tuple[str, Finished]], shelf: Shelf) -> None:
    if not rounds:
        print_text("No round was finished yet. Begin one with: batchmend practise FAMILY --learner NICKNAME")
    for learner in dict.fromkeys(learner for learner, _ in rounds):
        mine = [one for who, one in rounds if who == learner]
        print_text(learner)
        for family in dict.fromkeys(one.family for one in mine):
            _print_family([one for one in mine if one.family == family], family, shelf)


def _print_family(rounds: list[Finished], family: str, shelf: Shelf) -> None:
    known_here = {header.id for header in shelf.headers}
    causes = shelf.rulebase(family).families[family].causes if family in known_here else {}
    names = {cause.id: cause.name for cause in causes.values()}
    passed = sum(one.passed for one in rounds)
    print_text(f"{family}: rounds {len(rounds)}, passed {passed}", "  ")
    known = trainer.known_causes(rounds, names)
    for title, held in (("Known", True), ("Not yet known", False)):
        here = [one for one in known if one.known is held]
        if here:
            print_text(f"{title}:", "    ")
        for cause in here:
            print_text(f"{cause.name} ({cause.named} of {cause.met} right)", "      ")
    confused = trainer.confusions(rounds, names).wrong()[:SHOWN]
    if confused:
        print_text("Confused:", "    ")
    for work, named, times in confused:
        print_text(f"“{work}” was taken for “{named}” ({times} ×)", "      ")
    for week in trainer.weeks(rounds):
        print_text(f"Week of {week.monday}: rounds {week.rounds}, right {week.right}, passed {week.passed}", "    ")


def _numbers(text: str) -> list[int]:
    words = [word.strip() for word in text.split(",") if word.strip()]
    if not words or not all(word.isascii() and word.isdigit() for word in words):
        wrong = "no numbers of cases" if not words else f"'{text}' are no numbers of cases"
        raise CaseError([Problem(Place("practice-set"), "numbers", wrong, "write them as in --numbers 3,17,20")])
    return [int(word) for word in words]
