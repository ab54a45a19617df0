"""Conclusions drawn lately, and those of answers that may be given next, so that nobody waits for them."""

from __future__ import annotations

from collections import deque

from troubleshoot.inference.conclusion import Conclusion
from troubleshoot.inference.facts import Case
from troubleshoot.inference.reason import Reasoner

#: How many are kept: what the answers of two questions lead to, and the way back.
MOST_KEPT = 32


class Foresight:
    """Keeps conclusions by their reasoner and case.  A case cannot be hashed, and few are kept: they are compared."""

    def __init__(self) -> None:
        self._kept: deque[tuple[Reasoner, Conclusion]] = deque(maxlen=MOST_KEPT)

    def of(self, reasoner: Reasoner, case: Case) -> Conclusion:
        """Return what follows from a case, reasoned about now if it was not before."""
        found = self._find(reasoner, case)
        if found is None:
            found = reasoner.reason(case)
            self._kept.appendleft((reasoner, found))
        return found

    def knows(self, reasoner: Reasoner, case: Case) -> bool:
        """Return whether what follows from a case is known."""
        return self._find(reasoner, case) is not None

    def _find(self, reasoner: Reasoner, case: Case) -> Conclusion | None:
        return next((one for by, one in self._kept if by is reasoner and one.case == case), None)
