"""Plain data that passed its schema becomes frozen dataclasses.

Every function takes a document already checked for form, so keys exist and have
the right types; what is left to check is meaning, done in ``links``.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from troubleshoot.knowledge.differential import Differential
from troubleshoot.knowledge.model import (
    Amounts,
    Answer,
    Band,
    Cause,
    Caution,
    Example,
    FamilyHeader,
    Fault,
    Link,
    Measure,
    Quantity,
    Remedy,
    Rival,
    Sign,
    Source,
    Stage,
    Vocabulary,
    WorkedOut,
)
from troubleshoot.knowledge.places import PathKey
from troubleshoot.knowledge.rule import Conclusion, Condition, NearMiss, Rule
from troubleshoot.knowledge.words import kept_words
from troubleshoot.knowledge.yamlread import Document

Frequency = Mapping[str, float]


def vocabulary(document: Document) -> Vocabulary:
    """Build the shared scales."""
    data = document.data
    return Vocabulary(
        frequency=dict(data["frequency"]),
        how_common={int(level): float(weight) for level, weight in data["how_common"].items()},
        error_rate=dict(data["error_rate"]),
        two_causes_share=data["two_causes_share"],
        unlisted_share=data["unlisted_share"],
        unlisted_disturbs=data["unlisted_disturbs"],
        recalled_rule_out=data["recalled_rule_out"],
        repeated_evidence=data["repeated_evidence"],
        settled_at=data["settled_at"],
        standing=dict(data["standing"]),
        most_questions=data["most_questions"],
        least_bits=data["least_bits"],
        remake_share=data["remake_share"],
        asking_min=float(data["asking_min"]),
        piece_min=float(data["piece_min"]),
        sureness=tuple((step["at_least"], step["say"]) for step in data["sureness"]),
        units=dict(data["units"]),
        words=kept_words(data.get("words", {})),
        **{name: data[name] for name in ("how_common_cases", "habit_from") if name in data},
    )


def header(document: Document) -> FamilyHeader:
    """Build a family's header."""
    data = document.data
    return FamilyHeader(
        id=data["family"],
        name=data["name"],
        about=data["about"],
        drawing=data.get("drawing"),
        stages=tuple(Stage(stage["id"], stage["name"], float(stage["to_plate_min"])) for stage in data["stages"]),
        batch=tuple(
            Quantity(
                q["id"],
                q["ask"],
                q["unit"],
                float(q["low"]),
                float(q["high"]),
                _float_or_none(q.get("usual")),
                q.get("each", False),
            )
            for q in data["batch"]
        ),
        same_evidence=tuple(tuple(group) for group in data["same_evidence"]),
        allergens=tuple(data["allergens"]),
        remake=data["remake"],
        unlisted_advice=data["unlisted_advice"],
        uses={kind: tuple(ids) for kind, ids in data.get("uses", {}).items()},
        place=document.place(),
    )


def sign(document: Document, frequency: Frequency) -> Sign:
    """Build one sign."""
    data = document.data
    loosely = data.get("loosely", {})
    return Sign(
        id=data["sign"],
        ask=data["ask"],
        ask_later=data.get("ask_later"),
        look=data["look"],
        kind=data["kind"],
        minutes=float(data["minutes"]),
        answers=tuple(
            Answer(key, a["say"], frequency[a["base"]], a.get("normal", False), a.get("drawing"))
            for key, a in data["answers"].items()
        ),
        first_stage=data["from"],
        last_stage=data["until"],
        uses_up=data.get("uses_up"),
        pieces=float(data.get("pieces", 0)),
        early=data.get("early", False),
        asked=data.get("asked", True),
        loosely={key: tuple(entry["covers"]) for key, entry in loosely.items()},
        loosely_say={key: entry["say"] for key, entry in loosely.items()},
        measure=_measure(data.get("measure")),
        worked_out=WorkedOut(data["worked_out"]["by"], _inputs(data["worked_out"])) if "worked_out" in data else None,
        place=document.place(("sign",)),
    )


def _measure(data: Any) -> Measure | None:
    if data is None:
        return None
    bands = tuple(
        Band(b["answer"], _float_or_none(b.get("at_least")), _float_or_none(b.get("below"))) for b in data["bands"]
    )
    return Measure(data["unit"], float(data["low"]), float(data["high"]), bands)


def _inputs(data: Mapping[str, Any]) -> dict[str, str | float]:
    return {key: value if isinstance(value, str) else float(value) for key, value in data["from"].items()}


def faults(document: Document, frequency: Frequency) -> dict[str, Fault]:
    """Build all faults of a family."""
    return {
        key: Fault(
            id=key,
            say=data["say"],
            stage=data["stage"],
            causes={cause: frequency[word] for cause, word in data.get("causes", {}).items()},
            covers=tuple(data.get("covers", ())),
            also=tuple(data.get("also", ())),
            drawing=data.get("drawing"),
            place=document.place(("faults", key)),
        )
        for key, data in document.data["faults"].items()
    }


def cause(document: Document, frequency: Frequency) -> Cause:
    """Build one cause."""
    data = document.data
    return Cause(
        id=data["cause"],
        name=data["name"],
        stage=data["stage"],
        how_common=data["how_common"],
        links=tuple(link(entry) for entry in data["why"]),
        shows_as={
            key: {answer: frequency[word] for answer, word in answers.items()}
            for key, answers in data["shows_as"].items()
        },
        ruled_out_by={key: tuple(answers) for key, answers in data.get("ruled_out_by", {}).items()},
        told_apart_from=tuple(
            Rival(key, rival["by"], rival["because"]) for key, rival in data["told_apart_from"].items()
        ),
        remedies=tuple(data["remedies"]),
        sources=tuple(data["sources"]),
        examples=tuple(example(document, ("examples", index), entry) for index, entry in enumerate(data["examples"])),
        nothing_wrong=data.get("nothing_wrong", False),
        place=document.place(("cause",)),
    )


