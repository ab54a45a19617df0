"""Time to service: rescue or remake, pieces on the plate, and the order of work for a fresh batch of choux.

Times are in minutes before or from now.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from troubleshoot.errors import AmountError
from troubleshoot.kitchen.amounts import not_negative, within
from troubleshoot.kitchen.registry import kitchen_function


@dataclass(frozen=True, slots=True)
class Step:
    """A piece of work: how long it takes, which steps must be done first, and whether it needs the cook's hands."""

    name: str
    minutes: float
    after: tuple[str, ...] = ()
    hands: bool = True


@dataclass(frozen=True, slots=True)
class Slot:
    """A step with its place in time, in minutes from the start."""

    name: str
    start_min: float
    end_min: float
    hands: bool


#: A fresh batch of choux (common practice: about 25 min to the oven, about 75 min to cold shells).
#: The oven heats beside the weighing and cooking; the shells dry and cool without hands.
CHOUX_STEPS: tuple[Step, ...] = (
    Step("heat_oven", 20.0, hands=False),
    Step("weigh", 5.0),
    Step("boil", 4.0, ("weigh",)),
    Step("cook_panade", 3.0, ("boil",)),
    Step("cool_panade", 4.0, ("cook_panade",), hands=False),
    Step("line_trays", 2.0, ("cook_panade",)),
    Step("beat_in_egg", 4.0, ("cool_panade", "line_trays")),
    Step("pipe", 5.0, ("beat_in_egg",)),
    Step("bake", 25.0, ("pipe", "heat_oven"), hands=False),
    Step("pierce_and_dry", 8.0, ("bake",), hands=False),
    Step("cool_shells", 17.0, ("pierce_and_dry",), hands=False),
)


def schedule(steps: Sequence[Step]) -> tuple[Slot, ...]:
    """Return each step at the earliest time it can start, one pair of hands taking the steps in the order given.

    Steps without hands run beside others as soon as what they wait for is done.
    Errors: a step waits for one that does not stand before it; two steps of one name; a time below nothing.
    Source: worked (critical path with one worker).
    """
    done: dict[str, float] = {}
    hands_free = 0.0
    slots: list[Slot] = []
    for step in steps:
        if step.name in done:
            raise AmountError(f"The step '{step.name}' stands twice.")
        late = [name for name in step.after if name not in done]
        if late:
            raise AmountError(f"The step '{step.name}' waits for '{late[0]}', which must stand before it.")
        start = max([0.0, *(done[name] for name in step.after), *([hands_free] if step.hands else [])])
        end = start + not_negative(step.minutes, f"The time for '{step.name}'", "min")
        done[step.name] = end
        hands_free = end if step.hands else hands_free
        slots.append(Slot(step.name, start, end, step.hands))
    return tuple(slots)


def latest_start(steps: Sequence[Step], service_in_min: float) -> float:
    """Return how many minutes from now the work must start at the latest to be done by service (0: at once).

    Errors: the work takes longer than the time left.
    """
    left = not_negative(service_in_min, "The time to service", "min")
    needed = max((slot.end_min for slot in schedule(steps)), default=0.0)
    if needed > left:
        raise AmountError(f"The work takes {needed:.0f} minutes and service is in {left:.0f}. There is no time for it.")
    return left - needed


def run_together(steps: Sequence[Step]) -> tuple[tuple[str, str], ...]:
    """Return the pairs of steps that run side by side, in the order in which they start."""
    slots = sorted(schedule(steps), key=lambda slot: slot.start_min)
    return tuple(
        (first.name, second.name)
        for index, first in enumerate(slots)
        for second in slots[index + 1 :]
        if second.start_min < first.end_min and first.start_min < second.end_min
    )


@kitchen_function
def choux_remake_time() -> Mapping[str, float]:
    """Return the minutes of a fresh batch of choux: to the oven, to cold shells, and with hands busy.

    Source: common practice for the steps; worked (critical path).
    """
    slots = schedule(CHOUX_STEPS)
    return {
        "to_oven_min": next(slot.start_min for slot in slots if slot.name == "bake"),
        "to_cold_shells_min": max(slot.end_min for slot in slots),
        "hands_min": sum(slot.end_min - slot.start_min for slot in slots if slot.hands),
    }


@kitchen_function
def pieces_by_service(
    service_in_min: float,
    pieces: float,
    rescue_min: float,
    rescue_saves: float,
    remake_min: float,
    remake_saves: float = 0.95,
) -> Mapping[str, float]:
    """Return the pieces a rescue and a remake can each bring to the plate by service, and what the better one brings.

    Formula: pieces x share saved, or nothing when the work takes longer than the time left.
    Units: min, pieces and shares in; pieces out, ``remake_gain_pieces`` is remake less rescue (below 0: rescue).
    Limits: shares 0 to 1.  Source: worked.
    """
    left = not_negative(service_in_min, "The time to service", "min")
    wanted = not_negative(pieces, "The pieces wanted")
    rescue = _in_time(left, rescue_min, "rescue") * wanted * within(rescue_saves, 0, 1, "The share the rescue saves")
    remake = _in_time(left, remake_min, "remake") * wanted * within(remake_saves, 0, 1, "The share the remake gives")
    return {
        "rescue_pieces": rescue,
        "remake_pieces": remake,
        "best_pieces": max(rescue, remake),
        "remake_gain_pieces": remake - rescue,
    }


def _in_time(left: float, minutes: float, what: str) -> float:
    return 1.0 if not_negative(minutes, f"The time for the {what}", "min") <= left else 0.0
