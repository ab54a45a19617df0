"""The spacing of practice against the scheduler's package and rows worked with it.

Rows: FSRS-6 with the default parameters of py-fsrs 6.3.2 (open-spaced-repetition, 2026), worked with that package
without fuzzing and without learning steps; ratings 1 again, 2 hard, 3 good, 4 easy; each review on its due date.
The forgetting curve is R(t, S) = (1 + factor * t / S) ** -w20, factor = 0.9 ** (-1 / w20) - 1 (manual page
fsrs_retrievability, ankiR documentation).
"""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest
from fsrs import Card, Rating, Scheduler

from troubleshoot.practice.record import Finished
from troubleshoot.practice.schedule import cards, pair_of, rating, scheduler

PARAMETERS = [
    *(0.212, 1.2931, 2.3065, 8.2956, 6.4133, 0.8334, 3.0194, 0.001, 1.8722, 0.1666, 0.796, 1.4835, 0.0614),
    *(0.2629, 1.6483, 0.6014, 1.8729, 0.5425, 0.0912, 0.0658, 0.1542),
]

#: Ratings, days to the next review, and stability after each.
RUNS = [
    ([3, 3, 3, 3], [2, 11, 46, 163], [2.3065, 10.9643, 46.2802, 162.8622]),
    ([4, 4, 4], [8, 66, 397], [8.2956, 65.6242, 396.775]),
    ([3, 3, 1, 3], [2, 11, 2, 5], [2.3065, 10.9643, 1.5383, 4.8763]),
    ([2, 3, 3], [1, 5, 17], [1.2931, 4.546, 16.5513]),
]

#: What a round must have been for each rating.
MARKS = {
    1: {"named": "underbaked", "total": 20, "passed": False},
    2: {"named": "door_opened", "total": 60, "passed": False},
    3: {"named": "door_opened", "total": 85, "passed": True},
    4: {"named": "door_opened", "total": 100, "passed": True},
}

BEGIN = datetime(2026, 3, 2, 9, 0, tzinfo=UTC)
PAIR = pair_of("choux", "door_opened", "underbaked")


def rounds_of(ratings: list[int], days: list[int]) -> list[Finished]:
    """Rounds that earn these ratings, each on the day the one before made due."""
    plain = Finished(
        "0", BEGIN, "choux-1-1", ("door_opened",), "door_opened", "underbaked", "door_opened", 85, True, {},
        4.0, 0.0, 4.0, 0.0, "x",
    )  # fmt: skip
    at, found = BEGIN, []
    for number, (mark, wait) in enumerate(zip(ratings, days, strict=True)):
        found.append(replace(plain, id=str(number), at=at, **MARKS[mark]))
        at += timedelta(days=wait)
    return found


def test_the_parameters_are_those_of_the_package():
    """The 21 default parameters and the wanted retention are as published."""
    assert list(scheduler().parameters) == PARAMETERS
    assert scheduler().desired_retention == 0.9
    assert not scheduler().enable_fuzzing


@pytest.mark.parametrize(("ratings", "days", "stability"), RUNS)
def test_intervals_equal_the_rows(ratings: list[int], days: list[int], stability: list[float]):
    """A pair practised with these outcomes is due after so many days, with so much stability."""
    rounds = rounds_of(ratings, days)
    for count in range(1, len(rounds) + 1):
        card = cards(rounds[:count])[PAIR]
        assert (card.due - rounds[count - 1].at) == timedelta(days=days[count - 1])
        assert card.stability_days == pytest.approx(stability[count - 1], abs=5e-5)


@pytest.mark.parametrize(("ratings", "days", "stability"), RUNS)
def test_intervals_equal_the_packages_own(ratings: list[int], days: list[int], stability: list[float]):
    """The package, called by itself, gives the same due dates."""
    plain = Scheduler(learning_steps=(), relearning_steps=(), enable_fuzzing=False)
    card = Card(card_id=1, due=BEGIN)
    for one, mark in zip(rounds_of(ratings, days), ratings, strict=True):
        assert rating(one) == Rating(mark)
        card, _ = plain.review_card(card, Rating(mark), one.at)
    mine = cards(rounds_of(ratings, days))[PAIR]
    assert (mine.due, mine.stability_days) == (card.due, card.stability)


@pytest.mark.parametrize(
    ("days", "value"), [(0, 1.0), (1, 0.985682), (5, 0.940344), (10, 0.9), (20, 0.845885), (50, 0.760528)]
)
def test_forgetting_follows_the_published_curve(days: int, value: float):
    """After so many days at a stability of ten, the chance of still knowing is as in the rows and by the formula."""
    card = Card(card_id=1, due=BEGIN, stability=10.0, difficulty=5.0, last_review=BEGIN)
    found = scheduler().get_card_retrievability(card, BEGIN + timedelta(days=days))
    factor = 0.9 ** (-1 / PARAMETERS[20]) - 1
    assert factor == pytest.approx(0.980346, abs=5e-7)
    assert found == pytest.approx(value, abs=5e-7)
    assert found == pytest.approx((1 + factor * days / 10) ** -PARAMETERS[20], abs=1e-9)
