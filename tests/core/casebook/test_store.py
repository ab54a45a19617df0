"""The book, in a file and on a server alike: what goes in comes out, in order, by every filter, and summed."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import numpy as np
import pytest
from small_records import BARE, FULL, NOON, at_random, record

from troubleshoot.casebook import rows
from troubleshoot.casebook.errors import BookError, KnownIdError
from troubleshoot.casebook.record import GivenAnswer, Outcome, Record, Suspected
from troubleshoot.casebook.store import Book, Filter
from troubleshoot.casebook.sums import CauseSum, OutcomeCount, SaidWord, SpanSum, StatedCount
from troubleshoot.casebook.valid import checked

HOUR = timedelta(hours=1)


@pytest.mark.parametrize("case", [FULL, BARE], ids=["everything", "nothing"])
def test_a_case_comes_back_as_it_went_in(book: Book, case: Record):
    """Every field comes back equal: microseconds, thirds, accents, line ends, and what was not said."""
    book.add(case)
    assert book.get(case.id) == case


def test_many_cases_of_every_kind_come_back(address: str):
    """Two hundred cases of every kind are there after the book was closed and opened again."""
    cases = at_random(200)
    with Book.open(address) as book:
        assert book.add_all(cases) == 200
    with Book.open(address) as book:
        assert {case.id: case for case in book.records()} == {case.id: case for case in cases}


def test_a_time_in_another_zone_is_the_same_moment(book: Book):
    """A time given with another offset comes back as that moment in UTC."""
    there = datetime.fromisoformat("2026-03-02T18:30:00+05:30")
    book.add(replace(BARE, finished=there))
    assert book.get("bare").finished == datetime(2026, 3, 2, 13, 0, tzinfo=UTC)


def test_the_newest_case_comes_first(book: Book):
    """Cases are listed by the moment they were finished, newest first; of the same moment by id."""
    book.add_all([record(1), record(3), record(2), record(3, id="also3")])
    assert [case.id for case in book.records()] == ["case3", "also3", "case2", "case1"]
    assert [case.id for case in book.each()] == ["case1", "case2", "also3", "case3"]


FILTERS = (
    (Filter(), "e d c b a"),
    (Filter(family="choux"), "e d"),
    (Filter(cause="oven_cool"), "d b"),
    (Filter(verdict="oven_cool"), "d c"),
    (Filter(kitchen="lakeside"), "c a"),
    (Filter(kitchen=""), "e d b"),
    (Filter(outcome=Outcome.WRONG), "c b"),
    (Filter(invented=True), "e"),
    (Filter(invented=False), "d c b a"),
    (Filter(since=NOON + 2 * HOUR), "e d c b"),
    (Filter(until=NOON + 2 * HOUR), "a"),
    (Filter(since=NOON + 2 * HOUR, until=NOON + 4 * HOUR), "c b"),
    (Filter(limit=2), "e d"),
    (Filter(limit=2, offset=3), "b a"),
    (Filter(offset=4), "a"),
    (Filter(family="choux", cause="oven_cool"), "d"),
    (Filter(family="nothing"), ""),
)


def test_filters_choose(book: Book):
    """Each filter chooses its cases and no others; a case belongs to the cause that the outcome named."""
    cool, over = (Suspected("oven_cool", 0.9),), (Suspected("over_mixed", 0.6),)
    book.add_all(
        [
            record(1, id="a", suspects=over, kitchen="lakeside"),
            record(2, id="b", suspects=over, outcome=Outcome.WRONG, true_cause="oven_cool"),
            record(3, id="c", suspects=cool, outcome=Outcome.WRONG, true_cause=None, kitchen="lakeside"),
            record(4, id="d", suspects=cool, outcome=Outcome.RIGHT, true_cause="oven_cool", family="choux"),
            record(5, id="e", suspects=over, family="choux", invented=True),
        ]
    )
    for wanted, ids in FILTERS:
        page = book.records(wanted)
        assert [case.id for case in page] == ids.split(), wanted
        everyone = replace(wanted, limit=None, offset=0)
        assert book.count(wanted) == len(book.records(everyone)), wanted
        assert list(book.each(wanted)) == [*reversed(book.records(everyone))], wanted


def test_a_case_is_replaced_whole(book: Book):
    """What stands under an id gives way to the new, and nothing of the old is left among the sums."""
    book.add(FULL)
    new = replace(BARE, id=FULL.id)
    book.replace(new)
    assert book.records() == (new,)
    assert len(book.answer_matrix("choux").case_nos) == 0
    with pytest.raises(BookError, match="no case 'bare'"):
        book.replace(BARE)


def test_an_outcome_is_noted_and_taken_back(book: Book):
    """Right names the verdict's cause, wrong another or none, not known none; nothing else of the case changes."""
    book.add(record(1))
    right = book.set_outcome("case1", Outcome.RIGHT)
    assert (right.outcome, right.true_cause, right.blamed) == (Outcome.RIGHT, "short_of_butter", "short_of_butter")
    wrong = book.set_outcome("case1", Outcome.WRONG, "flour_strong")
    assert (wrong.true_cause, wrong.confirmed_cause) == ("flour_strong", "flour_strong")
    assert book.count(Filter(cause="flour_strong")) == 1
    assert book.set_outcome("case1", Outcome.WRONG).blamed is None
    assert book.set_outcome("case1", Outcome.NOT_KNOWN) == record(1) == book.get("case1")


