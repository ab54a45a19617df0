"""Kill a writer of the case book at random moments and count what is lost: ``python tests/bench/kill_book.py [KILLS] [SEED]``.

200 kills take about two minutes.
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

sys.path[:0] = [str(Path(__file__).parents[1] / "support"), str(Path(__file__).parents[2])]

from kill_book import kill_some  # noqa: E402


def main() -> int:
    """Kill, look and tell."""
    kills = int(sys.argv[1]) if len(sys.argv) > 1 else 200
    seed = int(sys.argv[2]) if len(sys.argv) > 2 else 1
    with tempfile.TemporaryDirectory(prefix="book") as folder:
        book = Path(folder) / "book.db"
        tally = kill_some(book, kills, seed)
    print(
        f"{tally.kills} kills, {tally.mid_write} left a journal, {sum(tally.said.values())} answers acknowledged "
        f"in the book, {sum(tally.held.values())} of cases in hand"
    )
    print(f"lost or damaged: {len(tally.lost)}")
    for problem in tally.lost:
        print("  " + problem)
    return 1 if tally.lost else 0


if __name__ == "__main__":
    raise SystemExit(main())
