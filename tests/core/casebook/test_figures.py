"""Figures worked out by hand from a few sums."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from troubleshoot.casebook import figures
from troubleshoot.casebook.intervals import share
from troubleshoot.casebook.sums import CauseSum, OutcomeCount, SpanSum, StatedCount

MONDAY = datetime(2025, 6, 2, tzinfo=UTC)
LATER = MONDAY + timedelta(weeks=60)


def test_causes_by_pieces_lost():
    """Of 100 pieces 60, 25 and 15 were lost: the first two make 85 %, so the third is not one to begin with."""
    sums = [
        CauseSum("choux", "underbaked", 3, 3, 25, 5, 90.0),
        CauseSum("choux", "oven_cool", 2, 2, 60, 0, 30.0),
        CauseSum("shortbread", "over_baked", 9, 9, 15, 2, 10.0),
    ]
    rows = figures.ranked(sums, "pieces")
    assert [row.cause for row in rows] == ["oven_cool", "underbaked", "over_baked"]
    assert [row.share for row in rows] == [pytest.approx(x) for x in (0.60, 0.25, 0.15)]
    assert [row.together for row in rows] == [pytest.approx(x) for x in (0.60, 0.85, 1.0)]
    assert [row.few for row in rows] == [True, True, False]


def test_causes_by_cases_and_by_minutes():
    sums = [CauseSum("choux", "a", 1, 1, 5, 0, 90.0), CauseSum("choux", "b", 4, 4, 1, 0, 10.0)]
    assert [row.cause for row in figures.ranked(sums, "cases")] == ["b", "a"]
    assert [row.cause for row in figures.ranked(sums, "minutes")] == ["a", "b"]


def test_two_families_keep_causes_of_one_name_apart():
    sums = [CauseSum("choux", "boxed_warm", 1, 1, 8, 0, 1.0), CauseSum("candied-peel", "boxed_warm", 1, 1, 2, 0, 1.0)]
    rows = figures.ranked(sums, "pieces")
    assert [(row.family, row.share) for row in rows] == [("choux", 0.8), ("candied-peel", 0.2)]


def test_nothing_lost_has_no_shares():
    (row,) = figures.ranked([CauseSum("choux", "a", 2, 0, 0, 0, 0.0)], "pieces")
    assert (row.share, row.few) == (0.0, False)


def test_verdicts_confirmed():
    """9 right and 3 wrong are 75 % of the 12 known; 5 not known count for neither."""
    found = figures.confirmed([OutcomeCount("choux", "a", 7, 1, 3), OutcomeCount("choux", None, 2, 2, 2)])
    assert (found.right, found.wrong, found.not_known) == (9, 3, 5)
    assert found.share.value == 0.75


def test_calibration_steps():
    """Said 91 and 94 %, right in 3 of 4 each: one step, stated 92.5 %, right 6 of 8."""
    stated = [StatedCount(91, 0.91, 3, 4), StatedCount(94, 0.94, 3, 4), StatedCount(100, 1.0, 2, 2)]
    first, last = figures.calibration(stated)
    assert (first.low, first.high, first.stated) == (0.90, 0.95, pytest.approx(0.925))
    assert first.right == share(6, 8)
    assert (last.low, last.high, last.right.part) == (0.95, 1.0, 2)
    assert first.held


def test_a_step_that_promised_too_much():
    """Said 97 %, right in 5 of 10: the interval of 50 % ends at 76 %."""
    (step,) = figures.calibration([StatedCount(97, 0.97, 5, 10)])
    assert step.right.high == pytest.approx(0.763, abs=5e-4)
    assert not step.held


def test_weeks_without_a_case_are_among_the_weeks():
    found = figures.trend([_week(0, 4), _week(3, 8)], LATER)
    assert [week.cases for week in found.weeks] == [4, 0, 0, 8]
    assert found.cases.centre == 3.0
    assert not found.firm


def test_a_week_that_has_not_ended_stands_outside_the_chart():
    found = figures.trend([_week(0, 4), _week(1, 1)], now=MONDAY + timedelta(days=9))
    assert [week.whole for week in found.weeks] == [True, False]
    assert [p.value for p in found.cases.points] == [4.0]
    assert found.ended == found.weeks[:1]


def test_wrong_verdicts_week_by_week():
    """1 wrong of 4 and 2 of 4 known: mean 3 of 8; a week of which little or nothing is known has no point."""
    found = figures.trend([_week(0, 5, 3, 1), _week(1, 5, 1, 2), _week(2, 4, 2, 2), _week(3, 4)], LATER)
    assert [week.begins for week in found.judged] == [MONDAY, MONDAY + timedelta(weeks=2)]
    assert [p.value for p in found.wrong.points] == [0.25, 0.5]
    assert found.wrong.centre == 0.375


def test_an_empty_book_has_empty_figures():
    found = figures.trend([], LATER)
    assert (found.weeks, found.cases.points, found.judged) == ((), (), ())
    assert figures.cost([]) == figures.Cost(0, 0, 0, 0, 0.0)


def test_cost():
    sums = [CauseSum("choux", "a", 3, 2, 5, 7, 9.5), CauseSum("choux", None, 1, 0, 0, 0, 2.0)]
    assert figures.cost(sums) == figures.Cost(4, 2, 5, 7, 11.5)


@pytest.mark.parametrize(("part", "whole"), [(-1, 3), (4, 3)])
def test_a_part_larger_than_its_whole_is_refused(part, whole):
    with pytest.raises(ValueError, match="cannot be a part"):
        share(part, whole)


def test_a_share_of_nothing_can_be_anything():
    assert (share(0, 0).value, share(0, 0).low, share(0, 0).high) == (None, 0.0, 1.0)


def _week(number: int, cases: int, right: int = 0, wrong: int = 0) -> SpanSum:
    return SpanSum(MONDAY + timedelta(weeks=number), cases, 10 * cases, 5, 5, 10.0, right, wrong)
