"""Tempering, heat, seized chocolate, ganache and labels against published figures."""

from __future__ import annotations

import pytest
from published_rows import topic

from troubleshoot.kitchen import chocolate, labels
from troubleshoot.kitchen.inputs import CHOICES

TEMPERING = [row for row in topic("chocolate")["rows"] if row.get("by") == "temper_span"]


@pytest.mark.parametrize("coating", chocolate.COATINGS)
@pytest.mark.parametrize("step", ["melt", "cool", "work"])
def test_the_curves_are_no_wider_than_the_sources(coating, step):
    """Each end of each span is a published figure."""
    curve = chocolate.tempering_curve(coating)
    spans = [row["value"] for row in TEMPERING if row["at"] == {"coating": coating, "step": step}]
    ends = [end for span in spans for end in (span if isinstance(span, list) else [span])]
    assert curve[f"{step}_low_c"] == min(ends)
    assert curve[f"{step}_high_c"] == max(ends)


# Worked: a gram of dark chocolate from 20 to 45 °C takes about 86 J, so 86 s for each kilogram at 1000 W
def test_seconds_in_a_microwave():
    """The floor for melting in a microwave is about 86 s for each kilogram and kilowatt."""
    assert chocolate.heat_to_melt(1000, 20, 45)["seconds_at_1000_w"] == pytest.approx(86, abs=1)


@pytest.mark.parametrize(
    ("percent", "enough"),
    [
        (10, False),
        (20, True),  # chocolate science text, read second-hand: 20 % of all water
        (26, True),  # one US tablespoon to two ounces (web page and a newspaper; common practice)
        (33, True),  # a cookbook of 2021 (common practice)
    ],
)
def test_water_for_seized_chocolate(percent, enough):
    """Published shares reach the least for a smooth sauce, a tenth does not."""
    assert (percent * 2 >= chocolate.liquid_for_seized(200)["least_water_g"]) is enough


def test_no_standard_goes_unchecked():
    """Every standard kept is one of the published rows, and every one can be chosen by its name."""
    published = {row["at"]["standard"] for row in topic("chocolate")["rows"] if row.get("by") == "label"}
    assert set(labels.STANDARDS) == published == set(CHOICES["standard"].answers)
