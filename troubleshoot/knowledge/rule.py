"""Plain rules as they are read: conditions on facts, and what follows from them."""

from __future__ import annotations

from dataclasses import dataclass

from troubleshoot.problems import Place

#: The place of what was made by hand and stands in no file.
NOWHERE = Place("")


@dataclass(frozen=True, slots=True)
class Condition:
    """One line of a rule's ``when``.

    ``about`` is the kind of fact (sign, number, finding, suspect, fault, stage, remedy);
    ``name`` its id; ``values`` the answers or standings that satisfy it; the two bounds hold for numbers.
    """

    about: str
    name: str
    values: tuple[str, ...] = ()
    at_least: float | None = None
    below: float | None = None
    place: Place = NOWHERE

    @property
    def names(self) -> tuple[str, ...]:
        """The ids of what must be there: of a remedy each that would do, of all else the one it asks about."""
        return self.values if self.about == "remedy" else (self.name,)

    def holds_of(self, value: str | float | None) -> bool:
        """Return whether it holds when what it asks about is ``value`` (None: nothing is known of it)."""
        if value is None:
            return False
        if isinstance(value, str):
            return value in self.values
        return (self.at_least is None or value >= self.at_least) and (self.below is None or value < self.below)


@dataclass(frozen=True, slots=True)
class NearMiss:
    """A case that meets a rule's conditions but for one thing, in which the rule would be wrong, and why.

    ``about`` and ``name`` say what is otherwise, as in a condition (``without`` for what is not there at all);
    ``value`` is what it is.
    """

    about: str
    name: str
    value: str | float | None
    because: str
    place: Place = NOWHERE

    def fails(self, condition: Condition) -> bool:
        """Return whether the condition asks about what is otherwise here, and does not hold of it."""
        if self.about == "without":
            return condition.about in ABSENT and self.name in condition.names
        asked = (condition.about, condition.name) == (self.about, self.name)
        return asked and not condition.holds_of(self.value)


#: Kinds of fact that a near miss can do without.
ABSENT = frozenset({"finding", "suspect", "remedy"})


@dataclass(frozen=True, slots=True)
class Conclusion:
    """One line of a rule's ``then``.

    ``kind`` is rule_out, finding, answer, offer, bar or caution; ``name`` what it concludes;
    ``value`` the answer for ``answer``; ``say`` the words for a finding.
    """

    kind: str
    name: str
    value: str | None = None
    say: str | None = None
    place: Place = NOWHERE


@dataclass(frozen=True, slots=True)
class Rule:
    """A plain rule: when all conditions hold, these conclusions follow, because."""

    id: str
    when: tuple[Condition, ...]
    then: tuple[Conclusion, ...]
    because: str
    sources: tuple[str, ...]
    near_misses: tuple[NearMiss, ...] = ()
    place: Place = NOWHERE
    because_place: Place = NOWHERE
