"""The entries of the library in full, one function for each kind."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from types import MappingProxyType

from troubleshoot.advice.chain import chain_of
from troubleshoot.inference.examples import case_of
from troubleshoot.interview.describe import cost_words, drawing, said
from troubleshoot.interview.library import (
    CAUSE,
    CAUTION,
    FAULT,
    HOW_COMMON,
    REMEDY,
    REMEDY_KINDS,
    RULE,
    SIGN,
    SIGN_KINDS,
    SOURCE,
    Entry,
    Item,
    Library,
    Part,
    WrittenCase,
    often,
)
from troubleshoot.interview.library_rules import rule_parts, rules_about
from troubleshoot.interview.state import VERDICT, State
from troubleshoot.knowledge.model import Cause, Example, Sign
from troubleshoot.problems import Place

#: What should come of a case written beside a cause, in words.
EXPECTED = {
    "first": "This cause should come first.",
    "in-three": "This cause should be among the first three.",
    "not-first": "A near miss: this cause should not come first.",
    "ruled-out": "This cause should be ruled out.",
}


def entry(library: Library, kind: str, entry_id: str) -> Entry:
    """Return one entry in full.  Raises KeyError when the rule base holds none of that name."""
    return _MAKERS[kind](library, entry_id)


def _cause(library: Library, cause_id: str) -> Entry:
    family, text = library.family, library.text
    cause = family.causes[cause_id]
    signs = sorted(cause.shows_as.items(), key=lambda item: -max(item[1].values()))
    rivals = [
        Item(text(family.causes[r.cause].name), f"{text(r.because)} {_look_at(library, r.by)}", CAUSE, r.cause)
        for r in cause.told_apart_from
    ]
    stage = family.header.stages[family.header.stage_index(cause.stage)].name
    facts = [f"Made at: {stage}. Among batches that go wrong it is {HOW_COMMON[cause.how_common]}."]
    if cause.nothing_wrong:
        facts.append("Nothing is wrong with the batch.")
    file, line = library.where(cause.place)
    return Entry(
        kind=CAUSE,
        id=cause_id,
        title=text(cause.name),
        facts=tuple(facts),
        file=file,
        line=line,
        chain=chain_of(family, cause, library.wording),
        parts=_some(
            Part("How it shows", tuple(_shows(library, sign, levels) for sign, levels in signs)),
            Part("What rules it out", tuple(_rules_out(library, s, a) for s, a in cause.ruled_out_by.items())),
            Part("Easily taken for", tuple(rivals)),
        ),
        beside=_some(
            Part("What helps", tuple(_remedy_item(library, remedy) for remedy in cause.remedies)),
            Part("Complained of as", tuple(_complaints(library, cause_id))),
            Part("Rules that name it", rules_about(library, CAUSE, cause_id)),
            _sources(library, cause.sources),
        ),
        cases=tuple(_case(library, cause, example) for example in cause.examples),
    )


def _shows(library: Library, sign_id: str, levels: Mapping[str, float]) -> Item:
    sign, vocabulary = library.family.signs[sign_id], library.rulebase.vocabulary
    ordered = sorted(levels.items(), key=lambda item: -item[1])
    note = "; ".join(f"{library.text(sign.said(answer))}: {often(level, vocabulary)}" for answer, level in ordered)
    return Item(library.text(sign.ask), note, SIGN, sign_id)


def _rules_out(library: Library, sign_id: str, answers: Iterable[str]) -> Item:
    sign = library.family.signs[sign_id]
    return Item(library.text(sign.ask), "; ".join(library.text(sign.said(a)) for a in answers), SIGN, sign_id)


def _look_at(library: Library, sign_id: str) -> str:
    return f"What parts them: {library.text(library.family.signs[sign_id].ask)}"


def _remedy_item(library: Library, remedy_id: str) -> Item:
    remedy = library.family.remedies[remedy_id]
    return Item(library.text(remedy.name), REMEDY_KINDS[remedy.kind], REMEDY, remedy_id)


def _complaints(library: Library, cause_id: str) -> Iterable[Item]:
    for fault in library.family.faults.values():
        if cause_id in fault.causes:
            note = often(fault.causes[cause_id], library.rulebase.vocabulary)
            yield Item(library.text(fault.say), note, FAULT, fault.id)


def _case(library: Library, cause: Cause, example: Example) -> WrittenCase:
    family = library.family
    case = case_of(family, example)
    lines = [f"“{library.text(family.faults[example.fault].say)}”"] if example.fault else []
    for sign_id, given in case.answers.items():
        sign = family.signs[sign_id]
        lines.append(f"{library.text(sign.ask)} {said(sign, given, library.wording)}")
    expected = EXPECTED[example.expect]
    if example.instead is not None:
        expected += f" “{library.text(family.causes[example.instead].name)}” should."
    state = State(
        step=VERDICT,
        family=family.id,
        fault=example.fault,
        answers=MappingProxyType(dict(case.answers)),
        asked=tuple(sign for sign in case.answers if family.signs[sign].asked),
    )
    return WrittenCase(tuple(lines), expected, state)


def _sign(library: Library, sign_id: str) -> Entry:
    family, text = library.family, library.text
    sign = family.signs[sign_id]
    stages = family.header
    first = stages.stages[stages.stage_index(sign.first_stage)].name
    last = stages.stages[stages.stage_index(sign.last_stage)].name
    facts = [text(sign.look), f"{SIGN_KINDS[sign.kind].capitalize()}. Can be looked at from “{first}” until “{last}”."]
    cost = cost_words(sign, False)
    facts += [f"{cost}."] if cost else []
    if sign.ask_later is not None:
        facts.append(f"Asked later, from memory: {text(sign.ask_later)}")
    if sign.measure is not None:
        low, high = (library.wording.quantity(v, _unit(sign)) for v in (sign.measure.low, sign.measure.high))
        facts.append(f"A number from {low} to {high} can be given.")
    parted = [
        Item(text(cause.name), f"From “{text(family.causes[r.cause].name)}”: {text(r.because)}", CAUSE, cause.id)
        for cause in family.causes.values()
        for r in cause.told_apart_from
        if r.by == sign_id
    ]
    file, line = library.where(sign.place)
    return Entry(
        kind=SIGN,
        id=sign_id,
        title=text(sign.ask),
        facts=tuple(facts),
        file=file,
        line=line,
        parts=_some(*(_answer(library, sign, answer.id) for answer in sign.answers)),
        beside=_some(
            Part("Tells apart", tuple(parted)), Part("Rules that name it", rules_about(library, SIGN, sign_id))
        ),
    )


def _unit(sign: Sign) -> str:
    assert sign.measure is not None
    return "" if sign.measure.unit == "ratio" else sign.measure.unit


def _answer(library: Library, sign: Sign, answer_id: str) -> Part:
    """Return which causes give an answer, how often, and which it rules out."""
    causes = library.family.causes.values()
    showing = sorted(
        (
            (cause.shows_as[sign.id][answer_id], cause)
            for cause in causes
            if answer_id in cause.shows_as.get(sign.id, {})
        ),
        key=lambda pair: (-pair[0], pair[1].id),
    )
    items = [
        Item(library.text(cause.name), often(level, library.rulebase.vocabulary), CAUSE, cause.id)
        for level, cause in showing
    ]
    items += [
        Item(library.text(cause.name), "ruled out by this answer", CAUSE, cause.id)
        for cause in causes
        if answer_id in cause.ruled_out_by.get(sign.id, ())
    ]
    answer = sign.answer(answer_id)
    band = next((b for b in sign.measure.bands if b.answer == answer_id), None) if sign.measure else None
    bounds = ""
    if band is not None:
        words = [f"from {library.wording.quantity(band.at_least, _unit(sign))}"] if band.at_least is not None else []
        words += [f"below {library.wording.quantity(band.below, _unit(sign))}"] if band.below is not None else []
        bounds = f" ({' and '.join(words)})" if words else ""
    normal = " (as it should be)" if answer.normal else ""
    items = items or [Item("No cause shifts this answer.")]
    return Part(f"{library.text(answer.say)}{bounds}{normal}", tuple(items))


def _fault(library: Library, fault_id: str) -> Entry:
    family, text, vocabulary = library.family, library.text, library.rulebase.vocabulary
    fault = family.faults[fault_id]
    weighed = sorted(
        fault.causes.items(),
        key=lambda item: (-item[1] * vocabulary.how_common[family.causes[item[0]].how_common], item[0]),
    )
    causes = [
        Item(
            text(family.causes[cause].name),
            f"{HOW_COMMON[family.causes[cause].how_common]}; brings this complaint: {often(level, vocabulary)}",
            CAUSE,
            cause,
        )
        for cause, level in weighed
    ]
    stage = family.header.stages[family.header.stage_index(fault.stage)].name
    facts = [f"Noticed at: {stage}."]
    if fault.also:
        facts.append(f"Found by these words too: {', '.join(fault.also)}.")
    covers = [Item(text(family.faults[f].say), "", FAULT, f) for f in fault.covers]
    covered = [Item(text(f.say), "", FAULT, f.id) for f in family.faults.values() if fault_id in f.covers]
    file, line = library.where(fault.place)
    return Entry(
        kind=FAULT,
        id=fault_id,
        title=text(fault.say),
        facts=tuple(facts),
        file=file,
        line=line,
        parts=_some(Part("What can be behind it", tuple(causes)), Part("May mean any of these", tuple(covers))),
        beside=_some(
            Part("Part of a looser complaint", tuple(covered)),
            Part("Rules that name it", rules_about(library, FAULT, fault_id)),
        ),
        drawing=drawing(fault.drawing),
    )


def _remedy(library: Library, remedy_id: str) -> Entry:
    family, text = library.family, library.text
    remedy = family.remedies[remedy_id]
    kind = REMEDY_KINDS[remedy.kind]
    facts = [f"{kind[:1].upper()}{kind[1:]}. Takes about {remedy.minutes:g} minutes."]
    if remedy.kind != "next-time":
        facts.append(f"Leaves about {round(remedy.saves * 10)} of 10 pieces fit for what was planned.")
    helped = [
        Item(text(cause.name), HOW_COMMON[cause.how_common], CAUSE, cause.id)
        for cause in family.causes.values()
        if remedy_id in cause.remedies
    ]
    cautions = [Item(text(library.rulebase.cautions[c].say), "", CAUTION, c) for c in remedy.cautions]
    figures = [Item(f"Amounts are worked out by “{amounts.by.replace('_', ' ')}”.") for amounts in remedy.amounts]
    file, line = library.where(remedy.place)
    return Entry(
        kind=REMEDY,
        id=remedy_id,
        title=text(remedy.name),
        facts=tuple(facts),
        file=file,
        line=line,
        parts=_some(
            Part("Caution", tuple(cautions)),
            Part("Steps", steps=tuple(text(step) for step in remedy.steps)),
            Part("Why it works", (Item(text(remedy.because)), *figures)),
            Part("Do not try", tuple(Item(text(wrong)) for wrong in remedy.not_this)),
        ),
        beside=_some(
            Part("Helps against", tuple(helped)),
            Part("Rules that name it", rules_about(library, REMEDY, remedy_id)),
            _sources(library, remedy.sources),
        ),
    )


def _rule(library: Library, rule_id: str) -> Entry:
    rule = next((rule for rule in library.family.rules if rule.id == rule_id), None)
    if rule is None:
        raise KeyError(rule_id)
    file, line = library.where(rule.place)
    return Entry(
        kind=RULE,
        id=rule_id,
        title=library.text(rule.because),
        facts=(f"The rule “{rule_id.replace('_', ' ')}”.",),
        file=file,
        line=line,
        parts=rule_parts(library, rule),
        beside=_some(_sources(library, rule.sources)),
    )


def _source(library: Library, source_id: str) -> Entry:
    family, source = library.family, library.rulebase.sources[source_id]
    causes = [Item(library.text(c.name), "", CAUSE, c.id) for c in family.causes.values() if source_id in c.sources]
    remedies = [_remedy_item(library, r.id) for r in family.remedies.values() if source_id in r.sources]
    rules = [Item(library.text(r.because), "", RULE, r.id) for r in family.rules if source_id in r.sources]
    return Entry(
        kind=SOURCE,
        id=source_id,
        title=source.title,
        facts=tuple(filter(None, (f"Standing: {source.standing.replace('-', ' ')}.", library.text(source.detail)))),
        file="sources.yaml",
        line=_line_in(library, "sources.yaml", "sources", source_id),
        parts=_some(
            Part("Causes that rest on it", tuple(causes)),
            Part("Remedies that rest on it", tuple(remedies)),
            Part("Rules that rest on it", tuple(rules)),
        ),
    )


def _caution(library: Library, caution_id: str) -> Entry:
    caution = library.rulebase.cautions[caution_id]
    remedies = [r.id for r in library.family.remedies.values() if caution_id in r.cautions]
    file, line = library.where(caution.place)
    return Entry(
        kind=CAUTION,
        id=caution_id,
        title=library.text(caution.say),
        facts=(library.text(caution.why), "Your local food code and safety rules come first."),
        file=file,
        line=line,
        parts=_some(
            Part("Remedies it stands before", tuple(_remedy_item(library, remedy) for remedy in remedies)),
            Part("Rules that call for it", rules_about(library, CAUTION, caution_id)),
        ),
        beside=_some(_sources(library, caution.sources)),
    )


def _sources(library: Library, sources: Iterable[str]) -> Part:
    known = [library.rulebase.sources[source] for source in sources]
    return Part("Sources", tuple(Item(s.title, s.standing.replace("-", " "), SOURCE, s.id) for s in known))


def _line_in(library: Library, file: str, *path: str) -> int:
    top = Place(str(library.rulebase.folder / file))
    return library.rulebase.places.at(top, *path).line


def _some(*parts: Part) -> tuple[Part, ...]:
    """Return the parts that hold something."""
    return tuple(part for part in parts if part.items or part.steps)


_MAKERS: Mapping[str, Callable[[Library, str], Entry]] = {
    CAUSE: _cause,
    SIGN: _sign,
    FAULT: _fault,
    REMEDY: _remedy,
    RULE: _rule,
    SOURCE: _source,
    CAUTION: _caution,
}
