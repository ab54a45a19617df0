"""Write cases into a book one by one and say on the output when each is on the disk; for tests that kill it, or run two.

``python book_writer.py BOOK NAME FIRST COUNT``: after each line ``ok ID ANSWERS`` that case has so many answers for good.
Every case goes in with one answer and then gains two more, so that additions and changes are both cut off somewhere.
``held ID ANSWERS`` says the same of the unfinished case that an interview keeps in a file beside the book.
``once`` as a fifth word adds each case whole.
"""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path
from types import MappingProxyType

from small_records import NOON, record

from troubleshoot.casebook.record import GivenAnswer
from troubleshoot.casebook.store import Book
from troubleshoot.inference.facts import Given
from troubleshoot.interview.state import State
from troubleshoot.interview.store import CaseStore


def main(where: str, name: str, first: int, count: int, once: bool) -> None:
    """Write the cases."""
    answers = tuple(GivenAnswer(f"sign_{n}", "yes" if n % 2 else None, None, NOON) for n in range(3))
    cases = CaseStore(Path(where).parent / "cases")
    with Book.open(where, wait_s=60) as book:
        print("open", flush=True)
        for number in range(first, first + count):
            case = record(number % 10_000, id=f"{name}-{number}", answers=answers if once else answers[:1])
            book.add(case)
            print("ok", case.id, len(case.answers), flush=True)
            for told in () if once else (2, 3):
                said = {answer.sign: Given(answer.answer) for answer in answers[:told]}
                cases.save(case.id, State(family="shortbread", answers=MappingProxyType(said)))
                print("held", case.id, told, flush=True)
                book.replace(replace(case, answers=answers[:told]))
                print("ok", case.id, told, flush=True)


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2], int(sys.argv[3]), int(sys.argv[4]), sys.argv[5:] == ["once"])
