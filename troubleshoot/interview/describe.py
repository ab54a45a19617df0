"""The conclusion and the state put into views."""

from __future__ import annotations

import math
from collections.abc import Iterable
from pathlib import Path

import numpy as np

from troubleshoot import resources
from troubleshoot.advice.wording import Wording, percent
from troubleshoot.inference import questions
from troubleshoot.inference.conclusion import Conclusion
from troubleshoot.inference.facts import Given
from troubleshoot.inference.reason import Reasoner
from troubleshoot.interview.state import State
from troubleshoot.interview.views import (
    AnswerCard,
    AnsweredLine,
    BatchField,
    FamilyTile,
    FaultLine,
    NumberField,
    QuestionView,
    StageChoice,
    SuspectBar,
    WhyAsk,
    WhyLine,
)
from troubleshoot.knowledge.model import Family, FamilyHeader, Sign
from troubleshoot.units import convert

#: Suspects shown beside a question, and after each answer in "why ask this".
SHOWN_LIVE, SHOWN_AFTER = 5, 2

#: A suspect below this share is not shown beside a question.
LEAST_SHOWN = 0.01


def drawing(name: str | None) -> Path | None:
    """Return the path of a drawing, or None when there is none."""
    if name is None:
        return None
    path = resources.drawing(name)
    return path if path.is_file() else None


def tiles(headers: Iterable[FamilyHeader], wording: Wording) -> tuple[FamilyTile, ...]:
    """Return the tiles of the families."""
    return tuple(FamilyTile(h.id, h.name, wording.text(h.about), drawing(h.drawing)) for h in headers)


def faults(family: Family, wording: Wording) -> tuple[FaultLine, ...]:
    """Return the complaints in the order of the making, vague ones first within a stage."""
    header = family.header
    lines = [
        FaultLine(
            fault=fault.id,
            say=wording.text(fault.say),
            stage=header.stages[header.stage_index(fault.stage)].name,
            drawing=drawing(fault.drawing),
            words=" ".join((fault.say, *fault.also)).casefold(),
            vague=bool(fault.covers),
        )
        for fault in sorted(family.faults.values(), key=lambda f: (header.stage_index(f.stage), not f.covers))
    ]
    return tuple(lines)


def question(reasoner: Reasoner, state: State, conclusion: Conclusion, wording: Wording) -> QuestionView:
    """Return the question on show."""
    sign = reasoner.family.signs[state.current or ""]
    given = state.answers.get(sign.id)
    from_memory = reasoner.is_memory(sign, conclusion.stage)
    ask = sign.ask_later if from_memory and sign.ask_later else sign.ask
    chosen = given.answer if given else None
    cards = [AnswerCard(a.id, wording.text(a.say), drawing(a.drawing), chosen == a.id, False) for a in sign.answers]
    cards += [
        AnswerCard(loose, wording.text(sign.loosely_say[loose]), None, chosen == loose, True) for loose in sign.loosely
    ]
    return QuestionView(
        sign=sign.id,
        ask=wording.text(ask),
        look=wording.text(sign.look),
        cost=cost_words(sign, from_memory),
        answers=tuple(cards),
        number=number_field(sign, given, wording) if sign.measure else None,
        cant_tell=given is not None and given.cant_tell,
        from_memory=from_memory,
        position=state.at + 1,
    )


def cost_words(sign: Sign, from_memory: bool) -> str:
    """Return what a look costs, in words; empty when it is next to nothing."""
    if from_memory:
        return ""
    parts = []
    if sign.minutes > 1:
        parts.append(f"takes about {sign.minutes:g} minutes")
    if sign.uses_up:
        parts.append(f"uses up {sign.uses_up}")
    return (" and ".join(parts)).capitalize()


def number_field(sign: Sign, given: Given | None, wording: Wording) -> NumberField:
    """Return the number field of a measured sign, in the unit shown."""
    assert sign.measure is not None
    measure = sign.measure
    unit = {"degC": "°F" if wording.fahrenheit else "°C", "ratio": ""}.get(measure.unit, measure.unit)

    def shown(value: float) -> float:
        return convert(value, "degC", "degF") if unit == "°F" else value

    value = None if given is None or given.value is None else shown(given.value)
    return NumberField(unit, math.floor(shown(measure.low)), math.ceil(shown(measure.high)), value)