def link(data: str | Mapping[str, Any]) -> Link:
    """Build one link of a chain: a sentence alone, or a sentence and what is seen of it."""
    if isinstance(data, str):
        return Link(data)
    return Link(data["says"], {sign: _listed(answers) for sign, answers in data["seen_as"].items()})


def example(document: Document, path: PathKey, data: Mapping[str, Any]) -> Example:
    """Build one example that stands at ``path``."""
    return Example(
        answers={key: value if isinstance(value, str) else float(value) for key, value in data["answers"].items()},
        expect=data["expect"],
        fault=data.get("fault"),
        instead=data.get("instead"),
        place=document.place(path),
    )


def remedy(document: Document) -> Remedy:
    """Build one remedy."""
    data = document.data
    return Remedy(
        id=data["remedy"],
        name=data["name"],
        kind=data["kind"],
        first_stage=data["from"],
        last_stage=data["until"],
        minutes=float(data["minutes"]),
        saves=float(data["saves"]),
        steps=tuple(data["steps"]),
        because=data["because"],
        not_this=tuple(data.get("not_this", ())),
        cautions=tuple(data.get("cautions", ())),
        sources=tuple(data["sources"]),
        amounts=tuple(
            Amounts(entry["by"], _inputs(entry), {k: float(v) for k, v in entry.get("example", {}).items()})
            for entry in data.get("amounts", ())
        ),
        urgent=data.get("urgent", False),
        place=document.place(("remedy",)),
    )


def rules(document: Document) -> tuple[Rule, ...]:
    """Build the plain rules of one file."""
    return tuple(_rule(document, index, data) for index, data in enumerate(document.data["rules"]))


def _rule(document: Document, index: int, data: Mapping[str, Any]) -> Rule:
    path: PathKey = ("rules", index)
    return Rule(
        id=data["rule"],
        when=tuple(_condition(document, (*path, "when", i), c) for i, c in enumerate(data["when"])),
        then=tuple(_conclusion(document, (*path, "then", i), c) for i, c in enumerate(data["then"])),
        because=data["because"],
        sources=tuple(data["sources"]),
        near_misses=tuple(
            _near_miss(document, (*path, "near_misses", i), one) for i, one in enumerate(data.get("near_misses", ()))
        ),
        place=document.place((*path, "rule")),
        because_place=document.place((*path, "because")),
    )


def _condition(document: Document, path: PathKey, data: Mapping[str, Any]) -> Condition:
    place = document.place(path)
    if "sign" in data:
        return Condition("sign", data["sign"], _listed(data["is"]), place=place)
    if "number" in data:
        bounds = _float_or_none(data.get("at_least")), _float_or_none(data.get("below"))
        return Condition("number", data["number"], (), *bounds, place=place)
    if "suspect" in data:
        return Condition("suspect", data["suspect"], (data.get("standing", "possible"),), place=place)
    if "finding" in data:
        return Condition("finding", data["finding"], place=place)
    about = next(key for key in ("fault", "stage", "remedy") if key in data)
    return Condition(about, "", _listed(data[about]), place=place)


def _near_miss(document: Document, path: PathKey, data: Mapping[str, Any]) -> NearMiss:
    but = data["but"]
    about = next(key for key in ("sign", "number", "fault", "stage", "without") if key in but)
    # A fault or stage has no name of its own in a condition: what it is stands as the value.
    name, value = (but[about], but.get("is")) if about in ("sign", "number", "without") else ("", but[about])
    value = value if value is None or isinstance(value, str) else float(value)
    return NearMiss(about, name, value, data["because"], document.place(path))


def _conclusion(document: Document, path: PathKey, data: Mapping[str, Any]) -> Conclusion:
    kind = next(key for key in ("rule_out", "finding", "answer", "offer", "bar", "caution") if key in data)
    return Conclusion(kind, data[kind], data.get("is"), data.get("say"), document.place(path))


def differentials(document: Document) -> tuple[Differential, ...]:
    """Build what the answers of one file speak for and against."""
    return tuple(
        Differential(
            sign=sign,
            answer=answer,
            points_to=tuple(grades.get("points_to", ())),
            fits=tuple(grades.get("fits", ())),
            speaks_against=tuple(grades.get("speaks_against", ())),
            excludes=tuple(grades.get("excludes", ())),
            place=document.place(("signs", sign, answer)),
        )
        for sign, answers in document.data["signs"].items()
        for answer, grades in answers.items()
    )


def sources(document: Document) -> dict[str, Source]:
    """Build the list of sources."""
    return {
        key: Source(key, data["title"], data["standing"], data.get("detail", ""))
        for key, data in document.data["sources"].items()
    }


def cautions(document: Document) -> dict[str, Caution]:
    """Build the cautions."""
    return {
        key: Caution(
            key,
            data["say"],
            data["why"],
            tuple(data["sources"]),
            tuple(data.get("due", ())),
            document.place(("cautions", key)),
        )
        for key, data in document.data["cautions"].items()
    }


def _listed(value: str | list[str]) -> tuple[str, ...]:
    return (value,) if isinstance(value, str) else tuple(value)


def _float_or_none(value: Any) -> float | None:
    return None if value is None else float(value)
