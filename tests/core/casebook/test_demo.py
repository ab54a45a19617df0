"""The invented season."""

from __future__ import annotations

from itertools import islice

import numpy as np
import pytest

from troubleshoot.casebook import demo
from troubleshoot.casebook.record import Outcome
from troubleshoot.casebook.store import Book, Filter


@pytest.fixture(scope="module")
def opening(shelf):
    """The first cases of the season."""
    return [record for _, record in islice(demo.season(shelf), 8)]


def test_the_same_seed_gives_the_same_cases(shelf, opening):
    assert [record for _, record in islice(demo.season(shelf), 8)] == opening


def test_another_seed_gives_others(shelf, opening):
    assert [record for _, record in islice(demo.season(shelf, seed=2), 2)] != opening[:2]


def test_every_case_is_marked_as_invented(opening):
    assert all(r.invented and r.id.startswith("invented-") and "invented" in r.kitchen for r in opening)


def test_a_case_hangs_together(shelf, opening):
    """Pieces add up, times follow one another, outcome and cause agree, and the rule base knows all that is named."""
    for r in opening:
        family = shelf.rulebase(r.family).families[r.family]
        assert 0 <= r.pieces_saved + r.pieces_lost <= r.pieces
        assert r.begun < min(a.at for a in r.answers) <= max(a.at for a in r.answers) <= r.finished
        assert r.role in demo.ROLES
        assert {s.cause for s in r.suspects} <= set(family.causes)
        assert set(r.done) <= set(family.remedies)
        assert {Outcome.RIGHT: r.true_cause == r.cause, Outcome.WRONG: r.true_cause not in (None, r.cause)}.get(
            r.outcome, r.true_cause is None
        )


def test_cases_go_into_a_book_and_out_again(tmp_path, opening):
    with Book.open(tmp_path / "book.db") as book:
        book.add_all(opening)
        assert book.count(Filter(invented=True)) == 8
        assert book.remove(Filter(invented=True)) == 8


def test_the_spells_name_causes_that_the_rules_hold(shelf):
    for spell in demo.SPELLS:
        assert set(spell.causes) <= set(shelf.rulebase(spell.family).families[spell.family].causes)


def test_the_weeks_of_the_slow_oven_have_more_cases():
    """Five weeks add five cases each: over many seeds they hold about twice what the weeks before them do."""
    weeks = np.array([demo.cases_by_week(np.random.default_rng(seed)) for seed in range(200)])
    assert weeks[:, 15:20].mean() > 1.6 * weeks[:, 5:10].mean()


def test_the_demo_book_lies_beside_the_kitchens_own(own_folders):
    assert demo.place() == own_folders / "data" / "demo-book.db"
