"""Kill a writer of the book without warning at random moments, and look whether anything it said it had is lost."""

from __future__ import annotations

import random
import subprocess
import sys
import time
from dataclasses import dataclass, field
from pathlib import Path

from troubleshoot.casebook.store import Book
from troubleshoot.casebook.upkeep import check
from troubleshoot.interview.store import CaseStore

WRITER = Path(__file__).with_name("book_writer.py")


@dataclass
class Tally:
    """What the killed writers had said: the answers of each case in the book and in hand, and how many were killed."""

    said: dict[str, int] = field(default_factory=dict)
    held: dict[str, int] = field(default_factory=dict)
    kills: int = 0
    mid_write: int = 0
    lost: list[str] = field(default_factory=list)


def kill_some(book: Path, kills: int, seed: int, most_said: int = 8, longest_s: float = 0.01) -> Tally:
    """Start a writer and kill it, so many times, at a random moment of its writing; look after each.

    The moment lies up to ``longest_s`` seconds, about three transactions, after some number of answers was said.
    """
    chance = random.Random(seed)
    tally = Tally()
    for number in range(kills):
        command = [sys.executable, str(WRITER), str(book), f"k{number}", "0", "100000"]
        writer = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
        assert writer.stdout is not None
        assert writer.stdout.readline() == "open\n", writer.communicate()[1]
        heard = [writer.stdout.readline() for _ in range(chance.randint(0, most_said))]
        time.sleep(chance.uniform(0, longest_s))
        writer.kill()
        out = "".join(heard) + writer.communicate()[0]
        tally.kills += 1
        tally.mid_write += Path(f"{book}-wal").exists()
        for line in out.splitlines():
            words = line.split()
            # The last line may have been cut off in the pipe; then it was not said.
            if len(words) == 3 and line in out.split("\n")[:-1]:
                (tally.said if words[0] == "ok" else tally.held)[words[1]] = int(words[2])
        tally.lost += lost(book, tally)
    return tally


def lost(book: Path, tally: Tally) -> list[str]:
    """Return what was said to be on the disk and is not, and what is wrong with the book."""
    with Book.open(book) as opened:
        there = {case.id: len(case.answers) for case in opened.each()}
        found = [
            f"{case}: {answers} answers said" for case, answers in tally.said.items() if there.get(case, 0) < answers
        ]
        found += check(opened)
    cases = CaseStore(book.parent / "cases")
    in_hand = {case.id: len(case.state.answers) for case in cases.unfinished()}
    found += [f"{case} in hand: {n} answers said" for case, n in tally.held.items() if in_hand.get(case, 0) < n]
    return found + cases.messages
