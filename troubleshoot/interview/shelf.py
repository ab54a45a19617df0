"""Families read when they are wanted, and their reasoners, one of each; read again when their files change."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from troubleshoot import resources
from troubleshoot.errors import RuleBaseError
from troubleshoot.inference.reason import Reasoner
from troubleshoot.knowledge.kept import Stamp, of_folder, stamp
from troubleshoot.knowledge.load import load
from troubleshoot.knowledge.model import FamilyHeader, RuleBase
from troubleshoot.knowledge.schema import make_ready
from troubleshoot.problems import Place, Problem, choose_from


@dataclass(frozen=True, slots=True)
class Reading:
    """What another look at the files brought: the families that changed, or what is wrong with them.

    A family with a problem is not among ``bases``; what was read of it before stays in force.
    """

    base: RuleBase | None
    bases: Mapping[str, RuleBase]
    problems: tuple[Problem, ...]
    stamps: Mapping[str | None, frozenset[Stamp]]

    @property
    def empty(self) -> bool:
        """Whether nothing changed."""
        return not self.stamps


class Shelf:
    """The rule base in use: headers at once, each family and its reasoner when first asked for."""

    def __init__(self, folder: Path | None = None) -> None:
        """Open a rules folder (the one shipped, unless named).  Raises RuleBaseError when it cannot be read."""
        self.folder = folder if folder is not None else resources.folder("rules")
        self._kept = of_folder(self.folder)
        self._stamps: dict[str | None, frozenset[Stamp]] = {None: stamp(self.folder, None)}
        self.base: RuleBase = self._load(())
        self._bases: dict[str, RuleBase] = {}
        self._reasoners: dict[str, tuple[RuleBase, Reasoner]] = {}

    def _load(self, families: tuple[str, ...]) -> RuleBase:
        try:
            return load(self.folder, families, self._kept)
        finally:
            self.keep()

    def keep(self) -> None:
        """Keep on disk what was parsed, for the next start; after ``look_again`` this is left to the caller."""
        self._kept.save()

    @property
    def headers(self) -> tuple[FamilyHeader, ...]:
        """The families that can be chosen, in alphabetical order of id."""
        return tuple(self.base.headers.values())

    def holds(self, family: str) -> bool:
        """Return whether ``family`` was read already, so that asking for it costs nothing."""
        return family in self._bases

    def rulebase(self, family: str) -> RuleBase:
        """Return the rule base with ``family`` read.  Raises RuleBaseError when there is none or it is broken."""
        if family not in self._bases:
            if family not in self.base.headers:
                place = Place(str(self.folder))
                raise RuleBaseError(
                    [Problem(place, family, "there is no such family", choose_from(family, self.base.headers))]
                )
            now = stamp(self.folder, family)
            self._bases[family] = self._load((family,))
            self._stamps[family] = now
        return self._bases[family]

    def reasoner(self, family: str) -> Reasoner:
        """Return the reasoner of ``family``, compiled the first time and after each change of its rules."""
        rulebase = self.rulebase(family)
        made = self._reasoners.get(family)
        if made is None or made[0] is not rulebase:
            made = (rulebase, Reasoner(rulebase.families[family], rulebase.vocabulary))
            self._reasoners[family] = made
        return made[1]

    def make_ready(self) -> None:
        """Load what changed files are checked with, so that the first save is not seen later than the next."""
        make_ready()

    def look_again(self) -> Reading:
        """Read every family on the shelf again whose files changed, and change nothing yet.

        It may be called on another thread; ``take`` then puts what it found in force, and ``keep`` can wait until
        it is shown.
        """
        problems: dict[Problem, None] = {}
        stamps: dict[str | None, frozenset[Stamp]] = {}
        bases: dict[str, RuleBase] = {}
        base: RuleBase | None = None
        for family, before in list(self._stamps.items()):
            now = stamp(self.folder, family)
            if now == before:
                continue
            stamps[family] = now
            try:
                read = load(self.folder, () if family is None else (family,), self._kept)
            except RuleBaseError as error:
                problems.update(dict.fromkeys(error.problems))
                continue
            if family is None:
                base = read
            else:
                bases[family] = read
        return Reading(base, bases, tuple(sorted(problems)), stamps)

    def take(self, reading: Reading) -> None:
        """Put in force what was read again.  What has problems keeps the rules it had, and is looked at again."""
        taken: set[str | None] = set(reading.bases)
        if reading.base is not None:
            self.base = reading.base
            taken.add(None)
        self._bases.update(reading.bases)
        self._stamps.update({family: now for family, now in reading.stamps.items() if family in taken})
