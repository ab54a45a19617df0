"""A set of cases that a trainer gives to all: a small YAML file of families, levels and numbers.

::

    set: Choux, first week
    cases:
      - {family: choux, level: 1, numbers: [3, 17, 20]}
      - {family: whipped-cream, level: 2, numbers: [5]}
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from troubleshoot import atomic
from troubleshoot.errors import CaseError
from troubleshoot.knowledge.places import PathKey
from troubleshoot.knowledge.yamlread import Document, read_file
from troubleshoot.practice.cases import LEVELS, MOST_NUMBER, CaseKey
from troubleshoot.problems import Problem, choose_from

#: A set has at most this many cases, and a title at most this many letters.
MOST_CASES, MOST_TITLE = 200, 80


@dataclass(frozen=True, slots=True)
class CaseSet:
    """A set: its title and the keys of its cases, in order."""

    title: str
    keys: tuple[CaseKey, ...]


def read_set(path: Path, families: Collection[str]) -> CaseSet:
    """Read a set.  Raises CaseError with every problem, each with its line."""
    document = read_file(path)
    if document.problems:
        raise CaseError(sorted(document.problems))
    return _Reader(document, families).read()


def write_set(path: Path, chosen: CaseSet) -> None:
    """Write a set as ``read_set`` reads it.  Raises OSError when it cannot be written."""
    groups: dict[tuple[str, int], list[int]] = {}
    for key in chosen.keys:
        groups.setdefault((key.family, key.level), []).append(key.number)
    title = " ".join(chosen.title.split())[:MOST_TITLE].replace("\\", "\\\\").replace('"', '\\"')
    lines = [f'set: "{title}"', "cases:"]
    lines += [f"  - {{family: {f}, level: {level}, numbers: {numbers}}}" for (f, level), numbers in groups.items()]
    atomic.write_text(path, "\n".join(lines) + "\n")


class _Reader:
    def __init__(self, document: Document, families: Collection[str]) -> None:
        self.document, self.families = document, families
        self.problems: list[Problem] = []

    def read(self) -> CaseSet:
        data = self.document.data
        if not isinstance(data, dict) or set(data) != {"set", "cases"}:
            self._wrong((), "set", "a set has the keys 'set' and 'cases'", "write a title and a list of cases")
            raise CaseError(self.problems)
        title, groups = data["set"], data["cases"]
        if not isinstance(title, str) or not 0 < len(title) <= MOST_TITLE:
            self._wrong(("set",), "set", "this is no title", f"write 1 to {MOST_TITLE} letters")
        keys: list[CaseKey] = []
        if isinstance(groups, list) and groups:
            for place, group in enumerate(groups):
                keys += self._group(("cases", place), group)
        else:
            self._wrong(("cases",), "cases", "this is no list of cases", "write - {family: …, level: …, numbers: […]}")
        if len(keys) > MOST_CASES:
            self._wrong(("cases",), "cases", f"{len(keys)} cases are too many", f"write at most {MOST_CASES}")
        if self.problems:
            raise CaseError(sorted(self.problems))
        return CaseSet(title, tuple(dict.fromkeys(keys)))

    def _group(self, path: PathKey, group: Any) -> list[CaseKey]:
        if not isinstance(group, dict) or set(group) != {"family", "level", "numbers"}:
            self._wrong(path, "cases", "these are no cases", "write {family: …, level: …, numbers: […]}")
            return []
        family, level, numbers = group["family"], group["level"], group["numbers"]
        sound = True
        if family not in self.families:
            advice = choose_from(str(family), self.families)
            sound = self._wrong((*path, "family"), "family", f"there is no family '{family}'", advice)
        if not _whole(level) or level not in LEVELS:
            sound = self._wrong((*path, "level"), "level", f"there is no level {level}", f"write 1 to {LEVELS[-1]}")
        if not isinstance(numbers, list) or not all(_whole(n) and 1 <= n <= MOST_NUMBER for n in numbers):
            advice = f"write numbers from 1 to {MOST_NUMBER}, as in [3, 17]"
            sound = self._wrong((*path, "numbers"), "numbers", "these are no numbers of cases", advice)
        return [CaseKey(family, level, number) for number in numbers] if sound else []

    def _wrong(self, path: PathKey, subject: str, wrong: str, advice: str) -> bool:
        self.problems.append(Problem(self.document.place(path), subject, wrong, advice))
        return False


def _whole(value: Any) -> bool:
    return isinstance(value, int) and not isinstance(value, bool)
