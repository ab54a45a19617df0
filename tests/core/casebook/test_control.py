"""Control charts: limits, runs, and what cannot be charted."""

from __future__ import annotations

import pytest

from troubleshoot.casebook.control import count_chart, share_chart


def test_no_weeks_make_an_empty_chart():
    assert count_chart([]).points == ()
    assert share_chart([], []).points == ()


def test_limits_never_leave_what_is_possible():
    """Counts of about one a week cannot go below none; shares of a few cannot go beyond all."""
    assert {p.low for p in count_chart([1, 2, 0, 1]).points} == {0.0}
    assert {(p.low, p.high) for p in share_chart([1, 2, 1], [2, 2, 2]).points} == {(0.0, 1.0)}


def test_limits_of_a_share_follow_the_size_of_its_whole():
    """Mean 10 of 100: with 25 the half width is 3 * 0.3 / 5 = 0.18, with 50 it is 3 * 0.3 / 7.0711 = 0.1273."""
    chart = share_chart([1, 5, 4], [25, 50, 25])
    assert [p.high for p in chart.points] == [pytest.approx(x, abs=5e-5) for x in (0.28, 0.2273, 0.28)]
    assert [p.low for p in chart.points] == [0.0, 0.0, 0.0]


def test_eight_on_one_side_are_a_run():
    """The eighth of eight weeks above the mean says so, and each that goes on with them."""
    chart = count_chart([5] * 9 + [7] * 9)
    assert [p.signal for p in chart.points] == [*[""] * 7, "run", "run", *[""] * 7, "run", "run"]
    assert not chart.steady


def test_a_week_on_the_mean_ends_a_run():
    chart = count_chart([5] * 7 + [6] + [7] * 7)
    assert chart.steady


def test_runs_of_rare_things_tell_nothing():
    """With one case in three weeks most weeks lie below the mean by nature, and so do shares of a few."""
    assert count_chart([0, 0, 1] * 3 + [0] * 9).steady
    assert share_chart([0] * 9 + [1], [4] * 10).steady


def test_a_share_of_nothing_is_refused():
    with pytest.raises(ValueError, match="at least one"):
        share_chart([0], [0])
