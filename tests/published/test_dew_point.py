"""Dew point, water in air and sweating against published equations."""

from __future__ import annotations

import psychrolib
import pytest

from troubleshoot.kitchen import air

#: Air °C, humidity %, dew point by the ASHRAE equations (Handbook Fundamentals 2017 ch. 1, worked with psychrolib),
#: dew point by the Magnus formula (WMO-No. 8, worked by hand).
DEW_POINTS = [
    (16, 60, 8.25, 8.23), (16, 90, 14.36, 14.36), (18, 40, 4.21, 4.19), (18, 50, 7.43, 7.41), (18, 70, 12.45, 12.44),
    (20, 30, 1.91, 1.88), (20, 40, 6.0, 5.98), (20, 50, 9.27, 9.26), (20, 60, 12.01, 12.0), (20, 70, 14.37, 14.36),
    (20, 90, 18.31, 18.31), (22, 45, 9.53, 9.52), (22, 60, 13.89, 13.88), (22, 75, 17.37, 17.36), (24, 40, 9.58, 9.56),
    (24, 55, 14.41, 14.4), (24, 70, 18.19, 18.19), (26, 50, 14.78, 14.77), (26, 65, 18.91, 18.91),
    (28, 45, 14.97, 14.96), (28, 60, 19.51, 19.51), (28, 80, 24.23, 24.22), (30, 50, 18.45, 18.44),
    (30, 70, 23.93, 23.93),
    (32, 40, 16.72, 16.71), (32, 60, 23.26, 23.26), (32, 90, 30.15, 30.15),
]  # fmt: skip


@pytest.mark.parametrize(("room", "humidity", "ashrae", "magnus"), DEW_POINTS)
def test_dew_points(room, humidity, ashrae, magnus):
    """The dew point is the Magnus value to its last digit and within 0.05 K of the ASHRAE one."""
    found = air.dew_point(room, humidity)["dew_point_c"]
    assert found == pytest.approx(magnus, abs=0.0051)
    assert found == pytest.approx(ashrae, abs=0.05)


def test_below_freezing_it_is_a_dew_point_not_a_frost_point():
    """16 °C at 30 %: -1.59 °C over water (Magnus), where the ASHRAE equations give the frost point -1.37 °C."""
    assert air.dew_point(16, 30)["dew_point_c"] == pytest.approx(-1.59, abs=0.0051)


@pytest.mark.parametrize("humidity", range(10, 100, 10))
def test_against_a_general_library(humidity):
    """Dew points agree with a general library for moist air within 0.05 K, above 0 °C."""
    psychrolib.SetUnitSystem(psychrolib.SI)
    for room in (18, 24, 30, 38):
        library = psychrolib.GetTDewPointFromRelHum(room, humidity / 100)
        if library > 0:
            assert air.dew_point(room, humidity)["dew_point_c"] == pytest.approx(library, abs=0.05)
