"""A practice case: a hidden mistake (or two) and a batch that shows its signs, the same for the same short number."""

from __future__ import annotations

import re
import zlib
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, replace

import numpy as np

from troubleshoot.errors import BugError, CaseError
from troubleshoot.inference.conclusion import Conclusion
from troubleshoot.inference.facts import Case
from troubleshoot.inference.reason import Reasoner
from troubleshoot.inference.selfmeasure import walk
from troubleshoot.practice import hiding, pricing
from troubleshoot.practice.hiding import Hidden, Level
from troubleshoot.problems import Place, Problem, choose_from

#: The levels that can be chosen.
LEVELS = tuple(hiding.LEVELS)

#: Numbers of cases run from 1 to this one.
MOST_NUMBER = 9999

#: A number whose cause cannot be shown fairly moves on to the next cause this many times.
MOST_DRAWS = 60

#: A case about a wanted complaint is looked for among so many drawn ones, then given up: each takes tenths of a second.
MOST_SEARCHED = 12

#: A search for a case about one cause draws this many at most.
MOST_TRIED = 4

_CODE = re.compile(r"([a-z][a-z-]*[a-z])-([1-9])-([0-9]{1,4})")


@dataclass(frozen=True, slots=True, order=True)
class CaseKey:
    """What a case is drawn from: family, level 1..4 and a number.  The same key and rules give the same case."""

    family: str
    level: int
    number: int

    @property
    def code(self) -> str:
        """The key as people write it: ``choux-2-117``."""
        return f"{self.family}-{self.level}-{self.number}"


def key_of(code: str) -> CaseKey:
    """Return the key that a code stands for.  Raises CaseError when it is none."""
    match = _CODE.fullmatch(code.strip().casefold())
    if match is None:
        wrong = f"'{code}' is not the code of a case"
        raise CaseError([Problem(Place("case"), "code", wrong, "write family, level and number, as in choux-2-117")])
    return checked(CaseKey(match[1], int(match[2]), int(match[3])))


def checked(key: CaseKey) -> CaseKey:
    """Return ``key``.  Raises CaseError when there is no such level or number."""
    if key.level not in LEVELS:
        wrong, known = f"there is no level {key.level}", [str(level) for level in LEVELS]
        raise CaseError([Problem(Place("case"), "level", wrong, choose_from(str(key.level), known))])
    if not 1 <= key.number <= MOST_NUMBER:
        wrong = f"there is no case {key.number}"
        raise CaseError([Problem(Place("case"), "number", wrong, f"write a number from 1 to {MOST_NUMBER}")])
    return key


@dataclass(frozen=True, slots=True)
class ProgramRun:
    """What the program itself did with the batch: the signs it asked, what they cost, and what came of it.

    ``cause`` is the cause it named first; ``settled`` whether it was settled.  ``remedy`` is what it took, if anything;
    ``saved`` the pieces that this saves in time.
    """

    asked: tuple[str, ...]
    minutes: float
    pieces: float
    cause: str
    probability: float
    settled: bool
    suspects: tuple[str, ...]
    remedy: str | None
    saved: float


@dataclass(frozen=True, slots=True)
class PracticeCase:
    """A case ready to be practised.  Everything but the complaint, the stage and the two figures is hidden at first.

    ``shows`` has what each sign that can be looked at shows.  ``hard``: two mistakes, or the program names the cause
    without settling it.
    """

    key: CaseKey
    causes: tuple[str, ...]
    complaint: str
    stage: str
    shows: Mapping[str, str]
    pieces: float
    service_in_min: float
    hard: bool
    program: ProgramRun

    def start(self) -> Case:
        """Return what is known when the batch is handed over."""
        return pricing.handed_over(self.key.family, self.complaint, self.pieces, self.service_in_min)


def draw_case(reasoner: Reasoner, key: CaseKey) -> PracticeCase:
    """Draw the case of a key.  It takes some tenths of a second; the same key gives an equal case.

    Every case was solved by the program itself: it names a cause that is at work first, and at levels 1 to 3 it
    settles it.  Raises CaseError for no such level or number.
    """
    checked(key)
    for hidden in _attempts(reasoner, key):
        case = _fair(reasoner, key, hidden)
        if case is not None:
            return case
    raise BugError(f"no fair batch was found for {key.code}")


