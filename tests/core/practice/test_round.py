"""A round: looking costs, remedies work by their own price, and the reason is shown only after the verdict."""

from __future__ import annotations

import json

import pytest

from troubleshoot.errors import CaseError
from troubleshoot.inference.reason import Reasoner
from troubleshoot.practice.cases import PracticeCase
from troubleshoot.practice.round import LOOKING, MARKED, REASON, Round, state_of


@pytest.fixture
def play(choux: Reasoner, clear: PracticeCase) -> Round:
    return Round(choux, clear)


def test_a_look_shows_the_batch_and_costs_its_minutes(choux: Reasoner, play: Round, clear: PracticeCase):
    """A look tells what the batch shows; asking takes two minutes beside the look's own."""
    line = play.look("panade_look")
    assert line.shown is not None
    assert line.shown.answer == clear.shows["panade_look"]
    memory = choux.is_memory(choux.family.signs["panade_look"], clear.stage)
    assert line.minutes == 2 + (0 if memory else choux.family.signs["panade_look"].minutes)
    assert play.tally().minutes == line.minutes
    assert play.tally().minutes_left == clear.service_in_min - line.minutes


def test_a_look_can_cost_a_piece(choux: Reasoner, drawn: dict[str, list[PracticeCase]]):
    """Cutting a piece open uses it up."""
    for case in drawn["choux"]:
        play = Round(choux, case)
        dear = next((line for line in play.looks() if line.pieces and not line.free), None)
        if dear is not None:
            play.look(dear.sign)
            assert play.tally().pieces == dear.pieces
            assert play.tally().pieces_left == case.pieces - dear.pieces
            return
    pytest.fail("no case has a look that uses up a piece")


def test_a_second_look_costs_nothing(play: Round):
    """Looking at the same thing again changes nothing."""
    play.look("panade_look")
    before = play.tally()
    play.look("panade_look")
    assert play.tally() == before
    assert len(play.seen()) == 1


def test_the_reasons_are_not_shown_before_the_verdict(play: Round):
    """Chains of why would name the rivals, so they wait for the cause."""
    with pytest.raises(CaseError, match="name the cause first"):
        play.reasons()
    assert play.step == LOOKING
    play.decide("door_opened")
    assert play.step == REASON
    chains = {card.links for card in play.reasons()}
    assert len(chains) == len(play.reasons()) == 4
    right = tuple(play.wording.text(link) for link in play.family.causes[play.case.causes[0]].why)
    named = tuple(play.wording.text(link) for link in play.family.causes["door_opened"].why)
    assert {right, named} <= chains


def test_after_the_verdict_nothing_is_looked_at(play: Round):
    """Looks and remedies end with the verdict, and say so."""
    play.decide("door_opened")
    with pytest.raises(CaseError, match="the verdict has been given"):
        play.look("panade_look")
    with pytest.raises(CaseError, match="the verdict has been given"):
        play.take(play.remedies()[0].remedy)


def test_what_is_unknown_is_refused(play: Round):
    """Unknown looks, remedies, causes and reasons are named, and nothing changes."""
    before = play.state
    for attempt in (lambda: play.look("panade_lok"), lambda: play.take("nothing"), lambda: play.decide("dor_opened")):
        with pytest.raises(CaseError):
            attempt()
    assert play.state == before
    play.decide("door_opened")
    with pytest.raises(CaseError, match="there is no reason 9"):
        play.choose(9)


def test_the_right_remedy_saves_what_the_program_saves(play: Round, clear: PracticeCase):
    """After the program's own looks, its own remedy saves the pieces it is marked with."""
    for sign in clear.program.asked:
        play.look(sign)
    assert clear.program.remedy is not None
    taken = play.take(clear.program.remedy)
    assert taken.helps
    assert taken.in_time
    assert taken.saved == pytest.approx(clear.program.saved)
    with pytest.raises(CaseError, match="done already"):
        play.take(clear.program.remedy)


def test_a_remedy_for_something_else_saves_nothing(play: Round):
    """What does not meet the mistake costs its minutes and saves no piece."""
    causes = play.family.causes
    helps = {remedy for cause in play.case.causes for remedy in causes[cause].remedies}
    other = next(line for line in play.remedies() if line.remedy not in helps and line.kind == "now" and line.minutes)
    taken = play.take(other.remedy)
    assert taken.saved == pytest.approx(0.0, abs=0.5)
    assert play.tally().minutes == other.minutes


def test_past_service_nothing_is_saved(play: Round, clear: PracticeCase):
    """When looking has used up the time, the right remedy comes too late."""
    for line in play.looks():
        if play.tally().minutes_left > 0 and not line.free:
            play.look(line.sign)
    for line in play.remedies():
        if play.tally().minutes_left > 0 and line.remedy != clear.program.remedy:
            play.take(line.remedy)
    assert play.tally().minutes_left == 0
    assert clear.program.remedy is not None
    assert play.take(clear.program.remedy).saved == 0
    assert "past service" in play.tally().say


def test_what_the_complaint_says_is_free(choux: Reasoner, drawn: dict[str, list[PracticeCase]]):
    """What a rule derives from the complaint is shown at no cost, and agrees with the batch."""
    for case in drawn["choux"]:
        play = Round(choux, case)
        for line in play.looks():
            if line.free and line.shown is not None:
                assert case.shows[line.sign] in choux.family.signs[line.sign].covers(line.shown.answer)
                play.look(line.sign)
        assert play.tally().minutes == 0


def test_a_round_is_taken_up_where_it_was_left(choux: Reasoner, play: Round, clear: PracticeCase):
    """From its kept data a round goes on at the same step, with the same tally and the same marks."""
    play.look("panade_look")
    assert clear.program.remedy is not None
    play.take(clear.program.remedy)
    play.look("door")
    again = Round(choux, clear, state=state_of(json.loads(json.dumps(play.state.to_data()))))
    assert (again.state, again.tally(), again.taken()) == (play.state, play.tally(), play.taken())
    for one in (play, again):
        one.decide("panade_undried")
        one.choose(1)
    once_more = Round(choux, clear, state=again.state)
    assert once_more.step == MARKED
    assert once_more.marks() == play.marks()


@pytest.mark.parametrize("data", [{}, {"code": "x"}, [], None, {"code": "choux-1-1", "looks": 3}])
def test_data_that_is_no_round_is_refused(data: object):
    """Damaged data raises one of the errors its reader expects."""
    with pytest.raises((ValueError, KeyError, TypeError, CaseError)):
        state_of(data)
