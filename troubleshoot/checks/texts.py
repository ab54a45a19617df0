"""Every text of a family that a person reads, with the place it stands at."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from troubleshoot.knowledge.model import Cause, Family, Remedy, RuleBase, Sign
from troubleshoot.problems import Place


@dataclass(frozen=True, slots=True)
class Text:
    """A text, what it belongs to, and the key it stands under."""

    place: Place
    subject: str
    key: str
    words: str


def also_file(family: Family, rulebase: RuleBase) -> str:
    """Return the name of the file that adds to the common causes a family takes."""
    return str(rulebase.folder / family.id / "also.yaml")


def texts(family: Family, rulebase: RuleBase) -> Iterator[Text]:
    """Yield every text of a family."""
    at = rulebase.places.at
    for sign in family.signs.values():
        yield from of_sign(sign, rulebase)
    for fault in family.faults.values():
        yield Text(at(fault.place, "faults", fault.id, "say"), fault.id, "say", fault.say)
    for cause in family.causes.values():
        yield from of_cause(cause, family, rulebase)
    for remedy in family.remedies.values():
        yield from of_remedy(remedy, rulebase)
    for rule in family.rules:
        yield Text(rule.because_place, rule.id, "because", rule.because)
        for near_miss in rule.near_misses:
            yield Text(near_miss.place, rule.id, "because", near_miss.because)
        for conclusion in rule.then:
            if conclusion.say is not None:
                yield Text(conclusion.place, rule.id, "say", conclusion.say)


def of_sign(sign: Sign, rulebase: RuleBase) -> Iterator[Text]:
    """Yield the texts of a sign."""
    at = rulebase.places.at
    yield Text(at(sign.place, "ask"), sign.id, "ask", sign.ask)
    if sign.ask_later is not None:
        yield Text(at(sign.place, "ask_later"), sign.id, "ask_later", sign.ask_later)
    yield Text(at(sign.place, "look"), sign.id, "look", sign.look)
    for answer in sign.answers:
        yield Text(at(sign.place, "answers", answer.id, "say"), sign.id, "say", answer.say)
    for key, said in sign.loosely_say.items():
        yield Text(at(sign.place, "loosely", key, "say"), sign.id, "say", said)


def of_cause(cause: Cause, family: Family, rulebase: RuleBase) -> Iterator[Text]:
    """Yield the texts of a cause."""
    at, also = rulebase.places.of_cause, also_file(family, rulebase)
    yield Text(at(cause.place, also, cause.id, "name"), cause.id, "name", cause.name)
    for index, link in enumerate(cause.why):
        yield Text(at(cause.place, also, cause.id, "why", index), cause.id, "why", link)
    for rival in cause.told_apart_from:
        place = at(cause.place, also, cause.id, "told_apart_from", rival.cause, "because")
        yield Text(place, cause.id, "because", rival.because)


def of_remedy(remedy: Remedy, rulebase: RuleBase) -> Iterator[Text]:
    """Yield the texts of a remedy."""
    at = rulebase.places.at
    yield Text(at(remedy.place, "name"), remedy.id, "name", remedy.name)
    for index, step in enumerate(remedy.steps):
        yield Text(at(remedy.place, "steps", index), remedy.id, "steps", step)
    yield Text(at(remedy.place, "because"), remedy.id, "because", remedy.because)
    for index, tempting in enumerate(remedy.not_this):
        yield Text(at(remedy.place, "not_this", index), remedy.id, "not_this", tempting)
