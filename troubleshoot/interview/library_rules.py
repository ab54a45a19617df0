"""Plain rules in words: what they wait for, what follows, and which of them name a thing."""

from __future__ import annotations

from collections.abc import Iterable

from troubleshoot.interview.library import CAUSE, CAUTION, FAULT, REMEDY, RULE, SIGN, Item, Library, Part
from troubleshoot.knowledge.model import Family
from troubleshoot.knowledge.rule import Conclusion, Condition, NearMiss, Rule

#: What a conclusion does, in words, and the kind of entry that it names.
_THEN = {
    "rule_out": ("Ruled out", CAUSE),
    "offer": ("Offered", REMEDY),
    "bar": ("Must not be done now", REMEDY),
    "caution": ("Caution", CAUTION),
}

#: The kind of entry that a condition names.
_WHEN = {"sign": SIGN, "suspect": CAUSE, "fault": FAULT, "remedy": REMEDY}


def rule_parts(library: Library, rule: Rule) -> tuple[Part, ...]:
    """Return when a rule fires, what follows, and when it stays silent, each line leading to what it names."""
    when = [item for condition in rule.when for item in _condition(library, condition)]
    then = [_conclusion(library, conclusion) for conclusion in rule.then]
    silent = [_near_miss(library, near_miss) for near_miss in rule.near_misses]
    return tuple(
        part
        for part in (
            Part("When all of this holds", tuple(when)),
            Part("This follows", tuple(then)),
            Part("It stays silent", tuple(silent)),
        )
        if part.items
    )


def rules_about(library: Library, kind: str, entry_id: str) -> tuple[Item, ...]:
    """Return the rules that wait for something, or conclude something about it."""
    named = [rule for rule in library.family.rules if _names(rule, kind, entry_id)]
    return tuple(Item(library.text(rule.because), rule.id.replace("_", " "), RULE, rule.id) for rule in named)


def _names(rule: Rule, kind: str, entry_id: str) -> bool:
    concluded = any(
        conclusion.name == entry_id
        and ((conclusion.kind == "answer" and kind == SIGN) or _THEN.get(conclusion.kind, ("", ""))[1] == kind)
        for conclusion in rule.then
    )
    return concluded or any(_WHEN.get(c.about) == kind and entry_id in (c.name, *_things(c)) for c in rule.when)


def _things(condition: Condition) -> Iterable[str]:
    """Return the ids that stand among a condition's values: those of complaints and remedies."""
    return condition.values if condition.about in ("fault", "remedy") else ()


def _condition(library: Library, condition: Condition) -> Iterable[Item]:
    family, text = library.family, library.text
    name = condition.name
    if condition.about == "sign":
        sign = family.signs[name]
        yield Item(text(sign.ask), " or ".join(text(sign.said(value)) for value in condition.values), SIGN, name)
    elif condition.about == "number":
        yield _number(library, condition)
    elif condition.about == "suspect":
        yield Item(text(family.causes[name].name), f"suspected, at least as {condition.values[0]}", CAUSE, name)
    elif condition.about == "fault":
        yield from (
            Item(text(family.faults[v].say), "the complaint, or one of these", FAULT, v) for v in condition.values
        )
    elif condition.about == "remedy":
        yield from (Item(text(family.remedies[v].name), "can be done", REMEDY, v) for v in condition.values)
    elif condition.about == "stage":
        names = [stage.name for stage in family.header.stages if stage.id in condition.values]
        yield Item(f"The batch is at: {' or '.join(names)}")
    else:
        yield Item(text(_said_of(family, name)), "found by another rule")


def _number(library: Library, condition: Condition) -> Item:
    asked, kind = _asked(library, condition.name)
    bounds = []
    if condition.at_least is not None:
        bounds.append(f"at least {_figure(library, condition.name, condition.at_least)}")
    if condition.below is not None:
        bounds.append(f"below {_figure(library, condition.name, condition.below)}")
    return Item(asked, " and ".join(bounds), kind, condition.name if kind else "")


def _asked(library: Library, number: str) -> tuple[str, str]:
    """Return what a number answers, in words, and the kind of entry it has, if any."""
    sign = library.family.signs.get(number)
    if sign is not None:
        return library.text(sign.ask), SIGN
    quantity = next((q for q in library.family.header.batch if q.id == number), None)
    return (quantity.ask if quantity else "Minutes to service"), ""


def _figure(library: Library, number: str, value: float) -> str:
    sign = library.family.signs.get(number)
    quantity = next((q for q in library.family.header.batch if q.id == number), None)
    unit = sign.measure.unit if sign and sign.measure else quantity.unit if quantity else "min"
    return library.wording.quantity(value, "" if unit == "ratio" else unit)


def _near_miss(library: Library, near_miss: NearMiss) -> Item:
    """Return what is otherwise in a near miss, and why the rule would be wrong then."""
    family, text, name, value = library.family, library.text, near_miss.name, near_miss.value
    because = text(near_miss.because)
    if near_miss.about == "sign":
        sign = family.signs[name]
        return Item(f"{text(sign.ask)} {text(sign.said(str(value)))}.", because, SIGN, name)
    if near_miss.about == "number" and isinstance(value, float):
        asked, kind = _asked(library, name)
        return Item(f"{asked} {_figure(library, name, value)}", because, kind, name if kind else "")
    if near_miss.about == "fault":
        return Item(f"The complaint is: {text(family.faults[str(value)].say)}", because, FAULT, str(value))
    if near_miss.about == "stage":
        stage = next(stage.name for stage in family.header.stages if stage.id == value)
        return Item(f"The batch is at: {stage}", because)
    return _without(library, name, because)


def _without(library: Library, name: str, because: str) -> Item:
    family, text = library.family, library.text
    if name in family.remedies:
        return Item(f"Not to be done: {text(family.remedies[name].name)}", because, REMEDY, name)
    if name in family.causes:
        return Item(f"Not suspected: {text(family.causes[name].name)}", because, CAUSE, name)
    return Item(f"Not found: {text(_said_of(family, name))}", because)


def _said_of(family: Family, finding: str) -> str:
    """Return the words of a finding."""
    return next((c.say for r in family.rules for c in r.then if c.name == finding and c.say), finding)


def _conclusion(library: Library, conclusion: Conclusion) -> Item:
    family, text, name = library.family, library.text, conclusion.name
    if conclusion.kind == "answer":
        sign = family.signs[name]
        return Item(text(sign.ask), f"counts as answered: {text(sign.said(conclusion.value or ''))}", SIGN, name)
    if conclusion.kind == "finding":
        return Item(text(conclusion.say or name), "a finding")
    words, kind = _THEN[conclusion.kind]
    if kind == CAUSE:
        return Item(text(family.causes[name].name), words, kind, name)
    if kind == REMEDY:
        return Item(text(family.remedies[name].name), words, kind, name)
    return Item(text(library.rulebase.cautions[name].say), words, kind, name)
