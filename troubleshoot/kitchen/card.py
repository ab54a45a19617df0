"""The card of each calculation: what it does, formula, limits, source and inputs, read from its docstring.

A docstring's first line says what is returned and, after a colon, by which formula.  The sections ``Formula:``,
``Units:``, ``Limits:``, ``Errors:``, ``Source:`` and ``Contested:`` (sources that part) follow.  This is the one place
that reads them.
"""

from __future__ import annotations

import inspect
import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from troubleshoot.kitchen import registry
from troubleshoot.kitchen.inputs import Choice, Input, Record, input_of
from troubleshoot.kitchen.outcomes import outcome

#: Topics in the order in which they are shown, with the modules that hold them.
TOPICS: Mapping[str, tuple[str, ...]] = {
    "Choux": ("choux", "balance", "paste_water"),
    "Shortbread": ("shortbread", "dough_sheet", "portions"),
    "Whipped cream": ("cream", "cream_checks"),
    "Chocolate and ganache": ("chocolate", "ganache", "labels"),
    "Syrup and candied peel": ("syrup", "sucrose", "growth"),
    "Eggs": ("eggs",),
    "Oven and thermometer": ("oven",),
    "Air and cooling": ("air", "heat"),
    "Time and safety": ("safety", "time_record"),
    "Rescue or remake": ("service", "plans"),
    "Plain weights": ("parts",),
}

_SECTION = re.compile(
    r"(?:^|(?<=\. )|(?<=\.  ))(Formula|Units|Limits|Errors|Source|Contested)((?:, | and )[a-z, ]+)?: "
)
_FIGURE = re.compile(r"``(\w+)``")
_ROLE = re.compile(r":(?:func|data):`~?([\w.]+)`")


@dataclass(frozen=True, slots=True)
class CardInput:
    """One input of a calculation; ``needed`` is false where the calculation has a value of its own."""

    name: str
    about: Input | Choice | Record
    needed: bool
    default: float | str | None = None

    @property
    def usual(self) -> float | str:
        """The value that stands in the field at first: the calculation's own, or a usual one."""
        if self.default is not None:
            return self.default
        return next(iter(self.about.answers)) if isinstance(self.about, Choice) else self.about.usual


@dataclass(frozen=True, slots=True)
class Card:
    """What a calculation does and rests on."""

    name: str
    title: str
    does: str
    formula: str
    units: str
    limits: str
    errors: str
    source: str
    contested: str
    topic: str
    inputs: tuple[CardInput, ...]


@cache
def card(name: str) -> Card:
    """Return the card of a calculation.  Raises KeyError when there is none of that name."""
    function = registry.FUNCTIONS[name]
    doc = inspect.getdoc(function.call) or ""
    summary, _, rest = doc.partition("\n\n")
    does, _, short = _plain(summary).removesuffix(".").removeprefix("Return ").partition(": ")
    sections = _sections(_plain(rest))
    title = name.replace("_", " ")
    return Card(
        name=name,
        title=title[:1].upper() + title[1:],
        does=does[:1].upper() + does[1:] + ".",
        formula=_capital(sections.get("Formula") or (f"{short}." if short else "")),
        units=sections.get("Units", ""),
        limits=_as_for(sections, "Limits"),
        errors=_as_for(sections, "Errors"),
        source=_as_for(sections, "Source"),
        contested=_as_for(sections, "Contested"),
        topic=_topic(function.call.__module__),
        inputs=tuple(_inputs(function)),
    )


def topics() -> dict[str, tuple[Card, ...]]:
    """Return the cards of every calculation by topic, both in the order of the kitchen."""
    found: dict[str, list[Card]] = {topic: [] for topic in TOPICS}
    for name in registry.FUNCTIONS:
        made = card(name)
        found[made.topic].append(made)
    return {topic: tuple(cards) for topic, cards in found.items() if cards}


def _inputs(function: registry.KitchenFunction) -> list[CardInput]:
    return [
        CardInput(
            name,
            input_of(function.name, name),
            name in function.required,
            None if parameter.default is inspect.Parameter.empty else parameter.default,
        )
        for name, parameter in inspect.signature(function.call).parameters.items()
    ]


def _topic(module: str) -> str:
    own = module.rsplit(".", 1)[-1]
    return next(topic for topic, modules in TOPICS.items() if own in modules)


def _plain(text: str) -> str:
    flat = " ".join(text.split())
    flat = _ROLE.sub(lambda found: found[1].replace("_", " "), flat)
    return _FIGURE.sub(lambda found: f"'{outcome(found[1])[0].lower()}'", flat)


def _as_for(sections: Mapping[str, str], section: str) -> str:
    """Return a section's text; "As for" another calculation becomes the text of that one."""
    text = sections.get(section, "")
    found = re.match(r"As for ([a-z ]+)([.:;].*)?$", text)
    name = found[1].strip().replace(" ", "_") if found else ""
    if found is None or name not in registry.FUNCTIONS:
        return text
    other = getattr(card(name), section.lower()).removesuffix(".")
    return f"{other}{found[2] or '.'}"


def _capital(text: str) -> str:
    """Return a formula that begins with words as a sentence; one that begins with a sign stays as it is."""
    return text[:1].upper() + text[1:] if re.match(r"[a-z']{3,} [a-z]{2,}", text) else text


def _sections(body: str) -> dict[str, str]:
    """Return the text of each section; what stands before the first belongs to the limits."""
    marks = list(_SECTION.finditer(body))
    found: dict[str, str] = {}
    if marks and marks[0].start() > 0:
        found["Limits"] = body[: marks[0].start()].strip()
    for mark, following in zip(marks, [*marks[1:], None], strict=True):
        text = body[mark.end() : following.start() if following else len(body)].strip()
        text = text[:1].upper() + text[1:] if mark[1] in ("Limits", "Errors", "Source", "Contested") else text
        found[mark[1]] = f"{found[mark[1]]} {text}" if mark[1] in found else text
    return found
