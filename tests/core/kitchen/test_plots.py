"""Plots are data that agree with the calculations, and can be drawn into files."""

from __future__ import annotations

import sys

import pytest

from troubleshoot.advice.wording import Wording
from troubleshoot.errors import AmountError
from troubleshoot.kitchen import plots
from troubleshoot.kitchen.card import card
from troubleshoot.kitchen.heat import minutes_to_reach
from troubleshoot.kitchen.sucrose import syrup_boiling_point
from troubleshoot.plotting import write_plot


def usual(name: str) -> plots.Plot:
    return plots.plot_of(name, {given.name: given.usual for given in card(name).inputs})


@pytest.mark.parametrize("name", sorted(plots.PLOTS))
def test_every_plot_is_made_from_the_inputs_of_its_calculation(name: str):
    """The values that give figures give a plot, with an axis each, curves, and something of the batch on it."""
    plot = usual(name)
    assert plot.title
    assert plot.y_unit == "degC"
    assert all(len(line.points) >= 2 for line in plot.lines)
    assert plot.marks or plot.levels


def test_the_point_of_the_batch_lies_on_the_boiling_curve():
    """The mark is where the calculation says, and the curve rises all the way."""
    plot = plots.boiling_curve(72, 500)
    ((_, (x, y)),) = plot.marks
    assert (x, y) == (72, syrup_boiling_point(72, 500)["boils_c"])
    heights = [point[1] for point in plot.lines[0].points]
    assert heights == sorted(heights)


def test_the_cooling_curve_crosses_the_limit_when_it_is_said_to():
    """Where the curve passes 8 °C is where the time to 8 °C lies."""
    plot = plots.cooling_curve(60, 8, 4, 30)
    due = minutes_to_reach(60, 8, 4, 30)
    before = max(minutes for minutes, heat in plot.lines[0].points if heat > 8)
    after = min(minutes for minutes, heat in plot.lines[0].points if heat <= 8)
    assert before <= due <= after
    assert any("Kingdom" in level.words for level in plot.levels)


def test_the_bowl_lies_across_the_tempering_curve():
    """The temperature of the bowl is one level, the loss of temper another."""
    levels = {level.words: level.y for level in plots.temper_curve("milk", 33.0).levels}
    assert levels["The bowl now"] == 33.0
    assert levels["Temper is lost above"] == 32.5
    assert len(plots.temper_curve("milk").levels) == 1


def test_a_calculation_without_a_plot_says_which_have_one():
    """Asking for a plot that is not there names those that are."""
    with pytest.raises(AmountError, match="cooling_time"):
        plots.plot_of("egg_to_flour", {})


@pytest.mark.parametrize(("name", "start"), [("plot.png", b"\x89PNG"), ("plot.svg", b"<?xml")])
def test_plots_are_written_as_png_and_svg(tmp_path, name: str, start: bytes):
    """Each kind of file is what its ending says."""
    write_plot(usual("cooling_time"), tmp_path / name, Wording(fahrenheit=True))
    assert (tmp_path / name).read_bytes().startswith(start)


def test_the_same_plot_gives_the_same_file(tmp_path):
    """A plot drawn twice is the same file byte by byte."""
    for name in ("one.svg", "two.svg"):
        write_plot(usual("syrup_boiling_point"), tmp_path / name)
    assert (tmp_path / "one.svg").read_bytes() == (tmp_path / "two.svg").read_bytes()


def test_bad_files_and_a_missing_library_are_said_plainly(tmp_path, monkeypatch):
    """A wrong ending, a folder that is not there, and no drawing library each give one sentence."""
    plot = usual("tempering_curve")
    with pytest.raises(AmountError, match=r"neither \.png nor \.svg"):
        write_plot(plot, tmp_path / "plot.gif")
    with pytest.raises(AmountError, match="cannot be written"):
        write_plot(plot, tmp_path / "no" / "plot.svg")
    monkeypatch.setitem(sys.modules, "matplotlib", None)
    with pytest.raises(AmountError, match="pip install matplotlib"):
        write_plot(plot, tmp_path / "plot.svg")