def from_shown(value: float, sign: Sign, wording: Wording) -> float:
    """Return a number typed in the unit shown, in the sign's own unit and within its bounds."""
    assert sign.measure is not None
    if sign.measure.unit == "degC" and wording.fahrenheit:
        value = convert(value, "degF", "degC")
    return min(max(value, sign.measure.low), sign.measure.high)


def suspects(reasoner: Reasoner, conclusion: Conclusion, wording: Wording) -> tuple[SuspectBar, ...]:
    """Return the live suspects."""
    return tuple(
        SuspectBar(s.cause, wording.text(reasoner.family.causes[s.cause].name), s.probability, percent(s.probability))
        for s in conclusion.suspects[:SHOWN_LIVE]
        if s.probability >= LEAST_SHOWN
    )


def answered(family: Family, conclusion: Conclusion, wording: Wording) -> tuple[AnsweredLine, ...]:
    """Return what has been answered so far."""
    lines = []
    for sign_id, given in conclusion.case.answers.items():
        sign = family.signs[sign_id]
        lines.append(
            AnsweredLine(sign_id, wording.text(sign.ask), said(sign, given, wording), sign_id in conclusion.from_memory)
        )
    return tuple(lines)


def said(sign: Sign, given: Given, wording: Wording) -> str:
    """Return an answer in words."""
    if given.cant_tell:
        return "Can't tell"
    if given.answer is not None:
        return wording.text(sign.said(given.answer))
    field = number_field(sign, given, wording)
    return f"{field.value:g} {field.unit}".strip()


def settledness(reasoner: Reasoner, conclusion: Conclusion) -> float:
    """Return 1 minus the share of the first entropy that is left in the blame over causes."""
    network = reasoner.network

    def bits(weights: np.ndarray) -> float:
        blame = weights @ network.blame
        safe = blame[blame > 0]
        return float(-(safe * np.log2(safe)).sum())

    return max(0.0, min(1.0, 1.0 - bits(conclusion.standing.posterior) / bits(network.prior)))


def why_ask(reasoner: Reasoner, conclusion: Conclusion, sign_id: str, wording: Wording) -> WhyAsk:
    """Return which suspects the question would part, in words."""
    family = reasoner.family
    sign = family.signs[sign_id]
    memory = reasoner.is_memory(sign, conclusion.stage)
    after = questions.parts(reasoner.network, conclusion.standing.posterior, sign_id, memory)
    now = dict(zip(reasoner.network.causes, conclusion.standing.cause, strict=True))
    lines, moved = [], dict.fromkeys(reasoner.network.causes, 0.0)
    for answer in sign.answers:
        chance, causes = after[answer.id]
        for cause, p in zip(reasoner.network.causes, causes, strict=True):
            moved[cause] += chance * abs(float(p) - float(now[cause]))
        best = sorted(
            zip(reasoner.network.causes, causes, strict=True), key=lambda item: (-round(float(item[1]), 12), item[0])
        )
        leaves = tuple(
            SuspectBar(c, wording.text(family.causes[c].name), float(p), percent(float(p)))
            for c, p in best[:SHOWN_AFTER]
        )
        lines.append(WhyLine(wording.text(answer.say), chance, leaves))
    names = [
        family.causes[c].name for c in sorted(moved, key=lambda c: (-round(moved[c], 12), c))[:3] if moved[c] > 0.005
    ]
    return WhyAsk(_sentence([wording.text(name) for name in names]), tuple(lines))


def _sentence(names: list[str]) -> str:
    if not names:
        return "It is a check: the answer should agree with what has been said."
    quoted = [f"“{name}”" for name in names]
    if len(quoted) == 1:
        return f"The answer tells most about {quoted[0]}."
    return f"The answer helps to tell apart {', '.join(quoted[:-1])} and {quoted[-1]}."


def stages(family: Family, conclusion: Conclusion) -> tuple[StageChoice, ...]:
    """Return the stages of the making, the one the batch is at chosen."""
    return tuple(StageChoice(s.id, s.name, s.id == conclusion.stage) for s in family.header.stages)


def batch(family: Family, state: State) -> tuple[BatchField, ...]:
    """Return the batch figures that can be given."""
    return tuple(
        BatchField(q.id, q.ask, q.unit, q.low, q.high, state.batch.get(q.id), q.usual) for q in family.header.batch
    )
