"""Knowledge becomes two rulesets: one that leads from answers to evidence, one from suspects to advice.

They are two because the engine takes a limited number of distinct names
(see ``engine``), and because the ranking stands between them.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from troubleshoot.inference.facts import CompiledRule, Fact, Pattern
from troubleshoot.knowledge.model import Family
from troubleshoot.knowledge.rule import Condition, Rule

#: How an answer is known: seen now, or only remembered.
WITNESS, MEMORY = "witness", "memory"

#: The stage fact when nobody said how far the batch is.
ANY_STAGE = "any"

#: A level this many times the usual one speaks for a cause; its inverse against.
TELLING_RATIO = 1.5


@dataclass(frozen=True, slots=True)
class RuleSets:
    """The compiled rules of a family."""

    diagnosis: tuple[CompiledRule, ...]
    advice: tuple[CompiledRule, ...]


def compile_family(family: Family) -> RuleSets:
    """Compile all knowledge of a family into rules for the engine."""
    advice_rules = _rules_of_advice(family)
    diagnosis = [
        *_bands(family),
        *_evidence(family),
        *_rule_outs(family),
        *_not_yet(family),
        *(compiled for rule in family.rules if rule.id not in advice_rules for compiled in _plain(family, rule)),
    ]
    advice = [
        *_offers(family),
        *_remedy_cautions(family),
        *(compiled for rule in family.rules if rule.id in advice_rules for compiled in _plain(family, rule)),
    ]
    return RuleSets(tuple(diagnosis), tuple(advice))


def _rules_of_advice(family: Family) -> frozenset[str]:
    """Rules that need suspects or remedies, or findings that only such rules make."""
    late = {rule.id for rule in family.rules if any(c.about in ("suspect", "remedy") for c in rule.when)}
    while True:
        early_findings = {c.name for r in family.rules if r.id not in late for c in r.then if c.kind == "finding"}
        more = {
            rule.id
            for rule in family.rules
            if rule.id not in late and any(c.about == "finding" and c.name not in early_findings for c in rule.when)
        }
        if not more:
            return frozenset(late)
        late |= more


def _bands(family: Family) -> Iterator[CompiledRule]:
    for sign in family.signs.values():
        if sign.measure is None:
            continue
        for band in sign.measure.bands:
            yield CompiledRule(
                key=f"band:{sign.id}:{band.answer}:{band.at_least}",
                id=f"{sign.id} measured as {band.answer}",
                patterns=(Pattern("number", sign.id, at_least=band.at_least, below=band.below),)
                if (band.at_least, band.below) != (None, None)
                else (Pattern("number", sign.id),),
                concludes=(Fact("sign", sign.id, band.answer),),
                because=sign.answer(band.answer).say,
                sources=(),
            )


def _evidence(family: Family) -> Iterator[CompiledRule]:
    """One rule an answer, for and against every cause it tells of (one a cause costs the engine far more)."""
    for sign in family.signs.values():
        total = sum(answer.base for answer in sign.answers)
        for answer in sign.answers:
            concluded, sources = [], dict[str, None]()
            for cause in family.causes.values():
                levels = cause.shows_as.get(sign.id, {})
                if answer.id not in levels:
                    continue
                ratio = levels[answer.id] / max(1.0, sum(levels.values())) / (answer.base / total)
                if ratio >= TELLING_RATIO or ratio <= 1 / TELLING_RATIO:
                    concluded.append(Fact("for" if ratio > 1 else "against", cause.id, sign.id))
                    sources.update(dict.fromkeys(cause.sources))
            if concluded:
                yield CompiledRule(
                    key=f"evidence:{sign.id}:{answer.id}",
                    id=f"{sign.id} {answer.id} as evidence",
                    patterns=(Pattern("sign", sign.id, answer.id),),
                    concludes=tuple(concluded),
                    because=answer.say,
                    sources=tuple(sources),
                )


def _rule_outs(family: Family) -> Iterator[CompiledRule]:
    for cause in family.causes.values():
        for sign_id, answers in cause.ruled_out_by.items():
            for answer_id in answers:
                said = family.signs[sign_id].answer(answer_id).say
                for known_by, kind, verb in (
                    (WITNESS, "ruled_out", "rules out"),
                    (MEMORY, "doubted", "speaks against"),
                ):
                    yield CompiledRule(
                        key=f"{kind}:{cause.id}:{sign_id}:{answer_id}",
                        id=f"{sign_id} {answer_id} {verb} {cause.id}",
                        patterns=(Pattern("sign", sign_id, answer_id), Pattern("known_by", sign_id, known_by)),
                        concludes=(Fact(kind, cause.id),),
                        because=said,
                        sources=cause.sources,
                    )


def _not_yet(family: Family) -> Iterator[CompiledRule]:
    """What is noticed at a stage can hardly come from a later one (the complaint may be carelessly named).

    A later cause that a complaint of the stage lists is not doubted: it is complained of there all the same.
    """
    header = family.header
    for number, stage in enumerate(header.stages):
        listed = {
            cause
            for fault in family.faults.values()
            if fault.stage == stage.id
            for precise in (fault, *(family.faults[covered] for covered in fault.covers))
            for cause in precise.causes
        }
        later = [
            cause.id
            for cause in family.causes.values()
            if header.stage_index(cause.stage) > number and cause.id not in listed
        ]
        if later:
            yield CompiledRule(
                key=f"not_yet:{stage.id}",
                id=f"{stage.id} comes before it",
                patterns=(Pattern("stage", stage.id),),
                concludes=tuple(Fact("doubted", cause) for cause in later),
                because=stage.name,
                sources=(),
            )


def _plain(family: Family, rule: Rule) -> Iterator[CompiledRule]:
    alternatives = [list(_patterns(family, condition)) for condition in rule.when]
    concludes = tuple(Fact(_CONCLUDED[c.kind], c.name, c.value if c.kind == "answer" else None) for c in rule.then)
    for index, patterns in enumerate(itertools.product(*alternatives)):
        yield CompiledRule(f"rule:{rule.id}:{index}", rule.id, patterns, concludes, rule.because, rule.sources, True)


#: What each conclusion of a plain rule becomes in the working memory.
_CONCLUDED: Mapping[str, str] = {
    "rule_out": "ruled_out",
    "finding": "finding",
    "answer": "sign",
    "offer": "remedy",
    "bar": "barred",
    "caution": "caution",
}


def _patterns(family: Family, condition: Condition) -> Iterator[Pattern]:
    if condition.about == "number":
        yield Pattern("number", condition.name, None, condition.at_least, condition.below)
    elif condition.about == "sign":
        yield from (Pattern("sign", condition.name, value) for value in condition.values)
        wanted = set(condition.values)
        for loose, covered in family.signs[condition.name].loosely.items():
            if wanted.issuperset(covered):
                yield Pattern("sign", condition.name, loose)
    elif condition.about == "suspect":
        yield Pattern("suspect", condition.name, condition.values[0])
    elif condition.about == "finding":
        yield Pattern("finding", condition.name)
    else:
        yield from (Pattern(condition.about, value) for value in condition.values)


def _offers(family: Family) -> Iterator[CompiledRule]:
    """A remedy is offered for a suspect while the batch is at a stage where it can still be done.

    Suspect and stage are one fact here: joining two facts in some hundred rules costs the
    engine ten times as much (measured).
    """
    for cause in family.causes.values():
        for remedy_id in cause.remedies:
            remedy = family.remedies[remedy_id]
            first, last = family.header.stage_index(remedy.first_stage), family.header.stage_index(remedy.last_stage)
            yield CompiledRule(
                key=f"offer:{cause.id}:{remedy_id}",
                id=f"{remedy_id} helps {cause.id}",
                patterns=(Pattern("suspect_at", cause.id, at_least=first, below=last + 1),),
                concludes=(Fact("remedy", remedy_id),),
                because=remedy.because,
                sources=remedy.sources,
            )
    remake = family.remedies[family.header.remake]
    for stage in (*family.header.stages_between(remake.first_stage, remake.last_stage), ANY_STAGE):
        yield CompiledRule(
            key=f"offer:{remake.id}:{stage}",
            id=f"{remake.id} is always a way out",
            patterns=(Pattern("stage", stage),),
            concludes=(Fact("remedy", remake.id),),
            because=remake.because,
            sources=remake.sources,
        )


def _remedy_cautions(family: Family) -> Iterator[CompiledRule]:
    for remedy in family.remedies.values():
        for caution in remedy.cautions:
            yield CompiledRule(
                key=f"caution:{remedy.id}:{caution}",
                id=f"{remedy.id} calls for {caution}",
                patterns=(Pattern("remedy", remedy.id),),
                concludes=(Fact("caution", caution),),
                because=remedy.name,
                sources=remedy.sources,
            )
