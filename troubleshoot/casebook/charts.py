"""The figures as charts.  The drawing library is loaded only when somebody asks for one."""

from __future__ import annotations

import io
import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

from troubleshoot import atomic
from troubleshoot.casebook.control import Chart
from troubleshoot.casebook.errors import BookError
from troubleshoot.casebook.figures import CauseRow, Figures, Week
from troubleshoot.casebook.shown import month

#: Kinds of file that can be written.
KINDS = (".png", ".svg")

#: Causes that have a bar of their own; the rest stands together in the last.
MOST_BARS = 10

#: Characters of a cause's name on one line of its label.
LABEL_CHARACTERS = 38


@dataclass(frozen=True, slots=True)
class Look:
    """Colours as ``#rrggbb``, and the size of text in points."""

    ground: str = "#ffffff"
    ink: str = "#2b1a12"
    soft: str = "#6b5a50"
    line: str = "#dccdb3"
    accent: str = "#1f5b4d"
    bar: str = "#a8917d"
    caution: str = "#9a1f1f"
    text_pt: float = 10.0


@dataclass(frozen=True, slots=True)
class Labels:
    """Words of a chart: what causes are called, and the sentences around the drawing."""

    cause: Callable[[str, str | None], str]
    tr: Callable[[str], str] = str


#: The shortest time that a chart of weeks shows.
_LEAST_DAYS = 28.0

Draw = Callable[[Any, Figures, Labels, Look], None]


def write_chart(name: str, figures: Figures, file: Path, labels: Labels, look: Look | None = None) -> None:
    """Draw one of CHARTS into a PNG or SVG file.

    Raises BookError for another ending, a folder that cannot be written, and when the drawing library is missing.
    """
    kind = file.suffix.lower()
    if kind not in KINDS:
        raise BookError(f"'{file.name}' is neither .png nor .svg. Write {name}.svg.")
    data = chart_bytes(name, figures, kind[1:], labels, look or Look(), (8.0, 5.4), 150.0)
    try:
        atomic.write_bytes(file, data, folders=False)
    except OSError as error:
        raise BookError(f"{file}: the chart cannot be written ({error.strerror or error}).") from None


def chart_bytes(
    name: str,
    figures: Figures,
    kind: str,
    labels: Labels,
    look: Look,
    size_in: tuple[float, float],
    dpi: float,
) -> bytes:
    """Return one of CHARTS as a PNG or SVG; the same figures give the same bytes.  ``size_in`` is in inches."""
    made = io.BytesIO()
    with _canvas(look, size_in) as figure:
        CHARTS[name](figure, figures, labels, look)
        figure.savefig(made, format=kind, dpi=dpi, metadata={"Date": None} if kind == "svg" else {"Software": None})
    return made.getvalue()


@contextmanager
def _canvas(look: Look, size_in: tuple[float, float]) -> Iterator[Any]:
    try:
        from matplotlib import rc_context
        from matplotlib.backends.backend_agg import FigureCanvasAgg
        from matplotlib.figure import Figure
    except ImportError:
        raise BookError("Charts need matplotlib. Install it with: pip install matplotlib") from None
    settings: Any = {
        "svg.hashsalt": "batchmend",
        "svg.fonttype": "none",
        "font.size": look.text_pt,
        "text.color": look.ink,
        "axes.labelcolor": look.ink,
        "axes.titlesize": look.text_pt * 1.1,
        "axes.edgecolor": look.soft,
        "axes.facecolor": look.ground,
        "figure.facecolor": look.ground,
        "xtick.color": look.ink,
        "ytick.color": look.ink,
        "grid.color": look.line,
        "axes.spines.top": False,
        "axes.spines.right": False,
    }
    with rc_context(settings):
        figure = Figure(figsize=size_in, layout="constrained")
        FigureCanvasAgg(figure)
        yield figure


# -- causes ----------------------------------------------------------------------------


