"""Families read when they are wanted, and their reasoners, one of each."""

from __future__ import annotations

from pathlib import Path

from troubleshoot import resources
from troubleshoot.errors import RuleBaseError
from troubleshoot.inference.reason import Reasoner
from troubleshoot.knowledge.load import load
from troubleshoot.knowledge.model import FamilyHeader, RuleBase
from troubleshoot.problems import Place, Problem, choose_from


class Shelf:
    """The rule base in use: headers at once, each family and its reasoner when first asked for."""

    def __init__(self, folder: Path | None = None) -> None:
        """Open a rules folder (the one shipped, unless named).  Raises RuleBaseError when it cannot be read."""
        self.folder = folder if folder is not None else resources.folder("rules")
        self.base: RuleBase = load(self.folder, ())
        self._bases: dict[str, RuleBase] = {}
        self._reasoners: dict[str, Reasoner] = {}

    @property
    def headers(self) -> tuple[FamilyHeader, ...]:
        """The families that can be chosen, in alphabetical order of id."""
        return tuple(self.base.headers.values())

    def rulebase(self, family: str) -> RuleBase:
        """Return the rule base with ``family`` read.  Raises RuleBaseError when there is none or it is broken."""
        if family not in self._bases:
            if family not in self.base.headers:
                place = Place(str(self.folder))
                raise RuleBaseError(
                    [Problem(place, family, "there is no such family", choose_from(family, self.base.headers))]
                )
            self._bases[family] = load(self.folder, (family,))
        return self._bases[family]

    def reasoner(self, family: str) -> Reasoner:
        """Return the reasoner of ``family``, compiled the first time."""
        if family not in self._reasoners:
            rulebase = self.rulebase(family)
            self._reasoners[family] = Reasoner(rulebase.families[family], rulebase.vocabulary)
        return self._reasoners[family]
