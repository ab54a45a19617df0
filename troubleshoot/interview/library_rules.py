"""Plain rules in words: what they wait for, what follows, and which of them name a thing."""

from __future__ import annotations

from collections.abc import Iterable

from troubleshoot.interview.library import CAUSE, CAUTION, FAULT, REMEDY, RULE, SIGN, Item, Library, Part
from troubleshoot.knowledge.rule import Conclusion, Condition, Rule

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
    """Return when a rule fires and what follows, each line leading to what it names."""
    when = [item for condition in rule.when for item in _condition(library, condition)]
    then = [_conclusion(library, conclusion) for conclusion in rule.then]
    return (Part("When all of this holds", tuple(when)), Part("This follows", tuple(then)))


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
        says = {c.name: c.say for rule in family.rules for c in rule.then if c.kind == "finding" and c.say}
        yield Item(text(says.get(name, name)), "found by another rule")


def _number(library: Library, condition: Condition) -> Item:
    sign = library.family.signs.get(condition.name)
    quantity = next((q for q in library.family.header.batch if q.id == condition.name), None)
    unit = sign.measure.unit if sign and sign.measure else quantity.unit if quantity else "min"
    unit = "" if unit == "ratio" else unit
    bounds = []
    if condition.at_least is not None:
        bounds.append(f"at least {library.wording.quantity(condition.at_least, unit)}")
    if condition.below is not None:
        bounds.append(f"below {library.wording.quantity(condition.below, unit)}")
    words = " and ".join(bounds)
    if sign is not None:
        return Item(library.text(sign.ask), words, SIGN, sign.id)
    return Item(quantity.ask if quantity else "Minutes to service", words)


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
