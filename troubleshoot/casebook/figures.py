"""What the book adds up to: causes by what they took, how often verdicts were right, weeks, and cost.

Everything here is worked out from the sums of ``sums.py``; nothing reads a record.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from troubleshoot.casebook.control import Chart, count_chart, share_chart
from troubleshoot.casebook.filters import EVERY, Filter
from troubleshoot.casebook.intervals import Share, share
from troubleshoot.casebook.store import Book
from troubleshoot.casebook.sums import CauseSum, OutcomeCount, SpanSum, StatedCount

#: What causes can be put in order by.
MEASURES: Mapping[str, Callable[[CauseSum], float]] = {
    "pieces": lambda s: float(s.pieces_lost),
    "cases": lambda s: float(s.cases),
    "minutes": lambda s: s.minutes,
}

#: The few causes that together make this share are the ones to begin with.
FEW_SHARE = 0.8

#: Lower edges of the steps of stated probability, in per cent; the last step ends at 100.
STEPS_PERCENT = (0, 40, 60, 70, 80, 90, 95)

WEEK = timedelta(days=7)
#: A Monday.  Weeks begin on Mondays at 0:00 UTC.
A_MONDAY = datetime(1970, 1, 5, tzinfo=UTC)

#: A week counts in the chart of wrong verdicts from so many known outcomes on; of fewer, chance makes anything.
LEAST_JUDGED = 4

#: With fewer weeks than this the limits of a control chart are not firm yet (e-Handbook 6.3.2 asks for 20 or more).
FIRM_WEEKS = 20


@dataclass(frozen=True, slots=True)
class CauseRow:
    """A cause in its place in the order: what it took, its share of all, and the share of it and those before it.

    ``cause`` is None for cases whose cause is none of those known.  ``few`` marks the causes to begin with.
    """

    family: str
    cause: str | None
    cases: int
    pieces_lost: int
    minutes: float
    share: float
    together: float
    few: bool


@dataclass(frozen=True, slots=True)
class Confirmed:
    """How the verdicts turned out: counts, and the share that was right among those known."""

    right: int
    wrong: int
    not_known: int
    share: Share


@dataclass(frozen=True, slots=True)
class Step:
    """Verdicts whose stated probability lies from ``low`` to below ``high`` (0..1; the last holds 1 too).

    ``stated`` is the mean they stated, ``right`` how many were.
    """

    low: float
    high: float
    stated: float
    right: Share

    @property
    def held(self) -> bool:
        """Whether what was stated lies in the interval of what was right."""
        return self.right.low <= self.stated <= self.right.high


@dataclass(frozen=True, slots=True)
class Week:
    """One week: ``begins`` is its Monday.  ``whole`` is False for one that has not ended."""

    begins: datetime
    cases: int
    pieces_lost: int
    minutes: float
    right: int
    wrong: int
    whole: bool = True


@dataclass(frozen=True, slots=True)
class Trend:
    """Week by week, and two control charts over the weeks that have ended.

    ``cases`` has a point for each such week; ``wrong`` (the share of verdicts that were wrong) has one for each of
    ``judged``, the weeks with LEAST_JUDGED known outcomes or more.  The limits are firm from FIRM_WEEKS weeks on.
    """

    weeks: tuple[Week, ...]
    cases: Chart
    judged: tuple[Week, ...]
    wrong: Chart

    @property
    def ended(self) -> tuple[Week, ...]:
        """The weeks that have ended."""
        return tuple(week for week in self.weeks if week.whole)

    @property
    def firm(self) -> bool:
        """Whether there are enough weeks for firm limits."""
        return len(self.cases.points) >= FIRM_WEEKS


@dataclass(frozen=True, slots=True)
class Cost:
    """What the cases took: pieces lost and saved, minutes.  ``counted`` of ``cases`` say how many pieces were lost."""

    cases: int
    counted: int
    pieces_lost: int
    pieces_saved: int
    minutes: float


@dataclass(frozen=True, slots=True)
class Figures:
    """All figures of the cases that fit a filter."""

    by_pieces: tuple[CauseRow, ...]
    by_cases: tuple[CauseRow, ...]
    by_minutes: tuple[CauseRow, ...]
    confirmed: Confirmed
    by_verdict: Mapping[tuple[str, str | None], Confirmed]
    calibration: tuple[Step, ...]
    trend: Trend
    cost: Cost

    def ranked(self, measure: str) -> tuple[CauseRow, ...]:
        """Return the causes by one of MEASURES."""
        return {"pieces": self.by_pieces, "cases": self.by_cases, "minutes": self.by_minutes}[measure]


def figures(book: Book, wanted: Filter = EVERY, now: datetime | None = None) -> Figures:
    """Return the figures of the cases that fit.  Raises BookError when the book cannot be read."""
    sums = book.pieces_lost_by_cause(wanted)
    counts = book.outcome_counts_by_cause(wanted)
    return Figures(
        by_pieces=ranked(sums, "pieces"),
        by_cases=ranked(sums, "cases"),
        by_minutes=ranked(sums, "minutes"),
        confirmed=confirmed(counts),
        by_verdict={(count.family, count.cause): confirmed([count]) for count in counts},
        calibration=calibration(book.stated_and_right(wanted)),
        trend=trend(book.by_span(A_MONDAY, WEEK, wanted), now or datetime.now(UTC)),
        cost=cost(sums),
    )


def ranked(sums: Sequence[CauseSum], measure: str) -> tuple[CauseRow, ...]:
    """Return causes by what they took, most first (a Pareto order); those that took nothing come last, share 0."""
    of = MEASURES[measure]
    total = sum(of(one) for one in sums)
    rows, together = [], 0.0
    for one in sorted(sums, key=lambda s: (-of(s), -s.cases, s.cause is None, s.family, s.cause or "")):
        part = of(one) / total if total else 0.0
        few = part > 0.0 and together < FEW_SHARE - 1e-12
        together += part
        rows.append(CauseRow(one.family, one.cause, one.cases, one.pieces_lost, one.minutes, part, together, few))
    return tuple(rows)


def confirmed(counts: Sequence[OutcomeCount]) -> Confirmed:
    """Return how verdicts turned out, with the share that was right among those whose outcome is known."""
    right, wrong = sum(c.right for c in counts), sum(c.wrong for c in counts)
    return Confirmed(right, wrong, sum(c.not_known for c in counts), share(right, right + wrong))


def calibration(stated: Sequence[StatedCount]) -> tuple[Step, ...]:
    """Return how often verdicts were right by what they stated, in steps of STEPS_PERCENT; empty steps are left out."""
    steps = []
    for low, high in zip(STEPS_PERCENT, (*STEPS_PERCENT[1:], 101), strict=True):
        inside = [one for one in stated if low <= one.percent < high]
        cases = sum(one.cases for one in inside)
        if cases:
            mean = sum(one.stated * one.cases for one in inside) / cases
            right = share(sum(one.right for one in inside), cases)
            steps.append(Step(low / 100.0, min(high, 100) / 100.0, mean, right))
    return tuple(steps)


def trend(spans: Sequence[SpanSum], now: datetime) -> Trend:
    """Return the weeks from the first case to the last, those without a case among them, and their control charts."""
    found = {span.begins: span for span in spans}
    weeks = []
    begins = spans[0].begins if spans else now
    while spans and begins <= spans[-1].begins:
        span = found.get(begins)
        whole = begins + WEEK <= now
        weeks.append(
            Week(begins, span.cases, span.pieces_lost, span.minutes, span.right, span.wrong, whole)
            if span is not None
            else Week(begins, 0, 0, 0.0, 0, 0, whole)
        )
        begins += WEEK
    ended = [week for week in weeks if week.whole]
    judged = [week for week in ended if week.right + week.wrong >= LEAST_JUDGED]
    return Trend(
        tuple(weeks),
        count_chart([week.cases for week in ended]),
        tuple(judged),
        share_chart([week.wrong for week in judged], [week.right + week.wrong for week in judged]),
    )


def cost(sums: Sequence[CauseSum]) -> Cost:
    """Return what all cases took together."""
    return Cost(
        sum(s.cases for s in sums),
        sum(s.counted for s in sums),
        sum(s.pieces_lost for s in sums),
        sum(s.pieces_saved for s in sums),
        sum(s.minutes for s in sums),
    )