def _causes(measure: str) -> Draw:
    def draw(figure: Any, figures: Figures, labels: Labels, look: Look) -> None:
        rows = [row for row in figures.ranked(measure) if row.share > 0.0]
        shown, rest = rows[:MOST_BARS], rows[MOST_BARS:]
        axes = figure.add_subplot()
        names = [_wrapped(labels.cause(row.family, row.cause)) for row in shown]
        values = [_amount(row, measure) for row in shown]
        colours = [look.accent if row.few else look.bar for row in shown]
        together = [row.together for row in shown]
        if rest:
            names.append(labels.tr("{0} other causes").format(len(rest)))
            values.append(sum(_amount(row, measure) for row in rest))
            colours.append(look.bar)
        places = range(len(names))
        bars = axes.barh(places, values, color=colours, height=0.72)
        axes.bar_label(bars, [f"{value:,.0f}" for value in values], padding=3, color=look.ink)
        axes.set_yticks(places, names, linespacing=0.9)
        axes.invert_yaxis()
        axes.margins(x=0.12)
        axes.set_xlabel(labels.tr(_MEASURES[measure]))
        above = axes.twiny()
        above.plot(
            [100 * share for share in together], range(len(together)), "o-", color=look.ink, markersize=3.5, linewidth=1
        )
        above.set_xlim(0, 105)
        above.spines["top"].set_visible(True)
        above.set_xlabel(labels.tr("together with those above, %"))

    return draw


_MEASURES = {"pieces": "pieces lost", "cases": "cases", "minutes": "minutes spent"}


def _amount(row: CauseRow, measure: str) -> float:
    return {"pieces": float(row.pieces_lost), "cases": float(row.cases), "minutes": row.minutes}[measure]


def _wrapped(name: str) -> str:
    lines, line = [], ""
    for word in name.split():
        if line and len(line) + 1 + len(word) > LABEL_CHARACTERS:
            lines.append(line)
            line = word
        else:
            line = f"{line} {word}".strip()
    lines.append(line)
    return "\n".join(lines[:2]) + (" …" if len(lines) > 2 else "")


# -- calibration -----------------------------------------------------------------------


def _calibration(figure: Any, figures: Figures, labels: Labels, look: Look) -> None:
    axes = figure.add_subplot()
    axes.plot([0, 100], [0, 100], "--", color=look.soft, linewidth=1)
    along: Any = {"rotation": 45, "rotation_mode": "anchor", "transform_rotates_text": True}
    axes.text(22, 23.5, labels.tr("said and right alike"), color=look.soft, ha="center", **along)
    for step in figures.calibration:
        right, stated = 100 * (step.right.value or 0.0), 100 * step.stated
        low, high = right - 100 * step.right.low, 100 * step.right.high - right
        colour, mark = (look.accent, "o") if step.held else (look.caution, "s")
        axes.errorbar([stated], [right], [[low], [high]], fmt=mark, color=colour, capsize=4)
        axes.annotate(
            f"{step.right.part}/{step.right.whole}", (stated, right - low), textcoords="offset points", xytext=(0, -4),
            ha="center", va="top", color=colour,
        )  # fmt: skip
    axes.set_xlim(0, 103)
    axes.set_ylim(-8, 103)
    axes.set_xlabel(labels.tr("the verdict said, %"))
    axes.set_ylabel(labels.tr("was right, % (bar: 95 % interval)"))
    axes.grid(visible=True)


# -- weeks -----------------------------------------------------------------------------


def _cases(figure: Any, figures: Figures, labels: Labels, look: Look) -> None:
    trend = figures.trend
    axes = figure.add_subplot()
    _control(axes, trend.ended, trend.cases, 1.0, labels, look)
    open_weeks = [week for week in trend.weeks if not week.whole]
    axes.plot([w.begins for w in open_weeks], [w.cases for w in open_weeks], "o", color=look.soft, fillstyle="none")
    axes.set_ylabel(labels.tr("cases in the week"))
    axes.set_ylim(bottom=0)


