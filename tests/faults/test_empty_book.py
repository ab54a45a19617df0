"""A book with one case of this very week: no week is whole yet, and its charts say nothing that is not so."""

from __future__ import annotations

import pytest
from busy_kitchen import Kitchen
from surroundings import command


@pytest.mark.parametrize("chart", ["weeks", "wrong", "cost"])
def test_a_chart_before_the_first_whole_week_names_no_day(
    chart: str, kitchen: Kitchen, capsys: pytest.CaptureFixture[str]
):
    """It is drawn without a warning, and below it stands no day from the beginning of the clock."""
    assert command(["book", "figures", "--chart", chart, "--to", "few.svg"]) == 0
    assert "Warning" not in "".join(capsys.readouterr())
    drawn = (kitchen.out / "few.svg").read_text(encoding="utf-8")
    assert "week beginning" in drawn
    assert "1970" not in drawn