def test_a_wrong_verdict_was_not_its_own_cause(book: Book):
    """Wrong, and it was what the verdict said, is refused."""
    book.add(record(1))
    with pytest.raises(BookError, match="what the verdict said"):
        book.set_outcome("case1", Outcome.WRONG, "short_of_butter")
    assert book.get("case1") == record(1)


def test_an_id_stands_once_and_cases_go_in_together_or_not_at_all(book: Book):
    """Of three cases one of which has a known id, none goes in."""
    book.add(record(1))
    with pytest.raises(KnownIdError, match="another case has this id"):
        book.add_all([record(2), record(1), record(3)])
    assert [case.id for case in book.records()] == ["case1"]
    book.add(record(2))
    assert book.count() == 2


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"id": ""}, "id: this is no id"),
        ({"id": "../x"}, "id: this is no id"),
        ({"family": "Choux!"}, "family: this is no id of a rule base"),
        ({"finished": NOON.replace(tzinfo=None)}, "finished: the time has no time zone"),
        ({"finished": NOON.replace(year=1950)}, "finished: the time is out of range"),
        ({"note": "x" * 4001}, "note: 4001 characters are too many"),
        ({"note": "a\x00b"}, "note: the hidden character U+0000"),
        ({"role": "two\nlines"}, "role: the hidden character U+000A"),
        ({"pieces": -1}, "pieces: -1 pieces cannot be"),
        ({"pieces": 10, "pieces_saved": 6, "pieces_lost": 5}, "11 pieces saved and lost, of 10"),
        ({"minutes": float("nan")}, "minutes: nan is out of range"),
        ({"suspects": (Suspected("a", 1.5),)}, "suspects.0.probability: 1.5 is out of range"),
        ({"suspects": (Suspected("a", 0.5), Suspected("a", 0.4))}, "suspects.1: 'a' stands here twice"),
        ({"answers": (GivenAnswer("s", "a", 1.0, NOON),)}, "answers.0: an answer and a number stand together"),
        ({"answers": (GivenAnswer("s", "=1", None, NOON),)}, "answers.0.answer: this is no id"),
        ({"pictures": ("../../etc/passwd",)}, "pictures.0: this is no picture's name"),
        ({"true_cause": "x"}, "true_cause: the outcome is not known"),
        ({"outcome": Outcome.RIGHT, "true_cause": "x"}, "true_cause: the verdict said short_of_butter"),
    ],
)
def test_what_cannot_be_a_case_is_refused_with_its_place(changes: dict[str, object], said: str):
    """The field is named, and what is wrong with it."""
    with pytest.raises(BookError) as refused:
        checked(record(2, **changes))
    assert said in str(refused.value)


def test_beside_a_case_that_cannot_be_none_goes_in(book: Book):
    """Cases put in together with one that is refused stay out as well, however far the writing had come."""
    with pytest.raises(BookError, match="case 'case700': pieces: -1 pieces cannot be"):
        book.add_all([*(record(hour) for hour in range(700)), record(700, pieces=-1)])
    assert book.count() == 0
    assert book.add_all([record(1), record(2)]) == 2


def test_all_cases_are_walked_in_steps(book: Book, monkeypatch: pytest.MonkeyPatch):
    """A walk over the book in steps of two misses none and doubles none, also among cases of one moment."""
    monkeypatch.setattr(rows, "STEP", 2)
    cases = [record(hour, id=f"{hour}-{letter}") for hour in (1, 2) for letter in "abc"]
    book.add_all(reversed(cases))
    assert list(book.each()) == cases


def test_a_walk_sees_the_book_as_it_stood_at_its_first_case(address: str, monkeypatch: pytest.MonkeyPatch):
    """A case that another program adds meanwhile is not in the walk, and not lost."""
    monkeypatch.setattr(rows, "STEP", 2)
    with Book.open(address) as book, Book.open(address) as other:
        book.add_all(record(hour) for hour in range(4))
        walk = book.each()
        first = next(walk)
        other.add(record(9))
        assert [first.id, *(case.id for case in walk)] == ["case0", "case1", "case2", "case3"]
        assert book.count() == 5


def test_the_invented_are_taken_out_together(book: Book):
    """Removing what a demo put in leaves the rest."""
    book.add_all([record(1), record(2, invented=True), record(3, invented=True)])
    assert book.remove(Filter(invented=True)) == 2
    assert [case.id for case in book.records()] == ["case1"]


def test_ids_are_found_by_their_beginning(book: Book):
    """A beginning finds its ids; signs that mean something to a database mean nothing here."""
    book.add_all([record(1, id="ab1"), record(2, id="ab2"), record(3, id="a_1")])
    assert book.ids_beginning("ab") == ("ab1", "ab2")
    assert book.ids_beginning("a_") == ("a_1",)
    assert book.ids_beginning("%") == ()
    assert book.ids_beginning("a", most=1) == ("a_1",)


