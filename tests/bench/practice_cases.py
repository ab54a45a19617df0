"""Practice cases in bulk, and learners marked on them.  Run it from the root of the tree:

    python tests/bench/practice_cases.py [--cases 500] [--learners 60] [FAMILY ...]

For each family it draws so many cases over all levels and prints how many are impossible, unsolved or told by their
wording; then it has four made-up learners work the same cases and prints their marks.  Exit 1 when a promise fails.
"""

from __future__ import annotations

import argparse
import statistics
import sys
import time
import zlib
from collections import Counter
from itertools import pairwise
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1] / "support"))

from practice_checks import given_away, impossible
from practice_learners import LEARNERS

from troubleshoot.inference.reason import Reasoner
from troubleshoot.interview.shelf import Shelf
from troubleshoot.practice.cases import LEVELS, CaseKey, PracticeCase, draw_case
from troubleshoot.practice.views import Marks


def main() -> int:
    """Draw, check and mark; return 1 when a promise fails."""
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("family", nargs="*")
    options.add_argument("--cases", type=int, default=500, help="cases a family (500)")
    options.add_argument("--learners", type=int, default=60, help="cases a family that each learner works (60)")
    options.add_argument("--level", type=int, choices=LEVELS, help="cases of one level only")
    arguments = options.parse_args()
    levels = LEVELS if arguments.level is None else (arguments.level,)
    shelf = Shelf()
    failed = False
    marks: dict[str, list[Marks]] = {name: [] for name in LEARNERS}
    for family in arguments.family or [header.id for header in shelf.headers]:
        reasoner = shelf.reasoner(family)
        if arguments.cases:
            failed |= drawn(reasoner, keys(family, arguments.cases, levels))
        for key in keys(family, arguments.learners, levels):
            case = draw_case(reasoner, key)
            for name, learner in LEARNERS.items():
                rng = np.random.default_rng([zlib.crc32(name.encode()), key.level, key.number])
                marks[name].append(learner(reasoner, case, rng))
    if arguments.learners:
        failed |= ranked(marks)
    return int(failed)


def keys(family: str, count: int, levels: tuple[int, ...]) -> list[CaseKey]:
    """As many keys of each level, the numbers from 1 on."""
    return [CaseKey(family, levels[at % len(levels)], 1 + at // len(levels)) for at in range(count)]


def drawn(reasoner: Reasoner, of: list[CaseKey]) -> bool:
    """Draw and check the cases of a family, print what was found, and return whether a promise failed."""
    began, count = time.perf_counter(), len(of)
    bad: Counter[str] = Counter()
    solved = hard = two = 0
    asked: list[int] = []
    hidden: set[tuple[str, ...]] = set()
    for key in of:
        case = draw_case(reasoner, key)
        for wrong in impossible(reasoner, case):
            bad["impossible"] += 1
            print(f"  {key.code}: {wrong}")
        told = given_away(reasoner, case)
        if told:
            bad["told"] += 1
            print(f"  {key.code}: the wording tells {told}")
        if key.number % 25 == 0 and draw_case(reasoner, key) != case:
            bad["not the same twice"] += 1
        if not case.hard and not settled(case):
            bad["not marked hard"] += 1
        solved += case.program.cause in case.causes and len(case.program.asked) <= 8
        hard, two = hard + case.hard, two + (len(case.causes) > 1)
        asked.append(len(case.program.asked))
        hidden.add(case.causes)
    seconds = (time.perf_counter() - began) / count
    print(
        f"{reasoner.family.id}: {count} cases, {len(hidden)} different mistakes or pairs, {hard} hard, {two} with two; "
        f"solved in at most 8 questions {solved / count:.1%} (mean {statistics.mean(asked):.2f}); "
        f"wrong: {dict(bad) or 'none'}; {seconds:.2f} s a case with its checks",
        flush=True,
    )
    return bool(bad) or solved < 0.9 * count


def settled(case: PracticeCase) -> bool:
    """Whether the program settled the only mistake."""
    return len(case.causes) == 1 and case.program.settled


def ranked(marks: dict[str, list[Marks]]) -> bool:
    """Print each learner's marks and return whether they fail to rank in order."""
    means = []
    for name, all_marks in marks.items():
        means.append(statistics.mean(one.total for one in all_marks))
        passed = sum(one.passed for one in all_marks) / len(all_marks)
        right = sum(one.points[0].full for one in all_marks) / len(all_marks)
        print(f"{name:18} {len(all_marks)} cases: {means[-1]:5.1f} marks, cause right {right:.1%}, passed {passed:.1%}")
    full = all(one.total == 100 for one in marks["perfect"])
    guessed = sum(one.passed for one in marks["careless"]) / len(marks["careless"])
    print(f"perfect has full marks in all: {full}; a guesser passes {guessed:.1%}")
    in_order = all(better > worse for better, worse in pairwise(means))
    return not (full and in_order and guessed <= 0.05)


if __name__ == "__main__":
    raise SystemExit(main())
