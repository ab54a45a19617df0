"""A plot drawn into a PNG or SVG file.  The drawing library is loaded only when somebody asks for one."""

from __future__ import annotations

import io
from pathlib import Path
from typing import Any

from troubleshoot import atomic
from troubleshoot.advice.wording import Wording
from troubleshoot.errors import AmountError
from troubleshoot.kitchen.plots import Plot

#: Kinds of file that can be written.
KINDS = (".png", ".svg")

#: Beyond this part of the plot the words of a point have no room after it.
_LATE = 0.85

#: Two levels nearer than this part of the plot have no room for words between them.
_CROWDED = 0.06

#: How the words of a point stand beside it: which end is at it, and how far off it is, in points.
_LABELS = {"above": ("left", (7, 6)), "below": ("left", (9, -12)), "before": ("right", (-7, 8))}

_INK, _SOFT, _ACCENT, _CAUTION = "#2b1a12", "#6b5a50", "#8a3b12", "#9a1f1f"


def write_plot(plot: Plot, file: Path, wording: Wording | None = None) -> None:
    """Draw ``plot`` into ``file``, as its ending says.

    Errors: another ending than .png or .svg, a folder that cannot be written, no drawing library.
    """
    if file.suffix.lower() not in KINDS:
        raise AmountError(f"amounts: '{file.name}' is neither .png nor .svg; write plot.svg")
    try:
        from matplotlib import rc_context
        from matplotlib.backends.backend_agg import FigureCanvasAgg
        from matplotlib.figure import Figure
    except ImportError:
        raise AmountError("amounts: plots need matplotlib; install it with: pip install matplotlib") from None
    with rc_context({"svg.hashsalt": "batchmend", "svg.fonttype": "none"}):
        figure = Figure(figsize=(7.2, 4.6), layout="constrained")
        FigureCanvasAgg(figure)
        _draw(figure.add_subplot(), plot, wording or Wording())
        try:
            kind = file.suffix.lower()
            drawn = io.BytesIO()
            figure.savefig(drawn, format=kind[1:], dpi=150, metadata={"Date": None} if kind == ".svg" else None)
            atomic.write_bytes(file, drawn.getvalue(), folders=False)
        except OSError as error:
            raise AmountError(f"amounts: the plot cannot be written ({error.strerror or error})") from None


def scaled(value: float, unit: str, wording: Wording) -> float:
    """Return a number of an axis in the scale that is shown."""
    return value * 9 / 5 + 32 if unit == "degC" and wording.fahrenheit else value


def axis(words: str, unit: str, wording: Wording) -> str:
    """Return the title of an axis with its unit."""
    shown = ("°F" if wording.fahrenheit else "°C") if unit == "degC" else unit
    return f"{words}, {shown}" if shown else words


def _reach(plot: Plot) -> float:
    """Return how far the plot reaches from its lowest point to its highest."""
    heights = [y for line in plot.lines for _, y in line.points] + [level.y for level in plot.levels]
    return max(heights) - min(heights)


def beside(plot: Plot, x: float) -> str:
    """Return where the words of a point stand clear of the curve: ``above`` or ``below`` it, or ``before`` it."""
    curve = plot.lines[0].points
    furthest = max(x for line in plot.lines for x, _ in line.points)
    if x > _LATE * furthest:
        return "before"
    return "above" if curve[-1][1] < curve[0][1] else "below"


def _draw(axes: Any, plot: Plot, wording: Wording) -> None:
    def height(y: float) -> float:
        return scaled(y, plot.y_unit, wording)

    for line in plot.lines:
        style, colour = ("--", _SOFT) if line.dashed else ("-", _INK)
        xs, ys = zip(*line.points, strict=True)
        axes.plot(xs, [height(y) for y in ys], style, color=colour, label=line.words)
    for index, level in enumerate(plot.levels):
        colour = _ACCENT if level.own else _CAUTION
        axes.axhline(height(level.y), color=colour, linewidth=2 if level.own else 1)
        across, side = ((0.99, "right"), (0.01, "left"))[index % 2]
        at = (across, height(level.y))
        near = any(0 < other.y - level.y < _CROWDED * _reach(plot) for other in plot.levels)
        up = "top" if near else "bottom"
        axes.annotate(level.words, at, xycoords=("axes fraction", "data"), ha=side, va=up, color=colour, fontsize=9)
    for words, (x, y) in plot.marks:
        side, away = _LABELS[beside(plot, x)]
        axes.plot([x], [height(y)], "o", color=_ACCENT)
        axes.annotate(words, (x, height(y)), textcoords="offset points", xytext=away, ha=side, color=_ACCENT)
    if plot.ticks:
        axes.set_xticks([at for at, _ in plot.ticks], [words for _, words in plot.ticks])
    axes.set_title(plot.title)
    axes.set_xlabel(axis(plot.x_words, plot.x_unit, wording))
    axes.set_ylabel(axis(plot.y_words, plot.y_unit, wording))
    axes.grid(visible=True, alpha=0.3)
    if len(plot.lines) > 1:
        axes.legend(frameon=False)
