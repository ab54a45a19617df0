"""``batchmend book figures``: what keeps coming back, how often verdicts were right, week by week, and the cost."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING, Any

from troubleshoot.commands.book.common import add_book, add_filters, open_book, wanted
from troubleshoot.commands.output import plain, print_json, print_text
from troubleshoot.errors import UserError

if TYPE_CHECKING:
    from troubleshoot.casebook.figures import CauseRow, Confirmed, Figures
    from troubleshoot.casebook.intervals import Share
    from troubleshoot.casebook.names import Names

#: The charts that can be drawn; ``casebook.charts`` draws them.
CHARTS = ("pieces", "cases", "minutes", "calibration", "weeks", "wrong", "cost")
MEASURES = CHARTS[:3]

#: Causes that are printed; --json has all.
SHOWN = 12


def add_to(commands: Any) -> None:
    """Add the subcommand."""
    command = commands.add_parser("figures", help="what keeps coming back, and how often the verdicts were right")
    command.add_argument("--by", choices=MEASURES, default="pieces", help="put the causes in order by this (pieces)")
    command.add_argument("--chart", choices=CHARTS, help="draw this chart instead, into the file after --to")
    command.add_argument("--to", type=Path, metavar="FILE", help="the chart's file, .png or .svg")
    command.add_argument("--json", action="store_true", help="print as JSON")
    add_filters(command)
    add_book(command)
    command.set_defaults(run=run)


def run(arguments: argparse.Namespace, rules: Path) -> int:
    """Print the figures, or draw one of them."""
    from troubleshoot.casebook.figures import figures
    from troubleshoot.casebook.names import Names
    from troubleshoot.interview.shelf import Shelf

    if (arguments.chart is None) != (arguments.to is None):
        raise UserError("book figures: --chart and --to go together, as in --chart weeks --to weeks.svg")
    with open_book(arguments) as book:
        found = figures(book, wanted(arguments))
    if arguments.json:
        print_json(as_data(found))
    elif not found.cost.cases:
        print("No case fits.")
    elif arguments.chart is not None:
        from troubleshoot.casebook.charts import Labels, write_chart

        write_chart(arguments.chart, found, arguments.to, Labels(Names(Shelf(rules)).cause))
        print(plain(f"The chart is in {arguments.to}."))
    else:
        _print(found, arguments.by, Names(Shelf(rules)))
    return 0


def as_data(found: Figures) -> dict[str, Any]:
    """Return the figures as plain data."""
    trend = found.trend
    points = dict(zip((week.begins for week in trend.ended), trend.cases.points, strict=True))
    wrong = dict(zip((week.begins for week in trend.judged), trend.wrong.points, strict=True))
    return {
        "cost": {
            "cases": found.cost.cases,
            "pieces_counted_in": found.cost.counted,
            "pieces_lost": found.cost.pieces_lost,
            "pieces_saved": found.cost.pieces_saved,
            "minutes": round(found.cost.minutes, 1),
        },
        "causes": {measure: [_cause(row) for row in found.ranked(measure)] for measure in MEASURES},
        "confirmed": _confirmed(found.confirmed),
        "confirmed_by_verdict": [
            {"family": family, "cause": cause, **_confirmed(one)} for (family, cause), one in found.by_verdict.items()
        ],
        "calibration": [
            {
                "from": step.low,
                "to": step.high,
                "stated": round(step.stated, 4),
                "right": _share(step.right),
                "held": step.held,
            }
            for step in found.calibration
        ],
        "weeks": {
            "mean": round(trend.cases.centre, 4),
            "mean_wrong": round(trend.wrong.centre, 4),
            "firm": trend.firm,
            "weeks": [
                {
                    "begins": week.begins.date().isoformat(),
                    "ended": week.whole,
                    "cases": week.cases,
                    "pieces_lost": week.pieces_lost,
                    "minutes": round(week.minutes, 1),
                    "right": week.right,
                    "wrong": week.wrong,
                    "limits": _limits(points.get(week.begins)),
                    "limits_wrong": _limits(wrong.get(week.begins)),
                }
                for week in trend.weeks
            ],
        },
    }


def _limits(point: Any) -> dict[str, Any] | None:
    if point is None:
        return None
    return {"low": round(point.low, 4), "high": round(point.high, 4), "signal": point.signal or None}


def _cause(row: CauseRow) -> dict[str, Any]:
    return {
        "family": row.family,
        "cause": row.cause,
        "cases": row.cases,
        "pieces_lost": row.pieces_lost,
        "minutes": round(row.minutes, 1),
        "share": round(row.share, 4),
        "together": round(row.together, 4),
        "begin_with": row.few,
    }


def _confirmed(found: Confirmed) -> dict[str, Any]:
    return {"right": found.right, "wrong": found.wrong, "not_known": found.not_known, "share": _share(found.share)}


def _share(found: Share) -> dict[str, Any]:
    value = None if found.value is None else round(found.value, 4)
    return {
        "part": found.part,
        "whole": found.whole,
        "value": value,
        "low": round(found.low, 4),
        "high": round(found.high, 4),
    }


def _print(found: Figures, by: str, names: Names) -> None:
    cost = found.cost
    print(f"{cost.cases} cases: {cost.pieces_lost} pieces lost, {cost.pieces_saved} saved, {cost.minutes:.0f} minutes.")
    if cost.counted < cost.cases:
        print(f"{cost.counted} of them say how many pieces were lost.")
    what = {"pieces": "pieces lost", "cases": "cases", "minutes": "minutes"}[by]
    print(f"\nWhat keeps coming back, by {what} (* begin with these: together four fifths)")
    rows = [row for row in found.ranked(by) if row.share > 0.0]
    for row in rows[:SHOWN]:
        value = {"pieces": row.pieces_lost, "cases": row.cases, "minutes": round(row.minutes)}[by]
        mark = "*" if row.few else " "
        print_text(
            f"{names.cause(row.family, row.cause)} ({names.family(row.family)})",
            first=f"{mark} {value:6} {row.share:4.0%} {row.together:5.0%}  ",
        )
    if len(rows) > SHOWN:
        print(f"  … and {len(rows) - SHOWN} more; --json has them all.")
    _print_confirmed(found)
    _print_weeks(found)


def _print_confirmed(found: Figures) -> None:
    print("\nHow often the verdict was right")
    share = found.confirmed.share
    if share.value is None:
        print_text("Nobody has said yet whether a verdict was right: 'batchmend book outcome ID right|wrong'.", "  ")
        return
    print(f"  {_in_words(share)}; of {found.confirmed.not_known} cases it is not known.")
    for step in found.calibration:
        word = "" if step.held else "   (not what was said)"
        print(f"  said {step.stated:4.0%}: right in {_in_words(step.right)}{word}")


def _in_words(share: Share) -> str:
    return f"{share.part} of {share.whole}, {share.value:.0%} (95 % interval {share.low:.0%} to {share.high:.0%})"


def _print_weeks(found: Figures) -> None:
    trend = found.trend
    if not trend.ended:
        return
    high = trend.cases.points[0].high
    print(f"\nWeek by week: {trend.cases.centre:.1f} cases on average; chance keeps a week at or below {high:.1f}")
    words = {"above": "above what chance does", "below": "below what chance does", "run": "the eighth on one side"}
    for week, point in zip(trend.ended, trend.cases.points, strict=True):
        if point.signal:
            print(f"  week of {week.begins:%Y-%m-%d}: {week.cases} cases, {words[point.signal]}")
    if trend.cases.steady:
        print("  No week stands out.")
    if not trend.firm:
        print("  With fewer than twenty weeks the limits are not firm yet.")
