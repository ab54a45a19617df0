"""Many interviews in one process: ``python tests/bench/long_run.py [--interviews 10000] [--fresh 40] [--minutes 60]``.

Draws a batch for each, holds its interview through the session that window and terminal use, verdict and all, and
prints the memory and the file handles held as it goes.  At the end some of the interviews are held again, each in a
process of its own, and must come out the same.  Exit 1 when one does not, or when memory or handles grew.
"""

from __future__ import annotations

import argparse
import hashlib
import json
import subprocess
import sys
import time
from pathlib import Path

import numpy as np

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))

from troubleshoot.inference.selfmeasure import draw  # noqa: E402
from troubleshoot.interview.session import Session  # noqa: E402
from troubleshoot.interview.shelf import Shelf  # noqa: E402
from troubleshoot.interview.state import QUESTION, VERDICT  # noqa: E402

#: Memory may swing by so much after the first tenth of the interviews; it may not grow with their number.
MOST_GROWTH_MB = 12.0


def hold(shelf: Shelf, number: int) -> str:
    """Hold interview ``number`` and return what came of it as text; the number alone decides what is drawn."""
    families = [header.id for header in shelf.headers]
    family = families[number % len(families)]
    reasoner = shelf.reasoner(family)
    causes = reasoner.network.causes
    cause = causes[(number // len(families)) % len(causes)]
    batch = draw(reasoner, cause, np.random.default_rng([1, number]))
    session = Session(shelf)
    session.choose_family(family)
    session.choose_fault(batch.complaint)
    while session.step == QUESTION:
        session.answer(batch.shows[session.question().sign])
    if session.step != VERDICT:
        session.to_verdict()
    conclusion = session.conclusion
    suspects = [(one.cause, round(one.probability, 12)) for one in conclusion.suspects]
    told = json.dumps([family, cause, suspects, sorted(conclusion.case.answers), repr(session.verdict())])
    return hashlib.sha256(told.encode("utf-8")).hexdigest()[:16] + f" {suspects[0][0] if suspects else 'nothing'}"


def memory_mb() -> float:
    """Return the memory this process holds now, in MB (Linux)."""
    lines = Path("/proc/self/status").read_text(encoding="utf-8").splitlines()
    return int(next(line for line in lines if line.startswith("VmRSS")).split()[1]) / 1024


def handles() -> int:
    """Return how many files this process holds open (Linux)."""
    return sum(1 for _ in Path("/proc/self/fd").iterdir())


def main() -> int:
    """Run, print and judge."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--interviews", type=int, default=10_000)
    parser.add_argument("--fresh", type=int, default=40, help="interviews held again in processes of their own (40)")
    parser.add_argument("--minutes", type=float, default=60.0, help="stop after this time (60)")
    parser.add_argument("--one", type=int, help=argparse.SUPPRESS)
    arguments = parser.parse_args()
    shelf = Shelf()
    if arguments.one is not None:
        print(hold(shelf, arguments.one))
        return 0
    came: list[str] = []
    settled: tuple[float, int] | None = None
    start = time.monotonic()
    step = max(1, arguments.interviews // 10)
    for number in range(arguments.interviews):
        came.append(hold(shelf, number))
        if (number + 1) % step == 0:
            print(f"{number + 1:>7} interviews: {memory_mb():6.1f} MB, {handles()} handles", flush=True)
            settled = settled or (memory_mb(), handles())
        if time.monotonic() - start > 60 * arguments.minutes:
            print(f"stopped after {arguments.minutes:g} minutes")
            break
    took = time.monotonic() - start
    print(f"{len(came)} interviews in {took:.0f} s, {1000 * took / len(came):.0f} ms each")
    again = [int(number) for number in np.linspace(0, len(came) - 1, min(arguments.fresh, len(came)))]
    differ = []
    for number in again:
        command = [sys.executable, __file__, "--one", str(number)]
        if subprocess.run(command, check=True, capture_output=True, text=True).stdout.strip() != came[number]:
            differ.append(number)
    print(f"{len(again)} of them held again in fresh processes: {len(differ)} differ {differ or ''}")
    grown = (memory_mb() - settled[0], handles() - settled[1]) if settled else (0.0, 0)
    print(f"since the first tenth: {grown[0]:+.1f} MB, {grown[1]:+d} handles")
    return int(bool(differ) or grown[0] > MOST_GROWTH_MB or grown[1] > 0)


if __name__ == "__main__":
    raise SystemExit(main())
