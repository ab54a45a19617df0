"""Facts of the working memory in words, for people who follow a trace."""

from __future__ import annotations

from collections.abc import Mapping

from troubleshoot.advice.wording import Wording
from troubleshoot.inference.compile import MEMORY
from troubleshoot.inference.facts import Fact
from troubleshoot.knowledge.model import Caution, Family


def in_words(fact: Fact, family: Family, cautions: Mapping[str, Caution], wording: Wording) -> str:
    """Return a fact as a person would say it; a kind without words of its own shows its ids."""
    name = fact.name
    if fact.kind == "sign" and name in family.signs:
        sign = family.signs[name]
        return wording.text(f"{sign.ask} {sign.said(str(fact.value))}")
    if fact.kind == "number" and isinstance(fact.value, float):
        return _number(name, fact.value, family, wording)
    if fact.kind == "known_by":
        return "known from memory" if fact.value == MEMORY else "seen or measured"
    if fact.kind in ("fault", "stage", "finding", "caution"):
        return _thing(fact, family, cautions, wording)
    if fact.kind in _OF_CAUSES and name in family.causes:
        return f"{_OF_CAUSES[fact.kind]}: {wording.text(family.causes[name].name)}"
    if fact.kind in _OF_REMEDIES and name in family.remedies:
        return f"{_OF_REMEDIES[fact.kind]}: {wording.text(family.remedies[name].name)}"
    return str(fact)


_OF_CAUSES = {
    "for": "speaks for",
    "against": "speaks against",
    "ruled_out": "ruled out",
    "doubted": "made unlikely",
    "suspect": "suspected",
    "suspect_at": "suspected at this stage",
}

_OF_REMEDIES = {"remedy": "can be done", "barred": "must not be done now"}


def _number(name: str, value: float, family: Family, wording: Wording) -> str:
    if name in family.signs:
        sign = family.signs[name]
        unit = sign.measure.unit if sign.measure else ""
        return wording.text(sign.ask) + " " + wording.quantity(value, "" if unit == "ratio" else unit)
    quantity = next((q for q in family.header.batch if q.id == name), None)
    if quantity is not None:
        return f"{quantity.ask}: {wording.quantity(value, quantity.unit)}"
    return f"minutes to service: {value:g}" if name == "service_in_min" else f"{name}: {value:g}"


def _thing(fact: Fact, family: Family, cautions: Mapping[str, Caution], wording: Wording) -> str:
    if fact.kind == "fault" and fact.name in family.faults:
        return f"the complaint: {wording.text(family.faults[fact.name].say)}"
    if fact.kind == "stage":
        stage = next((s.name for s in family.header.stages if s.id == fact.name), "not said")
        return f"how far it is: {stage}"
    if fact.kind == "caution" and fact.name in cautions:
        return f"caution: {wording.text(cautions[fact.name].say)}"
    says = {c.name: c.say for rule in family.rules for c in rule.then if c.kind == "finding" and c.say}
    return wording.text(says.get(fact.name, str(fact)))
