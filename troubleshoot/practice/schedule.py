"""What to practise next: pairs of rivals as cards of a spaced-repetition scheduler, replayed from the record.

The scheduler is FSRS-6 as the ``fsrs`` package has it (its default parameters, without
fuzzing and without steps of minutes: a batch is practised once a day).  Nothing but the
finished rounds is kept; the cards follow from them.
"""

from __future__ import annotations

import zlib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime

from fsrs import Card, Rating, Scheduler

from troubleshoot.inference.reason import Reasoner
from troubleshoot.knowledge.model import Family
from troubleshoot.practice import cases, hiding
from troubleshoot.practice.cases import CaseKey
from troubleshoot.practice.phrases import Phrases, Translate
from troubleshoot.practice.record import Finished

#: A learner goes a level up when this many of their last rounds at a level were passed.
UP_OF, UP_PASSED = 5, 4

#: Levels that pairs are practised at; the fourth hides two mistakes at once.
PAIR_LEVELS = (1, 2, 3)


def scheduler() -> Scheduler:
    """Return the scheduler that every record is replayed through."""
    return Scheduler(learning_steps=(), relearning_steps=(), enable_fuzzing=False)


@dataclass(frozen=True, slots=True, order=True)
class Pair:
    """Two causes of a family to be told apart, in alphabetical order."""

    family: str
    first: str
    second: str


def pair_of(family: str, one: str, other: str) -> Pair:
    """Return the pair of two causes, whichever is named first."""
    return Pair(family, *sorted((one, other)))


@dataclass(frozen=True, slots=True)
class PairCard:
    """How well a pair is told apart: when it is due, days of stability, reviews, and how often it was got wrong."""

    pair: Pair
    due: datetime
    stability_days: float
    reviews: int
    wrong: int


@dataclass(frozen=True, slots=True)
class Suggestion:
    """The case to practise next.  ``why`` is due, new or early; ``say`` tells it without naming a cause.

    ``pair`` and ``rival`` are for the record; they must not be shown before the round is marked.
    """

    key: CaseKey
    why: str
    say: str
    pair: Pair
    rival: str


def rating(finished: Finished) -> Rating:
    """Return how well the pair was told apart: wrong cause again, not passed hard, passed good, full marks easy."""
    if not finished.right:
        return Rating.Again
    if not finished.passed:
        return Rating.Hard
    return Rating.Easy if finished.total >= 100 else Rating.Good


def cards(rounds: Iterable[Finished]) -> Mapping[Pair, PairCard]:
    """Return the card of every pair that was practised, replayed in the order of time."""
    plan = scheduler()
    kept: dict[Pair, Card] = {}
    reviews: dict[Pair, list[bool]] = {}
    for one in sorted(rounds, key=lambda finished: (finished.at, finished.id)):
        if one.rival == one.cause:
            continue
        pair = pair_of(one.family, one.cause, one.rival)
        card = kept.get(pair) or Card(card_id=len(kept) + 1, due=one.at)
        kept[pair], _ = plan.review_card(card, rating(one), one.at.astimezone(UTC))
        reviews.setdefault(pair, []).append(one.right)
    return {
        pair: PairCard(pair, card.due, card.stability or 0.0, len(reviews[pair]), reviews[pair].count(False))
        for pair, card in kept.items()
    }


def level_of(rounds: Sequence[Finished], family: str) -> int:
    """Return the level a learner is at in a family: one up whenever four of the last five rounds were passed."""
    level = 1
    for step in cases.LEVELS[:-1]:
        last = [one.passed for one in rounds if one.family == family and one.level == step][-UP_OF:]
        if sum(last) < UP_PASSED:
            return level
        level = step + 1
    return level


def new_pairs(family: Family) -> tuple[Pair, ...]:
    """Return the pairs of rivals that authors name, the commonest causes first."""
    common: dict[Pair, int] = {}
    for cause in family.causes.values():
        for rival in cause.told_apart_from:
            pair = pair_of(family.id, cause.id, rival.cause)
            common[pair] = -cause.how_common * family.causes[rival.cause].how_common
    return tuple(sorted(common, key=lambda pair: (common[pair], pair)))


def next_up(reasoner: Reasoner, rounds: Sequence[Finished], now: datetime, tr: Translate = str) -> Suggestion:
    """Return what to practise next in a family, at an aware time: a pair due, else a new one, else the next due.

    The same record at the same time gives the same suggestion.  It takes about half a second, some seconds at worst.
    """
    family = reasoner.family
    mine = [one for one in rounds if one.family == family.id]
    level = level_of(mine, family.id)
    known = {pair: card for pair, card in cards(mine).items() if {pair.first, pair.second} <= set(family.causes)}
    by_due = sorted(known.values(), key=lambda card: (card.due, card.pair))
    queue = [("due", card.pair) for card in by_due if card.due <= now]
    queue += [("new", pair) for pair in new_pairs(family) if pair not in known]
    queue += [("early", card.pair) for card in by_due if card.due > now]
    done = {one.code for one in mine}
    for why, pair in queue:
        found = _case_for(reasoner, pair, level, done)
        if found is not None:
            key, rival = found
            return Suggestion(
                key, why, Phrases(tr).suggestion(why, known[pair].wrong if pair in known else 0), pair, rival
            )
    raise ValueError(f"family {family.id} has no two causes that are taken for one another")


def _case_for(reasoner: Reasoner, pair: Pair, level: int, done: set[str]) -> tuple[CaseKey, str] | None:
    """Return a case not practised yet that hides one of a pair, and the other one.

    It is about a complaint that both give, where there is a fair one.
    """
    family = reasoner.family
    turn = zlib.crc32(f"{pair.first} {pair.second} {len(done)}".encode())
    both = (pair.first, pair.second) if turn % 2 else (pair.second, pair.first)
    fair = {cause: set(hiding.complaints(family, (cause,))) for cause in both}
    shared = {fault for fault in fair[both[0]] | fair[both[1]] if set(both) <= set(family.faults[fault].causes)}
    for wanted in (shared, set[str]()):
        for cause, rival in (both, both[::-1]):
            if not fair[cause] or (wanted and not wanted & fair[cause]):
                continue
            at = _level_for(family, cause, level)
            for case in cases.search(reasoner, at, cause, wanted, 1 + turn % cases.MOST_NUMBER):
                if case.key.code not in done:
                    return case.key, rival
    return None


def _level_for(family: Family, cause: str, level: int) -> int:
    """Return the level nearest to ``level`` whose cases hide a cause as common as this one."""
    common = family.causes[cause].how_common
    fit = [step for step in PAIR_LEVELS if common in hiding.LEVELS[step].common]
    return min(fit, key=lambda step: (abs(step - level), step))
