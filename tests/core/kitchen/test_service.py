"""What the timing of rescue, remake and the work beside it promises."""

from __future__ import annotations

import itertools

import pytest

from troubleshoot.errors import AmountError
from troubleshoot.kitchen import service
from troubleshoot.kitchen.service import Step


def test_no_step_starts_before_what_it_waits_for():
    """Every step of the choux plan starts when all it waits for is done."""
    slots = {slot.name: slot for slot in service.schedule(service.CHOUX_STEPS)}
    for step in service.CHOUX_STEPS:
        for name in step.after:
            assert slots[step.name].start_min >= slots[name].end_min
        assert slots[step.name].end_min - slots[step.name].start_min == step.minutes


def test_one_pair_of_hands_does_one_thing_at_a_time():
    """Steps that need hands never overlap."""
    busy = sorted((s.start_min, s.end_min) for s in service.schedule(service.CHOUX_STEPS) if s.hands)
    for (_, end), (start, _) in itertools.pairwise(busy):
        assert start >= end


def test_the_oven_heats_and_the_panade_cools_beside_other_work():
    """The oven heats while things are weighed, and trays are lined while the panade cools."""
    pairs = service.run_together(service.CHOUX_STEPS)
    assert ("heat_oven", "weigh") in pairs
    assert {"cool_panade", "line_trays"} in [set(pair) for pair in pairs]


def test_panade_cools_in_three_to_four_minutes():
    """Common practice: beaten or spread, the panade is ready for egg in 3 to 4 minutes."""
    cooling = next(step for step in service.CHOUX_STEPS if step.name == "cool_panade")
    assert 3 <= cooling.minutes <= 4


def test_a_fresh_batch_takes_the_usual_time():
    """Common practice: about 25 minutes to the oven and 75 to cold shells."""
    time = service.choux_remake_time()
    assert time["to_oven_min"] == pytest.approx(25, abs=3)
    assert time["to_cold_shells_min"] == pytest.approx(75, abs=5)
    assert time["hands_min"] < time["to_cold_shells_min"]


def test_work_alone_takes_its_sum_and_work_beside_it_less():
    """Two steps with hands add up; one without hands runs beside."""
    alone = service.schedule([Step("a", 10), Step("b", 5)])
    beside = service.schedule([Step("a", 10, hands=False), Step("b", 5)])
    assert max(slot.end_min for slot in alone) == 15
    assert max(slot.end_min for slot in beside) == 10


def test_the_latest_start_leaves_just_enough_time():
    """Time to service less the work is the slack; too little time is said."""
    assert service.latest_start(service.CHOUX_STEPS, 100) == pytest.approx(25)
    assert service.latest_start([], 10) == 10
    with pytest.raises(AmountError, match="no time"):
        service.latest_start(service.CHOUX_STEPS, 60)


@pytest.mark.parametrize(
    ("steps", "message"),
    [
        ([Step("a", 1), Step("a", 1)], "twice"),
        ([Step("a", 1, ("b",)), Step("b", 1)], "waits for 'b'"),
        ([Step("a", -1)], "cannot be less"),
    ],
)
def test_a_muddled_plan_is_refused(steps, message):
    """Double names, waiting for what comes later and negative times are refused."""
    with pytest.raises(AmountError, match=message):
        service.schedule(steps)


def test_rescue_beats_remake_only_when_it_brings_more_pieces_in_time():
    """With little time only the rescue counts; with time the remake brings more; with none nothing does."""
    assert service.pieces_by_service(30, 20, 20, 0.6, 75)["remake_gain_pieces"] < 0
    assert service.pieces_by_service(90, 20, 20, 0.6, 75)["remake_gain_pieces"] > 0
    assert service.pieces_by_service(10, 20, 20, 0.6, 75)["best_pieces"] == 0


def test_more_time_never_brings_fewer_pieces():
    """Pieces on the plate rise with the time left and never exceed those wanted."""
    best = [service.pieces_by_service(left, 24, 20, 0.9, 75)["best_pieces"] for left in range(0, 121, 5)]
    assert best == sorted(best)
    assert max(best) <= 24


def test_an_impossible_share_is_refused():
    """No rescue saves more than all."""
    with pytest.raises(AmountError, match="from 0 to 1"):
        service.pieces_by_service(60, 20, 20, 1.2, 75)


def test_work_that_ends_at_service_is_in_time():
    """A rescue that takes just the time left still counts; one minute more does not."""
    assert service.pieces_by_service(20, 10, 20, 1.0, 75)["rescue_pieces"] == 10
    assert service.pieces_by_service(19, 10, 20, 1.0, 75)["rescue_pieces"] == 0
