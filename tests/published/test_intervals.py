"""The interval of a share against a published table and a kept library."""

from __future__ import annotations

import pytest
from scipy.stats import binomtest

from troubleshoot.casebook.intervals import share

#: R. G. Newcombe, Two-sided confidence intervals for the single proportion, Statistics in Medicine 17 (1998) 857-872,
#: table I, method 3 (score interval, no correction): part, whole, lower and upper limit at 95 %.
NEWCOMBE = [(81, 263, 0.2553, 0.3662), (15, 148, 0.0624, 0.1605), (0, 20, 0.0000, 0.1611), (1, 29, 0.0061, 0.1718)]


@pytest.mark.parametrize(("part", "whole", "low", "high"), NEWCOMBE)
def test_published_intervals(part, whole, low, high):
    """The limits are the published ones to their last digit."""
    found = share(part, whole)
    assert (found.low, found.high) == (pytest.approx(low, abs=5e-5), pytest.approx(high, abs=5e-5))


@pytest.mark.parametrize("confidence", [0.8, 0.95, 0.99])
def test_every_small_share_against_a_library(confidence):
    """For all shares of up to 30 cases the limits are those of SciPy's Wilson interval."""
    for whole in range(1, 31):
        for part in range(whole + 1):
            theirs = binomtest(part, whole).proportion_ci(confidence, method="wilson")
            found = share(part, whole, confidence)
            assert (found.low, found.high) == (
                pytest.approx(theirs.low, abs=1e-12),
                pytest.approx(theirs.high, abs=1e-12),
            )
