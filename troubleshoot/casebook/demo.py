"""The demo book: a season of invented cases in the pastry kitchen of a small lakeside hotel.

The cases are drawn from the rule base itself: a cause by how common it is and by what the season does to it, then what
the batch shows, then an interview as a person would hold it.  The same seed and rules give the same cases.  Every case
is marked as invented; the demo book is a file of its own.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import numpy as np

from troubleshoot import resources
from troubleshoot.advice.remedies import RemedyAdvice, advise
from troubleshoot.advice.wording import Wording
from troubleshoot.casebook.concluded import record_of
from troubleshoot.casebook.record import Outcome, Record
from troubleshoot.inference.conclusion import Conclusion
from troubleshoot.inference.network import Array
from troubleshoot.inference.reason import Reasoner
from troubleshoot.inference.selfmeasure import Batch, draw, interview
from troubleshoot.interview.shelf import Shelf

KITCHEN = "Lakeside hotel (invented)"
ROLES = ("pastry cook", "second cook", "trainee", "breakfast cook")

#: The season: thirty weeks from a Monday at the end of March.
BEGINS = datetime(2025, 3, 31, tzinfo=UTC)
WEEKS = 30

#: Cases in an ordinary week, and how much more there is to go wrong while the hotel is full.
USUAL_CASES = 4.0
FULL_WEEKS, FULL_FACTOR = range(13, 22), 1.35

#: How often each product is what goes wrong.
FAMILIES: Mapping[str, float] = {
    "choux": 0.40,
    "whipped-cream": 0.20,
    "melted-chocolate": 0.16,
    "shortbread": 0.14,
    "candied-peel": 0.10,
}

#: How often somebody in a hurry reports something else than a careful look would show.
HURRIED = 0.12

#: Hands are busy for so long at most; the rest of a long remedy is waiting.
MOST_HANDS_ON_MIN = 40.0

#: How often nobody says later whether the verdict was right.
NEVER_SAID = 0.25


@dataclass(frozen=True, slots=True)
class Spell:
    """Weeks in which some causes of a family are more common than usual by a factor.

    ``more`` is how many cases a week the spell adds.
    """

    weeks: range
    family: str
    causes: tuple[str, ...]
    factor: float
    more: float = 0.0
    note: str = ""


#: What befell the kitchen in its season.
SPELLS: Sequence[Spell] = (
    Spell(range(WEEKS), "choux", ("underbaked", "filled_early", "panade_undried"), 4.0),
    Spell(range(WEEKS), "whipped-cream", ("overwhipped", "plain_held_long"), 4.0),
    Spell(range(WEEKS), "melted-chocolate", ("untempered", "trace_water"), 4.0),
    Spell(range(WEEKS), "shortbread", ("not_chilled", "over_baked"), 4.0),
    Spell(range(WEEKS), "candied-peel", ("pulled_early",), 3.0),
    Spell(range(0, 9), "choux", ("egg_overdose", "egg_size_counted"), 9.0, note="New trainee on choux this month."),
    Spell(
        range(15, 20), "choux", ("oven_cool", "underbaked"), 40.0, 4.5, "Deck oven slow to come back. Engineer called."
    ),
    Spell(range(15, 20), "shortbread", ("oven_too_cool", "under_baked"), 20.0, 0.5),
    Spell(
        range(12, 22), "whipped-cream", ("cream_warm", "warm_kit_room"), 8.0, note="Hot afternoon, fridge door open."
    ),
    Spell(range(12, 22), "melted-chocolate", ("warm_room", "condensation", "untempered"), 6.0),
    Spell(range(24, 30), "candied-peel", ("damp_room", "sugared_wet"), 6.0),
)


def place() -> Path:
    """Return where the demo book lies: beside the book of the kitchen, never in it."""
    return resources.user_data() / "demo-book.db"


def cases_by_week(rng: np.random.Generator, weeks: int = WEEKS) -> list[int]:
    """Draw how many cases each week of the season has."""
    found = []
    for week in range(weeks):
        mean = USUAL_CASES * (FULL_FACTOR if week in FULL_WEEKS else 1.0)
        mean += sum(spell.more for spell in SPELLS if week in spell.weeks)
        found.append(int(rng.poisson(mean)))
    return found


def how_many(seed: int = 1) -> int:
    """Return how many cases the season has."""
    return sum(cases_by_week(np.random.default_rng(seed)))


def season(shelf: Shelf, seed: int = 1, weeks: int = WEEKS) -> Iterator[tuple[int, Record]]:
    """Yield the cases of the season one by one, oldest first, each with how many there are in all.

    Families that the rule base does not hold are left out.  Raises RuleBaseError when a family cannot be read.
    """
    rng = np.random.default_rng(seed)
    held = [header.id for header in shelf.headers if header.id in FAMILIES]
    counts = cases_by_week(rng, weeks) if held else []
    for week, count in enumerate(counts):
        moments = sorted(float(hour) for hour in rng.uniform(0.0, 6 * 24.0, count))
        for number, hour in enumerate(moments):
            family = _family(held, week, rng)
            begun = BEGINS + timedelta(weeks=week, days=int(hour // 24), hours=6 + 9 * (hour % 24) / 24)
            yield sum(counts), _case(shelf, family, week, number, begun.replace(microsecond=0), rng)


def _family(held: Sequence[str], week: int, rng: np.random.Generator) -> str:
    more = {family: sum(s.more for s in SPELLS if s.family == family and week in s.weeks) for family in held}
    chances = np.array([FAMILIES[family] * USUAL_CASES + more[family] for family in held])
    return held[int(rng.choice(len(held), p=chances / chances.sum()))]


def _case(shelf: Shelf, family: str, week: int, number: int, begun: datetime, rng: np.random.Generator) -> Record:
    reasoner = shelf.reasoner(family)
    cause = _cause(reasoner, week, rng)
    conclusion, asked = interview(reasoner, _hurried(reasoner, draw(reasoner, cause, rng), rng))
    answered = {sign: begun + timedelta(minutes=1 + place) for place, sign in enumerate(conclusion.case.answers)}
    record = record_of(
        conclusion,
        f"invented-{BEGINS + timedelta(weeks=week):%Y-%m-%d}-{number + 1:02}",
        begun,
        begun + timedelta(minutes=asked + 2),
        shelf.rulebase(family).version,
        answered,
        kitchen=KITCHEN,
        role=ROLES[int(rng.choice(len(ROLES), p=[0.35, 0.25, 0.3, 0.1]))],
    )
    notes = [s.note for s in SPELLS if s.note and s.family == family and week in s.weeks and cause in s.causes]
    noted = notes[0] if notes and rng.random() < 0.4 else ""
    return _ended(replace(record, note=noted, invented=True), reasoner, conclusion, cause, asked, rng)


def _hurried(reasoner: Reasoner, batch: Batch, rng: np.random.Generator) -> Batch:
    """Return the batch as somebody in a hurry reports it: now and then any answer of a sign."""
    shows = {
        sign: str(rng.choice(reasoner.family.signs[sign].answer_ids)) if rng.random() < HURRIED else shown
        for sign, shown in batch.shows.items()
    }
    return replace(batch, shows=shows)


def _cause(reasoner: Reasoner, week: int, rng: np.random.Generator) -> str:
    causes = reasoner.network.causes
    weights: Array = reasoner.network.prior[1 : 1 + len(causes)].copy()
    for spell in SPELLS:
        if spell.family == reasoner.family.id and week in spell.weeks:
            weights[[causes.index(cause) for cause in spell.causes if cause in causes]] *= spell.factor
    return causes[int(rng.choice(len(causes), p=weights / weights.sum()))]


def _ended(
    record: Record,
    reasoner: Reasoner,
    conclusion: Conclusion,
    cause: str,
    asked: int,
    rng: np.random.Generator,
) -> Record:
    """Return the case with what was done, what it took, and what was said later."""
    usual = next((q.usual for q in reasoner.family.header.batch if q.id == "pieces"), None) or 20.0
    pieces = max(4, round(usual * float(rng.uniform(0.6, 2.2))))
    right = record.cause == cause
    tried = _tried(reasoner, conclusion)
    saved = 0
    if tried is not None:
        chance = min(0.97, tried.pieces_saved / usual) * (1.0 if right else 0.35)
        saved = int(rng.binomial(pieces, max(0.0, chance)))
    known = rng.random() >= NEVER_SAID
    outcome = (Outcome.RIGHT if right else Outcome.WRONG) if known else Outcome.NOT_KNOWN
    worked_min = min(tried.minutes if tried else 5.0, MOST_HANDS_ON_MIN) * float(rng.uniform(0.8, 1.5))
    return replace(
        record,
        pieces=pieces,
        pieces_saved=saved,
        pieces_lost=0 if reasoner.family.causes[cause].nothing_wrong else pieces - saved,
        minutes=float(round(asked * reasoner.vocabulary.asking_min + worked_min)),
        done=(tried.remedy,) if tried is not None else (),
        outcome=outcome,
        true_cause=cause if known else None,
    )


def _tried(reasoner: Reasoner, conclusion: Conclusion) -> RemedyAdvice | None:
    """Return the first remedy that saves something of the batch."""
    offered = advise(reasoner.family, conclusion, Wording(), reasoner.vocabulary)
    return next((one for one in offered if one.kind != "next-time" and one.pieces_saved > 0.0), None)
