"""What things of the book are called, by the rule base in use; what it no longer holds keeps its id."""

from __future__ import annotations

from troubleshoot.errors import RuleBaseError
from troubleshoot.interview.shelf import Shelf
from troubleshoot.knowledge.model import Family

#: What stands for a cause that is none of those known.
NO_CAUSE = "None of the causes known"


class Names:
    """Names out of a rule base; a family is read when something of it is first asked for."""

    def __init__(self, shelf: Shelf) -> None:
        self._shelf = shelf
        self._headers = {header.id: header.name for header in shelf.headers}
        self._families: dict[str, Family | None] = {}

    def family(self, family: str) -> str:
        """Return what a family is called."""
        return self._headers.get(family, family)

    def cause(self, family: str, cause: str | None) -> str:
        """Return what a cause is called; None is none of those known."""
        if cause is None:
            return NO_CAUSE
        held = self.held(family)
        return held.causes[cause].name if held is not None and cause in held.causes else cause

    def remedy(self, family: str, remedy: str) -> str:
        """Return what a remedy is called."""
        held = self.held(family)
        return held.remedies[remedy].name if held is not None and remedy in held.remedies else remedy

    def fault(self, family: str, fault: str | None) -> str:
        """Return a complaint in words."""
        held = self.held(family)
        if fault is None:
            return "Hard to say"
        return held.faults[fault].say if held is not None and fault in held.faults else fault

    def held(self, family: str) -> Family | None:
        """Return what the rules hold of a family; None when they do not hold it, or cannot be read."""
        if family not in self._families:
            try:
                self._families[family] = self._shelf.rulebase(family).families[family]
            except RuleBaseError:
                self._families[family] = None
        return self._families[family]
