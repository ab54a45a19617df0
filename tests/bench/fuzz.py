"""Spoil rule files at random, at length: ``python tests/bench/fuzz.py --mutants 20000 [--seed 1] [--share 0.1]``.

Prints how many were refused and read, the slowest, and the memory.  Stops with the mutant saved when one raises,
takes over two seconds, or makes the process grow by more than 300 MB.
"""

from __future__ import annotations

import argparse
import os
import random
import resource
import shutil
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path

os.environ["BATCHMEND_CACHE"] = "off"
sys.path[:0] = [str(Path(__file__).parents[1] / "support"), str(Path(__file__).parents[2])]

from rule_mutants import mutant, targets, withstand, withstand_in_folder  # noqa: E402

SMALL = Path(__file__).parents[1] / "support" / "small_rules"


def main() -> int:
    """Fuzz and report: 0 when every mutant was withstood."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--mutants", type=int, default=20_000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument(
        "--share", type=float, default=0.1, help="share of mutants read within a whole rules folder (0.1)"
    )
    arguments = parser.parse_args()
    rng = random.Random(arguments.seed)
    files = targets()
    came: Counter[str] = Counter()
    slowest = (0.0, "")
    start = time.perf_counter()
    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(shutil.copytree(SMALL, Path(scratch) / "rules"))
        names = [path.relative_to(folder).as_posix() for path in sorted(folder.rglob("*.yaml"))]
        for number in range(arguments.mutants):
            target, other = rng.choice(files), rng.choice(files)
            whole = rng.random() < arguments.share
            name = rng.choice(names)
            raw = mutant(rng, (folder / name).read_bytes() if whole else target.raw, other.raw)
            began = time.perf_counter()
            try:
                came[withstand_in_folder(folder, name, raw) if whole else withstand(target, raw)] += 1
            except Exception:
                saved = Path(tempfile.gettempdir()) / f"mutant_{arguments.seed}_{number}.yaml"
                saved.write_bytes(raw)
                print(f"mutant {number} of {name if whole else target.name} was not withstood; saved as {saved}")
                raise
            slowest = max(slowest, (time.perf_counter() - began, name if whole else target.name))
    took = time.perf_counter() - start
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(
        f"{arguments.mutants} mutants in {took:.0f} s: "
        + ", ".join(f"{count} {what}" for what, count in came.most_common())
    )
    print(f"slowest {slowest[0]:.3f} s ({slowest[1]}); the process held {memory:.0f} MB at most")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