# -- sums ------------------------------------------------------------------------------

A, B = (Suspected("oven_cool", 0.904), Suspected("x", 0.05)), (Suspected("oven_cool", 0.5),)
SUMMED = (
    record(1, suspects=A, outcome=Outcome.RIGHT, true_cause="oven_cool", pieces=20, pieces_lost=5, minutes=10.0),
    record(2, suspects=A, outcome=Outcome.WRONG, true_cause="over_mixed", pieces=30, pieces_lost=7, pieces_saved=23),
    record(3, suspects=B, pieces_lost=1, minutes=2.5),
    record(30, suspects=B, outcome=Outcome.WRONG, true_cause=None),
    record(31, suspects=A, outcome=Outcome.RIGHT, true_cause="oven_cool", family="choux", pieces_lost=2),
)


def test_pieces_are_summed_by_the_cause_to_blame(book: Book):
    """The outcome's cause bears the loss, not the verdict's; each family for itself; what was not counted shows."""
    book.add_all(SUMMED)
    assert book.pieces_lost_by_cause() == (
        CauseSum("shortbread", "over_mixed", cases=1, counted=1, pieces_lost=7, pieces_saved=23, minutes=0.0),
        CauseSum("shortbread", "oven_cool", cases=2, counted=2, pieces_lost=6, pieces_saved=0, minutes=12.5),
        CauseSum("choux", "oven_cool", cases=1, counted=1, pieces_lost=2, pieces_saved=0, minutes=0.0),
        CauseSum("shortbread", None, cases=1, counted=0, pieces_lost=0, pieces_saved=0, minutes=0.0),
    )
    assert [found.cause for found in book.pieces_lost_by_cause(Filter(since=NOON + 4 * HOUR))] == ["oven_cool", None]


def test_outcomes_are_counted_by_the_verdict(book: Book):
    """A verdict that was wrong counts against the cause it named."""
    book.add_all(SUMMED)
    assert book.outcome_counts_by_cause() == (
        OutcomeCount("shortbread", "oven_cool", right=1, wrong=2, not_known=1),
        OutcomeCount("choux", "oven_cool", right=1, wrong=0, not_known=0),
    )
    assert book.confirmed_counts(Filter(family="shortbread")) == {"oven_cool": 1, "over_mixed": 1}


def test_stated_probabilities_are_held_against_outcomes(book: Book):
    """Only known outcomes count; 0.904 lies in the 90th per cent, 0.5 in the 50th."""
    book.add_all(SUMMED)
    assert book.stated_and_right() == (
        StatedCount(50, 0.5, right=0, cases=1),
        StatedCount(90, pytest.approx(0.904), right=2, cases=3),
    )


def test_spans_begin_where_they_are_told_to(book: Book):
    """Days that begin at noon: three cases on the first, two on the second; one before the first day counts too."""
    book.add_all([*SUMMED, record(-1)])
    assert book.by_span(NOON, timedelta(days=1)) == (
        SpanSum(NOON - timedelta(days=1), 1, 0, 0, 0, 0.0, 0, 0),
        SpanSum(NOON, 3, 50, 13, 23, 12.5, 1, 1),
        SpanSum(NOON + timedelta(days=1), 2, 0, 2, 0, 0.0, 1, 1),
    )


def test_the_answers_of_a_family_come_as_one_matrix(book: Book):
    """Each case of the family is a row of what was said, the complaint among it; other families are not there."""
    first = record(1, answers=(GivenAnswer("s", "yes", None, NOON), GivenAnswer("t", None, 2.5, NOON)), fault="flat")
    second = record(2, answers=(GivenAnswer("t", None, None, NOON), GivenAnswer("s", "yes", None, NOON)), fault=None)
    book.add_all([first, second, FULL])
    found = book.answer_matrix("shortbread")
    said = [
        {found.words[word] for word in found.word_nos[start:end]}
        for start, end in zip(found.starts[:-1], found.starts[1:], strict=True)
    ]
    assert said == [
        {SaidWord("", "flat", None), SaidWord("s", "yes", None), SaidWord("t", None, 2.5)},
        {SaidWord("t", None, None), SaidWord("s", "yes", None)},
    ]
    assert book.by_numbers(found.case_nos.tolist()) == (first, second)
    assert book.by_numbers([*reversed(found.case_nos.tolist()), 10**6]) == (second, first)
    assert found.word_nos.dtype == np.int32


def test_a_matrix_knows_words_that_came_later(book: Book):
    """What a second program says for the first time is in the next matrix of the first."""
    book.add(record(1))
    book.answer_matrix("shortbread")
    book.add(record(2, answers=(GivenAnswer("new_sign", None, -3.25, NOON),)))
    assert SaidWord("new_sign", None, -3.25) in book.answer_matrix("shortbread").words


def test_kitchens_are_listed(book: Book):
    """Each kitchen that shares the book is named once."""
    book.add_all([record(1, kitchen="lakeside"), record(2, kitchen="boathouse"), record(3, kitchen="lakeside")])
    assert book.kitchens() == ("boathouse", "lakeside")
