"""Control charts against the worked examples of the NIST/SEMATECH e-Handbook of Statistical Methods."""

from __future__ import annotations

import pytest

from troubleshoot.casebook.control import count_chart, share_chart

#: e-Handbook 6.3.3.1: defects on each of 25 successive wafers.
WAFERS = [16, 14, 28, 16, 12, 20, 10, 12, 10, 17, 19, 17, 14, 16, 15, 13, 14, 16, 11, 20, 11, 19, 16, 31, 13]

#: e-Handbook 6.3.3.2: chips out of place of 50 on each of 30 wafers; the mean share is given as 0.2313.
CHIPS = [12, 15, 8, 10, 4, 7, 16, 9, 14, 10, 5, 6, 17, 12, 22, 8, 10, 5, 13, 11, 20, 18, 24, 15, 9, 12, 7, 13, 9, 6]


def test_counts():
    """400 defects on 25 wafers: mean 16, limits 4 and 28; the 24th wafer with 31 lies above."""
    chart = count_chart(WAFERS)
    assert chart.centre == 16.0
    assert {(p.low, p.high) for p in chart.points} == {(4.0, 28.0)}
    assert [number for number, p in enumerate(chart.points, 1) if p.signal] == [24]
    assert chart.points[23].signal == "above"


def test_shares():
    """347 of 1,500 chips: mean 0.2313, limits 0.0524 and 0.4102; wafers 15 and 23 lie above."""
    chart = share_chart(CHIPS, [50] * 30)
    assert chart.centre == pytest.approx(0.2313, abs=5e-5)
    assert all(
        p.low == pytest.approx(0.0524, abs=5e-5) and p.high == pytest.approx(0.4102, abs=5e-5) for p in chart.points
    )
    assert [number for number, p in enumerate(chart.points, 1) if p.signal == "above"] == [15, 23]
