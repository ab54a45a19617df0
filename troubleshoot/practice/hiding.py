"""Hiding a mistake in a batch: which cause, what the person complains of, and what every sign shows.

The answers are drawn from the same network that the interview reckons with, but for the
slips of reporting: whoever looks in practice sees what is there.  A batch is consistent:
no sign rules out the mistake it comes from, no answer contradicts what a plain rule
derives from the others, and signs that measure the same thing go together.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType

import numpy as np

from troubleshoot.advice.remedies import PIECES_IF_UNKNOWN
from troubleshoot.inference.conclusion import Conclusion
from troubleshoot.inference.facts import Case, Given
from troubleshoot.inference.network import COMPLAINT, Array, Network, Node
from troubleshoot.inference.reason import Reasoner
from troubleshoot.inference.selfmeasure import pick
from troubleshoot.knowledge.model import Family, Fault
from troubleshoot.practice.giveaway import gives_away

#: A batch is mended this many times before it is given up.
MOST_MENDS = 12

#: An answer less likely than this under the hidden mistake is not put in to suit a rule.
LEAST_LIKELY = 0.004

#: Two causes that each show a sign this surely, and differently, are not at work at once.
SURE = 0.8

#: Of two mistakes none surely shows what goes with the complaint less than this, by ``agreement``.
LEAST_AGREEMENT = 0.4

#: Beside a sure answer, one listed no more strongly than this is a slip of reporting.
SLIP = 0.03

#: Batches as they come: shares of the usual number of pieces, and minutes beyond what is left of the making.
BATCH_SIZES = (0.5, 1.0, 1.0, 1.5, 2.0)


@dataclass(frozen=True, slots=True)
class Level:
    """How hard a case is.

    ``common`` are the steps of how common a cause is (1..5) that are taken; ``clear`` is the power that answers'
    chances are raised to (above 1: clearer signs).  ``spare_min`` are the minutes to spare that are drawn from.
    ``two_share`` of the cases hide two causes.
    """

    number: int
    common: frozenset[int]
    clear: float
    spare_min: tuple[float, ...]
    two_share: float = 0.0
    must_settle: bool = True
    must_be_hard: bool = False


LEVELS: Mapping[int, Level] = MappingProxyType(
    {
        1: Level(1, frozenset({4, 5}), 3.0, (90.0, 120.0, 180.0)),
        2: Level(2, frozenset({3, 4, 5}), 1.5, (60.0, 90.0, 120.0)),
        3: Level(3, frozenset({1, 2, 3}), 1.0, (45.0, 60.0, 90.0)),
        4: Level(4, frozenset({1, 2, 3, 4, 5}), 1.0, (45.0, 60.0, 90.0), 0.3, must_settle=False, must_be_hard=True),
    }
)


@dataclass(frozen=True, slots=True)
class Hidden:
    """A batch with its mistake: what the person says, and what each sign that can be looked at shows."""

    causes: tuple[str, ...]
    complaint: str
    stage: str
    shows: Mapping[str, str]
    pieces: float
    service_in_min: float


def choose(reasoner: Reasoner, level: Level, rng: np.random.Generator) -> tuple[str, ...]:
    """Draw the cause, or two that can be at work at once, that a case of this level hides."""
    family = reasoner.family
    pool = [cause.id for cause in family.causes.values() if cause.how_common in level.common]
    if rng.random() < level.two_share:
        for number in rng.permutation(len(pool)):
            others = [other for other in pool if _can_go_with(family, pool[number], other)]
            if others:
                return tuple(sorted((pool[number], others[int(rng.integers(len(others)))])))
    return (pool[int(rng.integers(len(pool)))],)


def _can_go_with(family: Family, first: str, other: str) -> bool:
    """Return whether two causes can be at work at once, share a complaint, and are not taken for one another."""
    a, b = family.causes[first], family.causes[other]
    if first == other or a.nothing_wrong or b.nothing_wrong:
        return False
    if other in {rival.cause for rival in a.told_apart_from} or first in {rival.cause for rival in b.told_apart_from}:
        return False
    shared = any({first, other} <= set(leading_to(family, fault)) for fault in family.faults.values())
    return shared and not any(_at_odds(family, first, other, sign) for sign in family.signs)


def _at_odds(family: Family, first: str, other: str, sign: str) -> bool:
    """Return whether a sign cannot be what both make of it.  A fault prevails over what another leaves normal."""
    a, b = family.causes[first], family.causes[other]
    normal = family.signs[sign].normal_ids
    sure_a = {answer for answer, level in a.shows_as.get(sign, {}).items() if level >= SURE} - normal
    sure_b = {answer for answer, level in b.shows_as.get(sign, {}).items() if level >= SURE} - normal
    out_a, out_b = set(a.ruled_out_by.get(sign, ())), set(b.ruled_out_by.get(sign, ()))
    both_sure = bool(sure_a and sure_b) and not sure_a & sure_b
    return both_sure or bool(sure_a and sure_a <= out_b) or bool(sure_b and sure_b <= out_a)


def show(reasoner: Reasoner, level: Level, causes: tuple[str, ...], rng: np.random.Generator) -> Hidden | None:
    """Draw a batch in which ``causes`` are at work; None when no consistent one was found."""
    complaint = complain(reasoner, causes, rng)
    if complaint is None or (len(causes) > 1 and _belies(reasoner, causes, complaint)):
        return None
    stage = reasoner.family.faults[complaint].stage
    batch = _Batch(reasoner, level, causes, complaint, stage, rng)
    shows = batch.shows()
    if shows is None:
        return None
    to_plate = reasoner.family.header.stages[reasoner.family.header.stage_index(stage)].to_plate_min
    service = 5.0 * round((to_plate + float(rng.choice(level.spare_min))) / 5.0)
    return Hidden(causes, complaint, stage, MappingProxyType(shows), _pieces(reasoner.family, rng), service)


def complain(reasoner: Reasoner, causes: tuple[str, ...], rng: np.random.Generator) -> str | None:
    """Draw a complaint that these causes give; None when there is none that is fair."""
    fit = complaints(reasoner.family, causes)
    if not fit:
        return None
    chances = np.array(list(fit.values()))
    return list(fit)[int(rng.choice(len(fit), p=chances / chances.sum()))]


def complaints(family: Family, causes: tuple[str, ...]) -> Mapping[str, float]:
    """Return the complaints that every one of these causes gives, at its stage or later, and how often.

    Those whose words give a cause away are left out.  One cause gives no vague complaint.
    """
    header = family.header
    latest = max(header.stage_index(family.causes[cause].stage) for cause in causes)
    fit: dict[str, float] = {}
    for fault in family.faults.values():
        leads = leading_to(family, fault)
        if (fault.covers and len(causes) == 1) or not all(cause in leads for cause in causes):
            continue
        if header.stage_index(fault.stage) < latest:
            continue
        told = f"{fault.say} {header.stages[header.stage_index(fault.stage)].name}"
        if any(gives_away(told, family.causes[c].name, (family.name, *_other_names(family, leads, c))) for c in causes):
            continue
        fit[fault.id] = min(leads[cause] for cause in causes)
    return fit


def leading_to(family: Family, fault: Fault) -> Mapping[str, float]:
    """Return the causes of a complaint and how often each gives it; a vague one has those of all that it covers."""
    found = dict(fault.causes)
    for covered in fault.covers:
        for cause, share in family.faults[covered].causes.items():
            found[cause] = max(share, found.get(cause, 0.0))
    return found


def _other_names(family: Family, leads: Mapping[str, float], but: str) -> tuple[str, ...]:
    return tuple(family.causes[cause].name for cause in leads if cause != but)


def _belies(reasoner: Reasoner, causes: tuple[str, ...], complaint: str) -> bool:
    """Return whether one of these causes surely shows a fault that hardly ever goes with the complaint."""
    family, network = reasoner.family, reasoner.network
    for cause in causes:
        for sign, answers in family.causes[cause].shows_as.items():
            node, normal = network.nodes[sign], family.signs[sign].normal_ids
            sure = [answer for answer, level in answers.items() if level >= SURE and answer not in normal]
            if sure:
                with_complaint = agreement(network, COMPLAINT, complaint, sign)
                if min(with_complaint[node.answers.index(answer)] for answer in sure) < LEAST_AGREEMENT:
                    return True
    return False


def _pieces(family: Family, rng: np.random.Generator) -> float:
    usual = next((q.usual for q in family.header.batch if q.id == "pieces" and q.usual), PIECES_IF_UNKNOWN)
    return float(max(1, round(usual * float(rng.choice(BATCH_SIZES)))))


class _Batch:
    """One batch being drawn, and mended until no rule of the rule base speaks against it."""

    def __init__(
        self,
        reasoner: Reasoner,
        level: Level,
        causes: tuple[str, ...],
        complaint: str,
        stage: str,
        rng: np.random.Generator,
    ) -> None:
        self.reasoner, self.rng = reasoner, rng
        self.causes, self.clear = causes, level.clear
        self.case = Case(reasoner.family.id, complaint)
        self.signs = tuple(c.sign for c in reasoner.candidates(Case(reasoner.family.id), stage, {}))
        self.groups = reasoner.family.header.same_evidence
        self.shown: dict[str, str] = {}

    def shows(self) -> dict[str, str] | None:
        """Return the answer of every sign that can be looked at; None when the batch cannot be mended."""
        for sign in self.signs:
            if not self._draw(sign):
                return None
        for _ in range(MOST_MENDS):
            at_odds = self._at_odds()
            if not at_odds:
                return self.shown
            for sign, wanted in at_odds.items():
                if wanted is not None and self._chances(sign)[self._node(sign).answers.index(wanted)] > LEAST_LIKELY:
                    self.shown[sign] = wanted
                elif not self._draw(sign):
                    return None
        return None

    def _node(self, sign: str) -> Node:
        return self.reasoner.network.nodes[sign]

    def _draw(self, sign: str) -> bool:
        chances = self._chances(sign) ** self.clear
        if chances.sum() <= 0.0:
            return False
        self.shown[sign] = pick(self._node(sign), chances, self.rng)
        return True

    def _chances(self, sign: str) -> Array:
        """Return how likely each answer is with these causes at work, given the signs that measure the same thing."""
        chances = truth(self.reasoner.network, self._node(sign), self.causes)
        for cause in self.causes:
            for answer in self.reasoner.family.causes[cause].ruled_out_by.get(sign, ()):
                chances[self._node(sign).answers.index(answer)] = 0.0
        for group in self.groups:
            if sign in group:
                for other in group:
                    if other != sign and other in self.shown:
                        chances = chances * agreement(self.reasoner.network, other, self.shown[other], sign)
        return chances

    def _at_odds(self) -> dict[str, str | None]:
        """Return the signs that cannot stay as they are, each with the answer a rule derives for it, if one does."""
        answers = {sign: Given(answer=answer) for sign, answer in self.shown.items()}
        conclusion = self.reasoner.reason(replace(self.case, answers=MappingProxyType(answers)))
        found = derived_otherwise(self.reasoner.family, conclusion)
        for cause in self.causes:
            rule = conclusion.ruled_out.get(cause) or conclusion.doubted.get(cause)
            if rule is not None:
                for firing in conclusion.trace:
                    if firing.rule == rule:
                        found.update({f.name: None for f in firing.facts if f.kind == "sign" and f.name in self.shown})
        return found


def truth(network: Network, node: Node, causes: tuple[str, ...]) -> Array:
    """Return how likely each answer is (answers,) with exactly these one or two causes at work.

    There are no slips of reporting, and a sign that a cause is said to change shows no fault of another cause.
    """
    index = [network.causes.index(cause) for cause in causes]
    chances: Array
    if len(index) == 1:
        chances = node.alone()[index[0]].copy()
    else:
        chances = node.together(np.array(index[:1]), np.array(index[1:]))[0].copy()
    strength = node.strength[index].max(axis=0)
    if strength.max() >= SURE:
        # Beside a sure answer, one that is hardly ever given is a slip of whoever reports.
        chances[(strength > 0.0) & (strength <= SLIP)] = 0.0
    listed = strength > SLIP
    if listed.any():
        # What its author says a cause makes of a sign is all that it makes of it; else the sign is as usual.
        chances[~(listed | node.normal)] = 0.0
    return chances


def agreement(network: Network, known: str, answer: str, sign: str) -> Array:
    """Return how much more (above 1) or less likely each answer of ``sign`` is once ``known`` shows ``answer``.

    It is P(a, b) / (P(a) P(b)) over all hypotheses by their prior; at most 1 is kept, so that it only holds back
    what does not go together.
    """
    given = network.of(known, answer, False) * network.prior
    table = network.likelihood[network.rows[sign]]
    lift = (table @ given) / (given.sum() * (table @ network.prior))
    together: Array = np.minimum(lift, 1.0) ** 2
    return together


def derived_otherwise(family: Family, conclusion: Conclusion) -> dict[str, str | None]:
    """Return the signs that show something other than a plain rule derives from the rest, with the derived answer."""
    found: dict[str, str | None] = {}
    for firing in conclusion.trace:
        for fact in firing.concluded:
            given = conclusion.case.answers.get(fact.name)
            if fact.kind != "sign" or given is None or not isinstance(fact.value, str):
                continue
            covered = family.signs[fact.name].covers(fact.value)
            if given.answer not in covered:
                found.setdefault(fact.name, covered[0])
    return found