def _wrong(figure: Any, figures: Figures, labels: Labels, look: Look) -> None:
    trend = figures.trend
    axes = figure.add_subplot()
    _control(axes, trend.judged, trend.wrong, 100.0, labels, look)
    axes.set_ylabel(labels.tr("verdicts of the week that were wrong, %"))
    axes.set_ylim(0, 103)


def _control(axes: Any, weeks: Sequence[Week], chart: Chart, scale: float, labels: Labels, look: Look) -> None:
    begins = [week.begins for week in weeks]
    values = [scale * point.value for point in chart.points]
    axes.axhline(scale * chart.centre, color=look.soft, linewidth=1, label=labels.tr("mean"))
    for number, limit in enumerate(("low", "high")):
        heights = [scale * getattr(point, limit) for point in chart.points]
        name = labels.tr("limits of chance") if number else None
        axes.plot(begins, heights, "--", color=look.caution, linewidth=1, drawstyle="steps-mid", label=name)
    axes.plot(begins, values, "o-", color=look.ink, markersize=4, linewidth=1)
    for signal, mark, words in (("above", "^", "above"), ("below", "v", "below"), ("run", "s", "a run on one side")):
        found = [number for number, point in enumerate(chart.points) if point.signal == signal]
        if found:
            at = [begins[n] for n in found], [values[n] for n in found]
            axes.plot(*at, mark, color=look.caution, markersize=9, fillstyle="none", label=labels.tr(words))
    _weekly(axes, labels)
    axes.legend(frameon=False, loc="upper left", ncols=2)
    axes.margins(y=0.25)


def _cost(figure: Any, figures: Figures, labels: Labels, look: Look) -> None:
    weeks = figures.trend.weeks
    begins = [week.begins for week in weeks]
    above, below = figure.subplots(2, 1, sharex=True)
    above.bar(begins, [week.pieces_lost for week in weeks], width=5.5, color=look.accent)
    above.set_ylabel(labels.tr("pieces lost"))
    below.bar(begins, [week.minutes / 60.0 for week in weeks], width=5.5, color=look.bar)
    below.set_ylabel(labels.tr("hours spent"))
    for axes in (above, below):
        axes.grid(visible=True, axis="y")
        axes.set_axisbelow(True)
    _weekly(below, labels)


def _weekly(axes: Any, labels: Labels) -> None:
    from matplotlib import dates

    axes.set_xlabel(labels.tr("week beginning"))
    axes.grid(visible=True, axis="y")
    if not math.isfinite(axes.dataLim.x0):
        # No week is whole yet: the drawing library would write days of 1970.
        axes.xaxis.set_ticks([], labels=[])
        return
    # A chart of one or two weeks has a month to stand in: marks of hours would mean nothing.
    first, last = axes.get_xlim()
    spare = max(0.0, _LEAST_DAYS - (last - first)) / 2
    axes.set_xlim(first - spare, last + spare)
    untyped: Any = dates
    places = untyped.AutoDateLocator(maxticks=8)
    axes.xaxis.set_major_locator(places)
    axes.xaxis.set_major_formatter(lambda at, place: _mark(untyped.num2date(at), place, labels))


def _mark(on: date, place: int | None, labels: Labels) -> str:
    """Return a day below a chart; the first one and the first of a year say which year, too."""
    year = f"\n{on.year}" if not place or (on.month, on.day) == (1, 1) else ""
    return f"{on.day} {month(on, labels.tr)}{year}"


#: Every chart by its name.
CHARTS: Mapping[str, Draw] = {
    "pieces": _causes("pieces"),
    "cases": _causes("cases"),
    "minutes": _causes("minutes"),
    "calibration": _calibration,
    "weeks": _cases,
    "wrong": _wrong,
    "cost": _cost,
}
