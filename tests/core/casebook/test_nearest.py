"""Which past cases are like the one in hand."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import UTC, datetime, timedelta

import numpy as np
import pytest
from small_networks import vocabulary

from troubleshoot.casebook.nearest import answers_of, bits, likeness, nearest
from troubleshoot.casebook.record import GivenAnswer, Outcome, Record, Suspected
from troubleshoot.casebook.store import Book
from troubleshoot.inference.network import Node, build

NOON = datetime(2025, 6, 2, 12, tzinfo=UTC)


def record(case_id: str, fault: str | None, later_h: float = 0.0, **said: str | float | None) -> Record:
    """A choux case of which these things were said."""
    at = NOON + timedelta(hours=later_h)
    answers = tuple(
        GivenAnswer(sign, a if isinstance(a, str) else None, None if isinstance(a, str) else a, at)
        for sign, a in said.items()
    )
    return Record(case_id, "choux", at, at, fault, "panade", answers, (Suspected("egg_overdose", 0.9),), True, "r1")


@pytest.fixture
def book(tmp_path):
    with Book.open(tmp_path / "book.db") as opened:
        yield opened


def near(book, choux, case, **more):
    answers = answers_of(choux.family, case)
    return [one.record.id for one in nearest(book, choux.family, choux.network, answers, **more)]


def test_bits_of_an_answer():
    """Two equal causes; the answer is shown by one in 4 of 5, by the other in 1 of 5: 1 - H(0.8) = 0.278 bits."""
    node = Node("s", ("x", "y"), np.array([0.5, 0.5]), np.array([[0.8, 0.2], [0.2, 0.8]]), np.array([True, False]), 0.0)
    network = build(("a", "b"), (1.0, 1.0), [node], vocabulary())
    assert bits(network, "s", "x") == pytest.approx(1 + 0.8 * math.log2(0.8) + 0.2 * math.log2(0.2), abs=1e-9)
    assert bits(network, "s", "unheard of") == 0.0
    assert bits(network, "unheard of", "x") == 0.0


def test_the_same_answers_are_wholly_alike(book, choux):
    case = record("past", "paste_runny", paste_hang="runs_off", egg_measure="all_in_weighed")
    book.add(case)
    (found,) = nearest(book, choux.family, choux.network, answers_of(choux.family, case))
    assert found.alike == pytest.approx(1.0)
    assert set(found.shared) == {"paste_hang", "egg_measure"}


def test_likeness_worked_by_hand(book, choux):
    """In hand: complaint and two signs.  Past: same complaint, one sign the same, one not asked, one asked instead."""
    book.add(record("past", "paste_runny", paste_hang="runs_off", panade_look="smooth_ball"))
    hand = {"complaint": "paste_runny", "paste_hang": "runs_off", "egg_measure": "all_in_weighed"}
    hang, egg, look = (bits(choux.network, *said) for said in (*list(hand.items())[1:], ("panade_look", "smooth_ball")))
    assert min(hang, egg, look) > 0.0
    same, half = bits(choux.network, "complaint", "paste_runny") + hang, 0.5 * (egg + look)
    found = likeness(choux.family, choux.network, hand, book.answer_matrix("choux"))
    assert found.tolist() == [pytest.approx(same / (same + half))]


def test_a_different_answer_counts_against(book, choux):
    """The same sign answered otherwise costs the mean of the two answers' bits."""
    book.add(record("past", "paste_runny", paste_hang="breaks_in_lump"))
    hand = {"complaint": "paste_runny", "paste_hang": "runs_off"}
    same = bits(choux.network, "complaint", "paste_runny")
    runs, breaks = (bits(choux.network, "paste_hang", said) for said in ("runs_off", "breaks_in_lump"))
    assert runs != breaks
    against = (runs + breaks) / 2
    found = likeness(choux.family, choux.network, hand, book.answer_matrix("choux"))
    assert found.tolist() == [pytest.approx(same / (same + against))]


def test_cant_tell_counts_for_nothing(book, choux):
    book.add(record("past", "paste_runny", paste_hang="runs_off", egg_measure=None))
    hand = {"complaint": "paste_runny", "paste_hang": "runs_off"}
    assert likeness(choux.family, choux.network, hand, book.answer_matrix("choux")).tolist() == [pytest.approx(1.0)]


def test_a_number_is_the_answer_of_its_band(choux):
    case = record("past", None, egg_in_temp=70.0)
    band = choux.family.signs["egg_in_temp"].measure.band(70.0)
    assert answers_of(choux.family, case) == {"egg_in_temp": band.answer}


def test_the_likest_comes_first_and_of_equals_the_newest(book, choux):
    book.add(record("old", "paste_runny", 1, paste_hang="runs_off"))
    book.add(record("new", "paste_runny", 2, paste_hang="runs_off"))
    book.add(record("less", "paste_runny", 3, paste_hang="runs_off", egg_measure="counted"))
    assert near(book, choux, record("hand", "paste_runny", paste_hang="runs_off")) == ["new", "old", "less"]


def test_the_case_in_hand_is_not_near_itself(book, choux):
    case = record("hand", "paste_runny", paste_hang="runs_off")
    book.add(case)
    assert near(book, choux, case, but="hand") == []


def test_cases_that_share_nothing_are_not_shown(book, choux):
    book.add(record("other", "stale", paste_hang="breaks_in_lump"))
    assert near(book, choux, record("hand", "paste_runny", paste_hang="runs_off")) == []


def test_an_empty_book_has_nothing_near(book, choux):
    assert near(book, choux, record("hand", "paste_runny", paste_hang="runs_off")) == []


def test_many_cases_give_the_same_as_few(book, choux):
    """Among a hundred unlike cases the three like ones are found, newest first."""
    book.add_all(record(f"far{n}", "stale", n, paste_hang="breaks_in_lump") for n in range(100))
    book.add_all(record(f"near{n}", "paste_runny", n, paste_hang="runs_off") for n in range(3))
    hand = record("hand", "paste_runny", paste_hang="runs_off")
    assert near(book, choux, hand, most=2) == ["near2", "near1"]


def test_what_worked(book, choux):
    """A remedy worked where the verdict was right, something was done, and pieces were saved by it."""
    case = record("a", "paste_runny", paste_hang="runs_off")
    done = replace(case, done=("bake_drop_puffs",), outcome=Outcome.RIGHT, true_cause="egg_overdose", pieces_saved=9)
    book.add_all([done, replace(done, id="b", pieces_saved=0), replace(done, id="c", done=())])
    found = nearest(book, choux.family, choux.network, answers_of(choux.family, case))
    assert {one.record.id: one.worked for one in found} == {"a": True, "b": False, "c": False}
