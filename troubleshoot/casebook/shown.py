"""Cases and figures of the book as a person reads them: plain lines, made off the event loop."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime

from troubleshoot.advice.wording import Wording, percent
from troubleshoot.casebook.figures import CauseRow, Confirmed, Figures
from troubleshoot.casebook.intervals import Share
from troubleshoot.casebook.names import Names
from troubleshoot.casebook.nearest import Near, outcome_words
from troubleshoot.casebook.record import Record
from troubleshoot.inference.facts import Given
from troubleshoot.inference.habits import Habit
from troubleshoot.interview import describe

Translate = Callable[[str], str]


@dataclass(frozen=True, slots=True)
class CaseLine:
    """A case in a list: what it was, and when, what and how it came out below."""

    id: str
    title: str
    note: str


@dataclass(frozen=True, slots=True)
class CaseView:
    """A case in full.

    ``about`` are (what, words); ``answers`` (question, what was said); ``suspects`` in words, the verdict's own first.
    ``causes`` are (id, name) of all that it can have been but for the verdict's own, the suspects first; ``remedies``
    (id, name) of what can have been done; ``pictures`` the JPEGs in order, None for one that is not to be had.
    """

    record: Record
    title: str
    about: tuple[tuple[str, str], ...]
    answers: tuple[tuple[str, str], ...]
    suspects: tuple[str, ...]
    outcome: str
    causes: tuple[tuple[str, str], ...]
    remedies: tuple[tuple[str, str], ...]
    pictures: tuple[bytes | None, ...] = ()


@dataclass(frozen=True, slots=True)
class NearLine:
    """A past case like the one in hand: what it was, how alike, and what was done with what success."""

    id: str
    title: str
    note: str
    worked: bool


def month(on: date, tr: Translate = str) -> str:
    """Return a month's short name as a word of the program's, whatever language the system speaks."""
    months = (
        *(tr("Jan"), tr("Feb"), tr("Mar"), tr("Apr"), tr("May"), tr("Jun")),
        *(tr("Jul"), tr("Aug"), tr("Sep"), tr("Oct"), tr("Nov"), tr("Dec")),
    )
    return months[on.month - 1]


def day(on: date, tr: Translate = str) -> str:
    """Return a day with its month in words."""
    return f"{on.day:02} {month(on, tr)} {on.year}"


def when(moment: datetime, tr: Translate = str) -> str:
    """Return a moment as this machine's clock shows it."""
    here = moment.astimezone()
    return f"{day(here, tr)}, {here:%H:%M}"


def case_line(record: Record, names: Names, tr: Translate = str) -> CaseLine:
    """Return a case as a line of a list."""
    parts = [when(record.finished, tr), names.family(record.family)]
    if record.suspects:
        parts.append(tr("said {0}").format(percent(record.suspects[0].probability)))
    parts.append(
        {
            "right": tr("was right"),
            "wrong": tr("was wrong: {0}").format(names.cause(record.family, record.true_cause)),
        }.get(record.outcome, tr("not said yet whether it was right"))
    )
    if record.pieces_lost is not None:
        parts.append(tr("{0} pieces lost").format(record.pieces_lost))
    if record.kitchen:
        parts.append(record.kitchen)
    return CaseLine(record.id, names.cause(record.family, record.cause), " · ".join(parts))


def case_view(
    record: Record,
    names: Names,
    wording: Wording,
    tr: Translate = str,
    pictures: tuple[bytes | None, ...] = (),
) -> CaseView:
    """Return a case in full, with its pictures where they are shown."""
    family = names.held(record.family)
    about = [
        (tr("Complaint"), wording.text(names.fault(record.family, record.fault))),
        (tr("Made"), names.family(record.family)),
        (tr("Finished"), when(record.finished, tr)),
        (tr("Kitchen"), record.kitchen),
        (tr("Role on shift"), record.role),
        (tr("Rules"), record.rules_version),
    ]
    answers = []
    for given in record.answers:
        sign = family.signs.get(given.sign) if family is not None else None
        plain = Given(given.answer, given.value)
        if sign is None or (given.answer is not None and given.answer not in (*sign.answer_ids, *sign.loosely)):
            said = given.answer or (tr("Can't tell") if given.value is None else f"{given.value:g}")
            answers.append((given.sign, said))
        else:
            answers.append((wording.text(sign.ask), describe.said(sign, plain, wording)))
    suspected = [s.cause for s in record.suspects[1:]]
    others = sorted(family.causes if family is not None else (), key=lambda cause: names.cause(record.family, cause))
    causes = [cause for cause in dict.fromkeys((*suspected, *others)) if cause != record.cause]
    held = family.causes.get(record.blamed or "") if family is not None else None
    remedies = dict.fromkeys((*record.done, *(held.remedies if held is not None else ())))
    return CaseView(
        record,
        names.cause(record.family, record.cause),
        tuple((what, words) for what, words in about if words),
        tuple(answers),
        tuple(f"{percent(s.probability)}  {names.cause(record.family, s.cause)}" for s in record.suspects),
        outcome_words(record, names.cause, tr),
        tuple((cause, names.cause(record.family, cause)) for cause in causes),
        tuple((remedy, names.remedy(record.family, remedy)) for remedy in remedies if _now(family, remedy)),
        pictures,
    )


