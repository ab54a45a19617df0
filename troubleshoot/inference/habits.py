"""How common each cause is in this kitchen: the rule base's own figures, moved by what was confirmed here.

The rule base says how common causes are against each other.  Taken as the shares of a Dirichlet distribution that
weighs as much as ``weight`` cases, the counts of confirmed cases update it in closed form: a cause that had the share
``s`` and was confirmed ``n`` times in ``N`` has the share (weight * s + n) / (weight + N) afterwards.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Habit:
    """How common one cause is here: confirmed in ``count`` of ``of`` cases; its share (0..1) before and after."""

    cause: str
    count: int
    of: int
    before: float
    after: float


@dataclass(frozen=True, slots=True)
class Habits:
    """What a kitchen's confirmed cases say of the causes of one family."""

    family: str
    weight: float
    by_cause: Mapping[str, Habit]

    @property
    def confirmed(self) -> int:
        """How many confirmed cases the shares rest on."""
        return next((habit.of for habit in self.by_cause.values()), 0)

    def shares(self) -> dict[str, float]:
        """Return the share of each cause, in the order of the causes; they add up to one."""
        return {cause: habit.after for cause, habit in self.by_cause.items()}


def learn(family: str, how_common: Mapping[str, float], counts: Mapping[str, int], weight: float) -> Habits:
    """Return the habits of a family.

    ``how_common`` weighs each cause against the others (any scale, all above zero); ``counts`` says how often each was
    confirmed (causes that ``how_common`` does not know are left out); ``weight`` is how many cases the rule base's own
    figures are worth.  Raises ValueError when ``weight`` is not above zero.
    """
    if weight <= 0.0:
        raise ValueError("the rule base's figures must be worth something")
    total = sum(how_common.values())
    of = sum(counts.get(cause, 0) for cause in how_common)
    return Habits(
        family,
        weight,
        {
            cause: Habit(
                cause,
                counts.get(cause, 0),
                of,
                common / total,
                (weight * common / total + counts.get(cause, 0)) / (weight + of),
            )
            for cause, common in how_common.items()
        },
    )
