"""A fresh batch of each family as a plan: what waits for what, what needs hands, and what fits beside it.

Times are in minutes from the start of the work.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from troubleshoot.errors import AmountError
from troubleshoot.kitchen.amounts import not_negative
from troubleshoot.kitchen.registry import kitchen_function
from troubleshoot.kitchen.service import CHOUX_STEPS, Step, schedule

#: A fresh batch by family, from an empty table to the plate (common practice for one batch and one pair of hands).
PLANS: Mapping[str, tuple[Step, ...]] = {
    "choux": CHOUX_STEPS,
    "shortbread": (
        Step("heat_oven", 20.0, hands=False),
        Step("weigh", 5.0),
        Step("mix_dough", 6.0, ("weigh",)),
        Step("rest_dough_cold", 22.0, ("mix_dough",), hands=False),
        Step("line_trays", 2.0, ("mix_dough",)),
        Step("roll_and_cut", 10.0, ("rest_dough_cold", "line_trays")),
        Step("chill_pieces", 6.0, ("roll_and_cut",), hands=False),
        Step("bake", 14.0, ("chill_pieces", "heat_oven"), hands=False),
        Step("cool_on_tray", 10.0, ("bake",), hands=False),
        Step("cool_on_rack", 12.0, ("cool_on_tray",), hands=False),
        Step("fill", 5.0, ("cool_on_rack",)),
    ),
    "whipped-cream": (
        Step("chill_bowl_and_whisk", 15.0, hands=False),
        Step("weigh_cream_and_sugar", 4.0),
        Step("ready_the_bag", 3.0, ("weigh_cream_and_sugar",)),
        Step("whip", 4.0, ("chill_bowl_and_whisk", "ready_the_bag")),
        Step("pipe", 6.0, ("whip",)),
    ),
    "melted-chocolate": (
        Step("heat_the_bath", 6.0, hands=False),
        Step("chop_and_weigh", 6.0),
        Step("melt", 12.0, ("chop_and_weigh", "heat_the_bath"), hands=False),
        Step("bring_pieces_to_room_heat", 18.0, hands=False),
        Step("line_trays", 2.0, ("chop_and_weigh",)),
        Step("seed_and_stir_down", 8.0, ("melt",)),
        Step("test_strip", 4.0, ("seed_and_stir_down",), hands=False),
        Step("dip", 7.0, ("test_strip", "bring_pieces_to_room_heat", "line_trays")),
        Step("set", 8.0, ("dip",), hands=False),
    ),
    "candied-peel": (
        Step("scrub_and_pare", 15.0),
        Step("first_blanching", 10.0, ("scrub_and_pare",), hands=False),
        Step("second_blanching", 10.0, ("first_blanching",), hands=False),
        Step("boil_syrup", 10.0, ("scrub_and_pare",), hands=False),
        Step("simmer_strips", 40.0, ("second_blanching", "boil_syrup"), hands=False),
        Step("drain", 30.0, ("simmer_strips",), hands=False),
        Step("lay_out", 5.0, ("drain",)),
        Step("dry_in_the_oven", 90.0, ("lay_out",), hands=False),
        Step("sugar", 10.0, ("dry_in_the_oven",)),
        Step("air", 120.0, ("sugar",), hands=False),
    ),
}


def plan_of(family: str) -> tuple[Step, ...]:
    """Return the steps of a fresh batch.  Errors: a family without a plan."""
    if family not in PLANS:
        raise AmountError(f"The families known here are {', '.join(PLANS)}.")
    return PLANS[family]


def free_spells(steps: Sequence[Step]) -> tuple[tuple[float, float], ...]:
    """Return the spells in which the hands are free while the batch looks after itself, from and to."""
    slots = schedule(steps)
    end = max((slot.end_min for slot in slots), default=0.0)
    spells: list[tuple[float, float]] = []
    free_from = 0.0
    for slot in sorted((slot for slot in slots if slot.hands), key=lambda slot: slot.start_min):
        if slot.start_min > free_from:
            spells.append((free_from, slot.start_min))
        free_from = slot.end_min
    return (*spells, (free_from, end)) if end > free_from else tuple(spells)


@kitchen_function
def remake_beside_rescue(family: str, service_in_min: float, rescue_min: float = 0.0) -> Mapping[str, float]:
    """Return whether a fresh batch is ready by service, and whether the rescue fits beside it.

    Formula: critical path with one pair of hands; spare time = service - plate; the rescue fits into the longest spell
    in which the batch looks after itself.
    Units: min.  Below nothing, the spare time says that it is too late, and what is left of the spell that the rescue
    does not fit in.  Errors: a family without a plan.
    Source: common practice for the steps; worked.
    """
    steps = plan_of(family)
    slots = schedule(steps)
    plate = max(slot.end_min for slot in slots)
    begin, end = max(free_spells(steps), key=lambda spell: spell[1] - spell[0])
    return {
        "to_plate_min": plate,
        "spare_min": not_negative(service_in_min, "The time to service", "min") - plate,
        "hands_min": sum(slot.end_min - slot.start_min for slot in slots if slot.hands),
        "free_from_min": begin,
        "free_min": end - begin,
        "beside_left_min": end - begin - not_negative(rescue_min, "The time for the rescue", "min"),
    }
