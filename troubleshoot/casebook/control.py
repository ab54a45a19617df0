"""Control charts: which weeks differ from the others by more than chance lets them.

Limits stand three standard deviations on either side of the mean (NIST/SEMATECH e-Handbook of Statistical Methods,
6.3.3.1 for counts, 6.3.3.2 for proportions).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

#: Standard deviations from the mean to a limit.
SIGMAS = 3.0

#: So many counts in a row on one side of the mean are a shift (e-Handbook 6.3.2, rules of the Western Electric Co.).
RUN = 8

#: Counts of a smaller mean, and shares of a few cases, lie on one side by nature: there a run tells nothing.
LEAST_MEAN_FOR_RUNS = 4.0


@dataclass(frozen=True, slots=True)
class Point:
    """One point: its value and limits, in the unit of the chart.

    ``signal`` is "above" or "below" for a point beyond a limit, "run" for one that ends a run on one side, else "".
    """

    value: float
    low: float
    high: float
    signal: str = ""


@dataclass(frozen=True, slots=True)
class Chart:
    """A chart: its mean and its points in order of time."""

    centre: float
    points: tuple[Point, ...]

    @property
    def steady(self) -> bool:
        """Whether no point stands out."""
        return not any(point.signal for point in self.points)


def count_chart(counts: Sequence[int]) -> Chart:
    """Return the chart of counts over equal spans of time (a c chart); of no counts, a chart of no points."""
    centre = sum(counts) / len(counts) if counts else 0.0
    sigmas = [math.sqrt(centre)] * len(counts)
    return _chart(centre, [float(count) for count in counts], sigmas, math.inf, centre >= LEAST_MEAN_FOR_RUNS)


def share_chart(parts: Sequence[int], wholes: Sequence[int]) -> Chart:
    """Return the chart of shares of wholes that differ in size, each at least 1 (a p chart).

    Raises ValueError for sequences of different length, and for a whole of nothing.
    """
    if len(parts) != len(wholes) or any(whole < 1 for whole in wholes):
        raise ValueError("each share needs a whole of at least one")
    centre = sum(parts) / sum(wholes) if wholes else 0.0
    values = [part / whole for part, whole in zip(parts, wholes, strict=True)]
    return _chart(centre, values, [math.sqrt(centre * (1.0 - centre) / whole) for whole in wholes], 1.0, False)


def _chart(centre: float, values: Sequence[float], sigmas: Sequence[float], most: float, runs: bool) -> Chart:
    points: list[Point] = []
    run = 0
    for value, sigma in zip(values, sigmas, strict=True):
        low, high = max(0.0, centre - SIGMAS * sigma), min(most, centre + SIGMAS * sigma)
        side = (value > centre) - (value < centre)
        run = run + side if side * run > 0 else side
        signal = "above" if value > high else "below" if value < low else "run" if runs and abs(run) >= RUN else ""
        points.append(Point(value, low, high, signal))
    return Chart(centre, tuple(points))
