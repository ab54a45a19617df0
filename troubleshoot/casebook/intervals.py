"""A share of a count with the interval that the true share can be expected in."""

from __future__ import annotations

import math
from dataclasses import dataclass
from statistics import NormalDist

#: How often an interval made this way holds the true share.
CONFIDENCE = 0.95


@dataclass(frozen=True, slots=True)
class Share:
    """``part`` of ``whole``, with an interval from ``low`` to ``high`` (0..1).  Of nothing, anything can be true."""

    part: int
    whole: int
    low: float
    high: float

    @property
    def value(self) -> float | None:
        """The share itself (0..1); None when there is nothing it is a share of."""
        return self.part / self.whole if self.whole else None


def share(part: int, whole: int, confidence: float = CONFIDENCE) -> Share:
    """Return a share with its score interval (Wilson 1927; method 3 of Newcombe 1998, no correction).

    It stays inside 0..1 and does not shrink to nothing at 0 or all, which matters for the small counts of a kitchen.
    Raises ValueError unless 0 <= part <= whole.
    """
    if not 0 <= part <= whole:
        raise ValueError(f"{part} cannot be a part of {whole}")
    if whole == 0:
        return Share(0, 0, 0.0, 1.0)
    z = NormalDist().inv_cdf(0.5 + confidence / 2.0)
    p, z2 = part / whole, z * z
    middle = p + z2 / (2.0 * whole)
    half = z * math.sqrt(p * (1.0 - p) / whole + z2 / (4.0 * whole * whole))
    scale = 1.0 + z2 / whole
    low = 0.0 if part == 0 else (middle - half) / scale
    high = 1.0 if part == whole else (middle + half) / scale
    return Share(part, whole, low, high)
