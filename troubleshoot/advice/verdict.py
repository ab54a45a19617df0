"""The verdict in words: the cause, how sure, what saves the batch, what to change, and why."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from troubleshoot.advice.chain import ChainLink, chain_of
from troubleshoot.advice.factwords import in_words
from troubleshoot.advice.remedies import RemedyAdvice, advise
from troubleshoot.advice.wording import Wording, sureness
from troubleshoot.inference import questions
from troubleshoot.inference.conclusion import Conclusion
from troubleshoot.inference.habits import Habit
from troubleshoot.inference.network import COMPLAINT
from troubleshoot.inference.reason import Reasoner
from troubleshoot.knowledge.model import Caution, Family, Source

#: Suspects shown when the matter is not settled.
SHOWN_SUSPECTS = 3

#: Evidence weaker than this is not worth a line (1 deciban is about the least change a person notices; Good 1950).
LEAST_DECIBANS = 1.0


@dataclass(frozen=True, slots=True)
class Weighed:
    """One answer as evidence about a cause: its words and weight in decibans, for it when positive."""

    sign: str
    ask: str
    said: str
    decibans: float
    from_memory: bool


@dataclass(frozen=True, slots=True)
class RivalLine:
    """A rival cause, how likely it still is, and what tells it apart."""

    cause: str
    name: str
    probability: float
    sign: str
    because: str


@dataclass(frozen=True, slots=True)
class SuspectLine:
    """A suspect in words."""

    cause: str
    name: str
    probability: float
    sure: str


@dataclass(frozen=True, slots=True)
class CautionLine:
    """A caution in words, its id first."""

    caution: str
    say: str
    why: str


@dataclass(frozen=True, slots=True)
class TraceLine:
    """One firing in words: the rule, because, the facts that woke it, what it concluded, and its sources."""

    rule: str
    because: str
    facts: tuple[str, ...]
    concluded: tuple[str, ...]
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Verdict:
    """Everything the Verdict place, the printed page and the terminal show."""

    headline: str
    sure: str
    probability: float
    cause: str | None
    settled: bool
    nothing_wrong: bool
    suspects: tuple[SuspectLine, ...]
    unlisted: float
    unlisted_advice: str | None
    settling_test: str | None
    cautions: tuple[CautionLine, ...]
    rescue: tuple[RemedyAdvice, ...]
    next_time: tuple[RemedyAdvice, ...]
    chain: tuple[ChainLink, ...]
    evidence_for: tuple[Weighed, ...]
    evidence_against: tuple[Weighed, ...]
    rivals: tuple[RivalLine, ...]
    ruled_out: tuple[tuple[str, str], ...]
    findings: tuple[str, ...]
    clash: tuple[str, ...]
    trace: tuple[TraceLine, ...]
    sources: tuple[Source, ...]
    allergens: tuple[str, ...]
    habit: Habit | None = None


def verdict(
    reasoner: Reasoner,
    conclusion: Conclusion,
    cautions: Mapping[str, Caution],
    sources: Mapping[str, Source],
    wording: Wording,
) -> Verdict:
    """Put a conclusion into words."""
    family, vocabulary = reasoner.family, reasoner.vocabulary
    possible = [s for s in conclusion.suspects if s.probability >= vocabulary.standing["possible"]]
    suspects = tuple(
        SuspectLine(s.cause, family.causes[s.cause].name, s.probability, sureness(s.probability, vocabulary))
        for s in (possible or conclusion.suspects)[:SHOWN_SUSPECTS]
    )
    first = suspects[0] if suspects else None
    # Where next to nothing was said all shares are small, and the unlisted cause leads by nothing but its prior.
    unlisted_leads = conclusion.unlisted > max(first.probability if first else 0.0, vocabulary.standing["likely"])
    advice = advise(family, conclusion, wording, vocabulary)
    cause = family.causes[first.cause] if first and not unlisted_leads else None
    weighed = weigh(reasoner, conclusion, cause.id, wording) if cause else ()
    used = _used_sources(conclusion, cause.sources if cause else (), advice, sources)
    return Verdict(
        headline=wording.text(cause.name) if cause else "None of the causes in this rule base fits what was said",
        sure=first.sure if first and cause else sureness(0.0, vocabulary),
        probability=first.probability if first and cause else 0.0,
        cause=cause.id if cause else None,
        settled=conclusion.settled is not None and cause is not None,
        nothing_wrong=bool(cause and cause.nothing_wrong),
        suspects=suspects,
        unlisted=conclusion.unlisted,
        unlisted_advice=wording.text(family.header.unlisted_advice) if unlisted_leads else None,
        settling_test=settling_test(reasoner, conclusion, wording),
        cautions=tuple(
            CautionLine(c, wording.text(cautions[c].say), wording.text(cautions[c].why)) for c in conclusion.cautions
        ),
        rescue=tuple(a for a in advice if a.kind != "next-time"),
        next_time=tuple(a for a in advice if a.kind == "next-time" and (not cause or cause.id in a.causes)),
        chain=chain_of(family, cause, wording, conclusion.answers) if cause else (),
        evidence_for=tuple(w for w in weighed if w.decibans >= LEAST_DECIBANS),
        evidence_against=tuple(reversed([w for w in weighed if w.decibans <= -LEAST_DECIBANS])),
        rivals=_rivals(family, conclusion, cause.id, wording) if cause else (),
        ruled_out=tuple((family.causes[c].name, rule) for c, rule in conclusion.ruled_out.items()),
        findings=findings(family, conclusion, wording),
        clash=clash_words(family, conclusion, wording),
        trace=tuple(
            TraceLine(
                f.rule,
                wording.text(f.because),
                tuple(in_words(fact, family, cautions, wording) for fact in f.facts),
                tuple(in_words(fact, family, cautions, wording) for fact in f.concluded),
                f.sources,
            )
            for f in conclusion.trace
        ),
        sources=used,
        allergens=family.header.allergens,
        habit=reasoner.habits.by_cause[cause.id] if reasoner.habits is not None and cause else None,
    )


def weigh(reasoner: Reasoner, conclusion: Conclusion, cause: str, wording: Wording) -> tuple[Weighed, ...]:
    """Return each answer's weight of evidence about one cause, heaviest for it first.

    The weight is 10 log10 of P(answer | cause at work) over P(answer | cause not at
    work), both averaged over the hypotheses by their prior (weight of evidence in
    decibans, Good 1950).
    """
    network = reasoner.network
    inside = network.contains[:, network.causes.index(cause)]
    lines = []
    for one in conclusion.evidence:
        likely = network.of(one.node, one.answer, one.from_memory)
        with_cause = float(np.average(likely[inside], weights=network.prior[inside]))
        without = float(np.average(likely[~inside], weights=network.prior[~inside]))
        ask, said = _words(reasoner.family, one.node, one.answer, wording)
        lines.append(Weighed(one.node, ask, said, 10 * math.log10(with_cause / without), one.from_memory))
    return tuple(sorted(lines, key=lambda w: (-round(w.decibans, 9), w.sign)))


def _words(family: Family, node: str, answer: str, wording: Wording) -> tuple[str, str]:
    if node == COMPLAINT:
        return "The complaint", family.faults[answer].say
    sign = family.signs[node]
    return wording.text(sign.ask), wording.text(sign.said(answer))


def settling_test(reasoner: Reasoner, conclusion: Conclusion, wording: Wording) -> str | None:
    """Return the one test that would best settle an unsettled case, whatever it costs; None when settled."""
    if conclusion.settled is not None or not conclusion.suspects:
        return None
    candidates = reasoner.candidates(conclusion.case, conclusion.stage, conclusion.answers)
    ranked = questions.rate(reasoner.network, conclusion.standing.posterior, candidates)
    best = max(ranked, key=lambda w: (round(w.bits, 9), w.sign), default=None)
    if best is None or best.bits < reasoner.vocabulary.least_bits:
        return None
    sign = reasoner.family.signs[best.sign]
    return wording.text(f"{sign.ask_later if best.from_memory and sign.ask_later else sign.ask} {sign.look}")


def findings(family: Family, conclusion: Conclusion, wording: Wording) -> tuple[str, ...]:
    """Return what rules found from several answers together, in words."""
    says = {c.name: c.say or "" for rule in family.rules for c in rule.then if c.kind == "finding"}
    return tuple(wording.text(says[name]) for name in conclusion.findings)


def clash_words(family: Family, conclusion: Conclusion, wording: Wording) -> tuple[str, ...]:
    """Return the answers that do not go together, the one to check again first; empty when all agree."""
    if conclusion.clash is None:
        return ()
    return tuple(
        f"{wording.text(family.signs[s].ask)} {wording.text(family.signs[s].said(conclusion.answers[s]))}"
        for s in conclusion.clash.signs
    )


def _rivals(family: Family, conclusion: Conclusion, cause: str, wording: Wording) -> tuple[RivalLine, ...]:
    lines = [
        RivalLine(r.cause, family.causes[r.cause].name, conclusion.probability(r.cause), r.by, wording.text(r.because))
        for r in family.causes[cause].told_apart_from
    ]
    return tuple(sorted(lines, key=lambda line: -line.probability))


def _used_sources(
    conclusion: Conclusion, of_cause: tuple[str, ...], advice: tuple[RemedyAdvice, ...], sources: Mapping[str, Source]
) -> tuple[Source, ...]:
    ids = [*of_cause, *(s for a in advice for s in a.sources)]
    return tuple(sources[i] for i in dict.fromkeys(ids))
