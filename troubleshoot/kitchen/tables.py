"""Tables that stand beside the calculations, as plain headings and lines: what keeps, fresh batches, allergens.

Temperatures are written ``{c:12}``; whoever shows a line puts them into words.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from troubleshoot.kitchen.allergens import ALLERGENS, by_us_names
from troubleshoot.kitchen.plans import PLANS
from troubleshoot.kitchen.service import run_together, schedule
from troubleshoot.kitchen.storage import KEEPING, WAYS, span_in_words


@dataclass(frozen=True, slots=True)
class Entry:
    """One fact of a table: what is said first, what to mind, and where it is from (nothing where it stands above)."""

    says: str
    mind: tuple[str, ...] = ()
    source: str = ""


@dataclass(frozen=True, slots=True)
class Group:
    """What a table holds on one thing."""

    heading: str
    entries: tuple[Entry, ...]


@dataclass(frozen=True, slots=True)
class Table:
    """A table by its id, with the topic of calculations that it stands under."""

    name: str
    topic: str
    title: str
    note: str
    preface: str
    groups: tuple[Group, ...]


#: Families as a person reads them.
FAMILY_WORDS: Mapping[str, str] = {
    "choux": "Choux",
    "shortbread": "Shortbread",
    "whipped-cream": "Whipped cream",
    "melted-chocolate": "Melted chocolate",
    "candied-peel": "Candied peel",
}


def keeping_table() -> Table:
    """Return how long each component keeps in each way."""
    groups = []
    for component in dict.fromkeys(row.component for row in KEEPING):
        entries = []
        for row in (row for row in KEEPING if row.component == component):
            way = WAYS[row.way]
            mind = (row.mind, f"Sources differ: {row.contested}") if row.contested else (row.mind,)
            entries.append(Entry(f"{way[0].upper()}{way[1:]}: {span_in_words(row)}", mind, row.source))
        groups.append(Group(component, tuple(entries)))
    return Table(
        "storage-table",
        "Time and safety",
        "What keeps how long",
        "Chilled, frozen, airtight or filled.",
        "The use-by date and the local food rules come first. Times are for clean, cold work.",
        tuple(groups),
    )


def batch_table() -> Table:
    """Return the steps of a fresh batch of each family as they begin, and what runs side by side."""
    return Table(
        "fresh-batches",
        "Rescue or remake",
        "A fresh batch, step by step",
        "What can be done side by side, and when to begin.",
        "Minutes count from when you begin, for one batch and one pair of hands. Rescue if the plate is too far away.",
        tuple(Group(_batch_heading(family), _steps(family)) for family in PLANS),
    )


def allergen_table() -> Table:
    """Return the allergens of each family by the lists of the EU and UK and of the US."""
    groups = []
    for row in ALLERGENS:
        always = ", ".join(row.always) or "none by itself"
        us = ", ".join(by_us_names(row.always)) or "none by itself"
        entries = (
            Entry(f"Always: {always}", (f"By the US list: {us}.",)),
            Entry(f"Look for: {', '.join(row.look_for)}", (row.mind,), row.source),
        )
        groups.append(Group(row.component, entries))
    return Table(
        "allergen-table",
        "Time and safety",
        "Allergens of each family",
        "What is always in it, and what to look for on the label.",
        "The label of what you bought and your own allergen sheet come first. Local rules say how to tell the guest.",
        tuple(groups),
    )


#: Tables by id.
TABLES: Mapping[str, Callable[[], Table]] = {
    "storage-table": keeping_table,
    "allergen-table": allergen_table,
    "fresh-batches": batch_table,
}


def _batch_heading(family: str) -> str:
    plate = max(slot.end_min for slot in schedule(PLANS[family]))
    return f"{FAMILY_WORDS[family]}: {plate:.0f} minutes"


def _steps(family: str) -> tuple[Entry, ...]:
    steps = PLANS[family]
    beside: dict[str, list[str]] = {}
    for first, second in run_together(steps):
        beside.setdefault(first, []).append(second)
        beside.setdefault(second, []).append(first)
    slots = sorted(schedule(steps), key=lambda slot: (slot.start_min, slot.end_min))
    entries = []
    for slot in slots:
        hands = "with your hands" if slot.hands else "by itself"
        says = f"{slot.start_min:.0f} to {slot.end_min:.0f} minutes: {_plain(slot.name)}, {hands}"
        names = ", ".join(_plain(name) for name in beside.get(slot.name, ()))
        last = slot is slots[-1]
        source = "Common practice for the steps; the times are worked" if last else ""
        entries.append(Entry(says, (f"Beside it: {names}.",) if names else (), source))
    return tuple(entries)


def _plain(name: str) -> str:
    return name.replace("_", " ")
