"""How fast the case book answers: python tests/bench/book_times.py [--cases 100000] [--book FILE] [--one-family].

Makes a book of so many cases (unless FILE is there already) and times a page of the list, the causes by pieces lost and
the nearest past cases, each against a bare SQL query of the same rows on the same file.  Exit 1 when one takes longer
than 100 ms.
"""

from __future__ import annotations

import argparse
import sqlite3
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[2]))

from troubleshoot.casebook.demo import FAMILIES
from troubleshoot.casebook.figures import ranked
from troubleshoot.casebook.nearest import answers_of, nearest
from troubleshoot.casebook.record import GivenAnswer, Outcome, Record, Suspected
from troubleshoot.casebook.store import Book, Filter
from troubleshoot.inference.reason import Reasoner
from troubleshoot.inference.selfmeasure import draw
from troubleshoot.interview.shelf import Shelf

#: The most that an answer may take, in ms; how often each is timed.
MOST_MS, TIMES = 100.0, 15

#: Batches drawn from the rule base for each family; cases are made of them.
DRAWN, ANSWERED = 300, 6
BEGINS = datetime(2020, 1, 6, 8, tzinfo=UTC)


def cases(shelf: Shelf, number: int, one_family: bool) -> Iterator[Record]:
    """Yield cases over five years: causes by how common they are, six answers each, most outcomes known."""
    rng = np.random.default_rng(1)
    families = ["choux"] if one_family else list(FAMILIES)
    share = np.array([1.0] if one_family else [FAMILIES[family] for family in families])
    pools = {family: _pool(shelf.reasoner(family), rng) for family in families}
    for at in range(number):
        family = families[int(rng.choice(len(families), p=share / share.sum()))]
        cause, fault, shows = pools[family][int(rng.integers(DRAWN))]
        begun = BEGINS + timedelta(minutes=26 * at)
        signs = rng.choice(len(shows), ANSWERED, replace=False)
        known, right = rng.random() < 0.7, rng.random() < 0.9
        lost = int(rng.integers(0, 12))
        yield Record(
            f"case{at:06}", family, begun, begun + timedelta(minutes=8), fault, None,
            tuple(GivenAnswer(*shows[int(sign)], None, begun) for sign in signs),
            (Suspected(cause, float(rng.uniform(0.5, 1.0))),), True, "bench", kitchen=("lakeside", "boathouse")[at % 2],
            outcome=Outcome.NOT_KNOWN if not known else Outcome.RIGHT if right else Outcome.WRONG,
            true_cause=cause if known and right else None,
            pieces=24, pieces_saved=24 - lost, pieces_lost=lost, minutes=20.0,
        )  # fmt: skip


def _pool(reasoner: Reasoner, rng: np.random.Generator) -> list[tuple[str, str, list[tuple[str, str]]]]:
    causes = reasoner.network.causes
    weights = reasoner.network.prior[1 : 1 + len(causes)]
    found = []
    for _ in range(DRAWN):
        cause = causes[int(rng.choice(len(causes), p=weights / weights.sum()))]
        batch = draw(reasoner, cause, rng)
        found.append((cause, batch.complaint, list(batch.shows.items())))
    return found


def timed(action: Callable[[], object]) -> float:
    """Return the least processor time of an action in ms: what it takes where nothing else wants the machine."""
    action()
    times = []
    for _ in range(TIMES):
        begun = time.process_time()
        action()
        times.append(1000.0 * (time.process_time() - begun))
    return min(times)


def measure(path: Path, shelf: Shelf) -> list[tuple[str, float, float]]:
    """Return what was timed, in ms, each with the bare query of the same rows."""
    reasoner = shelf.reasoner("choux")
    with Book.open(path) as book, sqlite3.connect(path) as bare:
        (newest,) = book.records(Filter(family="choux", limit=1))
        answers = answers_of(reasoner.family, newest)
        deep = book.count() // 2

        def sql(query: str, *values: object) -> Callable[[], object]:
            return lambda: bare.execute(query, values).fetchall()

        page = "SELECT * FROM cases {} ORDER BY finished_us DESC, id DESC LIMIT 24"
        sums = "SELECT family, blamed, count(*), sum(pieces_lost), sum(minutes) FROM cases GROUP BY family, blamed"
        rows = [
            ("list, first page", lambda: book.records(Filter(limit=24)), sql(page.format(""))),
            (
                "list, one family and outcome",
                lambda: book.records(Filter(family="choux", outcome=Outcome.WRONG, limit=24)),
                sql(page.format("WHERE family = ? AND outcome = ?"), "choux", "wrong"),
            ),
            (
                "list, in the middle",
                lambda: book.records(Filter(limit=24, offset=deep)),
                sql(page.format("") + " OFFSET ?", deep),
            ),
            ("causes by pieces lost", lambda: ranked(book.pieces_lost_by_cause(), "pieces"), sql(sums)),
            (
                "nearest cases",
                lambda: nearest(book, reasoner.family, reasoner.network, answers, but=newest.id),
                sql("SELECT case_no, words FROM shapes WHERE family = ?", "choux"),
            ),
        ]
        return [(name, timed(action), timed(query)) for name, action, query in rows]


def main(arguments: list[str]) -> int:
    """Make the book where it is not there, time, print, and say whether all was in time."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--cases", type=int, default=100_000)
    parser.add_argument("--book", type=Path, help="keep the book in this file, or use the one that is there")
    parser.add_argument("--one-family", action="store_true", help="all cases in one family, the hardest for 'nearest'")
    chosen = parser.parse_args(arguments)
    shelf = Shelf()
    with tempfile.TemporaryDirectory() as folder:
        path = chosen.book or Path(folder) / "book.db"
        if not path.exists():
            with Book.open(path) as book:
                book.add_all(cases(shelf, chosen.cases, chosen.one_family))
        found = measure(path, shelf)
        with Book.open(path) as book:
            print(
                f"{book.count()} cases, {book.count(Filter(family='choux'))} of them choux; processor time, the least of {TIMES}"
            )
    for name, took, bare in found:
        print(f"  {name:30} {took:7.1f} ms   bare query {bare:7.1f} ms   ratio {took / bare:5.1f}")
    return 0 if all(took <= MOST_MS for _, took, _ in found) else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