def search(
    reasoner: Reasoner, level: int, cause: str, complaints: Collection[str], start: int
) -> Iterator[PracticeCase]:
    """Yield cases of one level whose only mistake is ``cause``, from number ``start`` on.

    ``complaints``, unless empty, are those that the case may be about.  It gives up after ``MOST_TRIED`` draws, for
    each takes some tenths of a second.
    """
    tried = 0
    for step in range(MOST_NUMBER):
        key = CaseKey(reasoner.family.id, level, 1 + (start - 1 + step) % MOST_NUMBER)
        rng = _rng(key)
        causes = hiding.choose(reasoner, hiding.LEVELS[level], rng)
        if causes != (cause,) or (complaints and hiding.complain(reasoner, causes, rng) not in complaints):
            continue
        # What draws a first time is the case; a number that has to move on to another cause is no use here.
        hidden = next(_attempts(reasoner, key), None)
        if hidden is not None and hidden.causes == (cause,) and (not complaints or hidden.complaint in complaints):
            case = _fair(reasoner, key, hidden)
            if case is not None:
                yield case
        tried += 1
        if tried >= MOST_TRIED:
            return


def _rng(key: CaseKey) -> np.random.Generator:
    return np.random.default_rng([zlib.crc32(key.family.encode()), key.level, key.number])


def _attempts(reasoner: Reasoner, key: CaseKey) -> Iterator[Hidden]:
    rng = _rng(key)
    level = hiding.LEVELS[key.level]
    for _ in range(MOST_DRAWS):
        causes = hiding.choose(reasoner, level, rng)
        hidden = hiding.show(reasoner, level, causes, rng)
        if hidden is not None:
            yield hidden


def _fair(reasoner: Reasoner, key: CaseKey, hidden: Hidden) -> PracticeCase | None:
    """Return the case when the program itself solves it, else None."""
    start = pricing.handed_over(key.family, hidden.complaint, hidden.pieces, hidden.service_in_min)
    conclusion = list(walk(reasoner, start, hidden.shows))[-1]
    if not conclusion.suspects or conclusion.suspects[0].cause not in hidden.causes:
        return None
    settled = conclusion.settled is not None
    level: Level = hiding.LEVELS[key.level]
    if level.must_settle and not settled:
        return None
    if level.must_be_hard and settled and len(hidden.causes) == 1:
        return None
    case = PracticeCase(
        key=key,
        causes=hidden.causes,
        complaint=hidden.complaint,
        stage=hidden.stage,
        shows=hidden.shows,
        pieces=hidden.pieces,
        service_in_min=hidden.service_in_min,
        hard=len(hidden.causes) > 1 or not settled,
        program=_run(conclusion, settled),
    )
    run = _rescued(reasoner, case)
    if run.remedy is not None and run.saved < pricing.LEAST_SAVED:
        # Whoever heeds the verdict must not be led astray by what was not looked at.
        return None
    return replace(case, program=run)


def _run(conclusion: Conclusion, settled: bool) -> ProgramRun:
    first = conclusion.suspects[0]
    return ProgramRun(
        asked=tuple(conclusion.case.answers),
        minutes=0.0,
        pieces=0.0,
        cause=first.cause,
        probability=first.probability,
        settled=settled,
        suspects=tuple(s.cause for s in conclusion.suspects[:5]),
        remedy=None,
        saved=0.0,
    )


def _rescued(reasoner: Reasoner, case: PracticeCase) -> ProgramRun:
    """Return the program's run with what its looks cost, the remedy it would take then, and what that saves."""
    run = case.program
    minutes, pieces = pricing.spent(reasoner, case.stage, run.asked)
    remedy = pricing.best_remedy(reasoner, case.start(), {s: case.shows[s] for s in run.asked}, minutes, pieces)
    saved = 0.0
    if remedy is not None:
        saved = pricing.effect(reasoner, case.start(), case, remedy, minutes, pieces).saved
    return replace(run, minutes=minutes, pieces=pieces, remedy=remedy, saved=saved)
