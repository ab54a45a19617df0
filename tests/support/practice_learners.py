"""Learners made up to test the marks: how each looks, rescues and decides.  Run over cases, they must rank."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from troubleshoot.inference.conclusion import Conclusion
from troubleshoot.inference.reason import Reasoner
from troubleshoot.practice import pricing
from troubleshoot.practice.cases import PracticeCase
from troubleshoot.practice.hiding import leading_to
from troubleshoot.practice.round import Round
from troubleshoot.practice.views import Marks

Learner = Callable[[Reasoner, PracticeCase, np.random.Generator], Marks]

MOST_LOOKS = 8


def perfect(reasoner: Reasoner, case: PracticeCase, rng: np.random.Generator) -> Marks:
    """Always asks the question that the program would, stops when it would, and does what the verdict says."""
    played = Round(reasoner, case)
    conclusion = follows(played)
    while conclusion.next_question is not None:
        played.look(conclusion.next_question.sign)
        conclusion = follows(played)
    rescue(played)
    return decide(played, conclusion.suspects[0].cause)


def at_random(reasoner: Reasoner, case: PracticeCase, rng: np.random.Generator) -> Marks:
    """Looks at anything in any order until it is settled or eight looks are made, and concludes well from that."""
    played = Round(reasoner, case)
    signs = list(rng.permutation([line.sign for line in played.looks() if not line.free]))
    while signs and len(played.state.looks) < MOST_LOOKS and follows(played).settled is None:
        played.look(str(signs.pop()))
    rescue(played)
    return decide(played, follows(played).suspects[0].cause)


def common_cause_only(reasoner: Reasoner, case: PracticeCase, rng: np.random.Generator) -> Marks:
    """Looks at nothing: it is what it mostly is, and the first thing that helps that is done."""
    family = reasoner.family
    played = Round(reasoner, case)
    leads = leading_to(family, family.faults[case.complaint])
    cause = max(sorted(leads), key=lambda c: (family.causes[c].how_common, leads[c]))
    at_hand = {line.remedy for line in played.remedies()}
    usual = next((remedy for remedy in family.causes[cause].remedies if remedy in at_hand), None)
    if usual is not None:
        played.take(usual)
    return decide(played, cause)


def careless(reasoner: Reasoner, case: PracticeCase, rng: np.random.Generator) -> Marks:
    """Makes one look and heeds nothing: cause, remedy and reason are guesses."""
    played = Round(reasoner, case)
    played.look(str(rng.choice([line.sign for line in played.looks()])))
    played.take(str(rng.choice([line.remedy for line in played.remedies()])))
    played.decide(str(rng.choice([line.cause for line in played.causes()])))
    return played.choose(int(rng.integers(1, len(played.reasons()) + 1)))


LEARNERS: dict[str, Learner] = {
    "perfect": perfect,
    "random": at_random,
    "common-cause-only": common_cause_only,
    "careless": careless,
}


def follows(played: Round) -> Conclusion:
    """What follows from the looks made so far."""
    case = played.case
    seen = {sign: case.shows[sign] for sign in played.state.looks}
    return played.reasoner.reason(pricing.known(case.start(), seen))


def rescue(played: Round) -> None:
    """Take what the verdict puts first on what was seen, if anything saves a piece in time."""
    case, tally = played.case, played.tally()
    seen = {sign: case.shows[sign] for sign in played.state.looks}
    best = pricing.best_remedy(played.reasoner, case.start(), seen, tally.minutes, tally.pieces)
    if best is not None:
        played.take(best)


def decide(played: Round, cause: str) -> Marks:
    """Name a cause and choose its own chain, where it is among those shown."""
    played.decide(cause)
    chain = played.family.causes[cause].why
    text = tuple(played.wording.text(link) for link in chain)
    number = next((card.number for card in played.reasons() if card.links == text), 1)
    return played.choose(number)
