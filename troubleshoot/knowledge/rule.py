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
    place: Place = NOWHERE
    because_place: Place = NOWHERE
