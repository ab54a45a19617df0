"""When things were said in an interview, noted as its states go by."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import UTC, datetime

from troubleshoot.inference.facts import Given
from troubleshoot.interview.state import State


@dataclass(slots=True)
class Clock:
    """When an interview began and when each of its answers was given, noted as it goes on."""

    begun: datetime | None = None
    answered: dict[str, datetime] = field(default_factory=dict)
    _said: Mapping[str, Given] = field(default_factory=dict)

    def note(self, state: State, now: datetime | None = None) -> None:
        """Note what is new in a state; an answer that was changed counts from its change.  For use as it is saved."""
        now = now or datetime.now(UTC)
        if state.family is None:
            self.begun, self.answered, self._said = None, {}, {}
            return
        self.begun = self.begun or now
        self.answered = {
            sign: self.answered[sign] if self._said.get(sign) == given and sign in self.answered else now
            for sign, given in state.answers.items()
        }
        self._said = state.answers