def _now(family: object, remedy: str) -> bool:
    """Return whether a remedy is for the batch in hand; one that the rules no longer hold counts as such."""
    remedies = getattr(family, "remedies", {})
    return remedy not in remedies or remedies[remedy].kind != "next-time"


def near_line(near: Near, names: Names, tr: Translate = str) -> NearLine:
    """Return a past case as a line beside the verdict."""
    record = near.record
    parts = [
        tr("{0} alike, {1}").format(percent(near.alike), when(record.finished, tr)),
        outcome_words(record, names.cause, tr),
    ]
    for remedy in record.done:
        did = tr("What worked: {0}.") if near.worked else tr("Done: {0}.")
        parts.append(did.format(names.remedy(record.family, remedy)))
    if record.done and record.pieces_saved is not None:
        parts.append(tr("{0} pieces saved.").format(record.pieces_saved))
    if record.invented:
        parts.append(tr("Invented."))
    return NearLine(record.id, names.cause(record.family, record.cause), " ".join(parts), near.worked)


# -- figures ---------------------------------------------------------------------------


def cause_note(row: CauseRow, tr: Translate = str) -> str:
    """Return what a cause took, in words."""
    said = tr("{0} pieces lost in {1} cases, {2} minutes; {3} of all, {4} with those above")
    return said.format(row.pieces_lost, row.cases, f"{row.minutes:.0f}", percent(row.share), percent(row.together))


def cost_line(found: Figures, tr: Translate = str) -> str:
    """Return what all cases took, in words."""
    cost = found.cost
    said = tr("{0} cases: {1} pieces lost, {2} saved, {3} hours of work.")
    words = said.format(cost.cases, cost.pieces_lost, cost.pieces_saved, f"{cost.minutes / 60:.1f}".removesuffix(".0"))
    if cost.counted < cost.cases:
        words += " " + tr("{0} of them say how many pieces were lost.").format(cost.counted)
    return words


def share_words(share: Share, tr: Translate = str) -> str:
    """Return a share with its interval, in words."""
    if share.value is None:
        return tr("none known")
    said = tr("{0} of {1}, {2} (likely between {3} and {4})")
    return said.format(
        share.part, share.whole, *(f"{x:.0%}".replace("%", " %") for x in (share.value, share.low, share.high))
    )


def confirmed_line(found: Confirmed, tr: Translate = str) -> str:
    """Return how often the verdicts were right, in words."""
    if found.share.value is None:
        return tr("Nobody has said yet whether a verdict was right. Open a case and say so.")
    said = tr("The verdict was right in {0}. Of {1} cases it is not known.")
    return said.format(share_words(found.share, tr), found.not_known)


def calibration_lines(found: Figures, tr: Translate = str) -> tuple[str, ...]:
    """Return what was said against what was right, in words."""
    kept, broken = tr("Said {0}: right in {1}."), tr("Said {0}: right in {1}. That is not what was said.")
    return tuple(
        (kept if step.held else broken).format(percent(step.stated), share_words(step.right, tr))
        for step in found.calibration
    )


def week_lines(found: Figures, tr: Translate = str) -> tuple[str, ...]:
    """Return what the control chart of cases tells, in words."""
    trend = found.trend
    if not trend.ended:
        return (tr("No week has ended yet."),)
    high = trend.cases.points[0].high
    lines = [
        tr("{0} cases in a week on average. Chance alone keeps a week at or below {1}.").format(
            f"{trend.cases.centre:.1f}", f"{high:.0f}"
        )
    ]
    words = {
        "above": tr("Week of {0}: {1} cases, more than chance makes. Look for what was different."),
        "below": tr("Week of {0}: {1} cases, fewer than chance makes. Look for what went well."),
        "run": tr("Week of {0}: {1} cases, one of eight or more weeks on the same side of the average."),
    }
    for week, point in zip(trend.ended, trend.cases.points, strict=True):
        if point.signal:
            lines.append(words[point.signal].format(day(week.begins, tr), week.cases))
    if trend.cases.steady:
        lines.append(tr("No week stands out."))
    if not trend.firm:
        lines.append(tr("With fewer than twenty weeks the limits are not firm yet."))
    return tuple(lines)


def habit_note(habit: Habit, tr: Translate = str) -> str:
    """Return how common a cause is here against what the rules say, in words."""
    said = tr("In this kitchen {0} of {1}. The rules begin with {2}, the ranking here with {3}.")
    return said.format(habit.count, habit.of, percent(habit.before), percent(habit.after))
