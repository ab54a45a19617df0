"""One interview from tile to verdict: nothing said is ever lost, whichever way a person moves."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from troubleshoot.errors import CaseError
from troubleshoot.inference.facts import CANT_TELL
from troubleshoot.interview.session import Session
from troubleshoot.interview.shelf import Shelf
from troubleshoot.interview.state import FAMILY, FAULT, QUESTION, VERDICT, State

NOON, MINUTE, DAY = datetime(2026, 3, 2, 12, tzinfo=UTC), timedelta(minutes=1), timedelta(days=1)


@pytest.fixture
def session(shelf: Shelf) -> Session:
    return Session(shelf)


@pytest.fixture
def asked(session: Session) -> Session:
    """A session at its first question about flat eclairs."""
    session.choose_family("choux")
    session.choose_fault("flat")
    return session


def test_the_steps_lead_from_family_to_verdict(session: Session):
    """Choosing a family, a complaint and answers leads to the verdict within the questions allowed."""
    assert session.step == FAMILY
    session.choose_family("choux")
    assert session.step == FAULT
    session.choose_fault("flat")
    assert session.step == QUESTION
    for _ in range(20):
        if session.step != QUESTION:
            break
        session.answer(session.question().answers[0].answer)
    assert session.step == VERDICT
    assert len(session.state.asked) <= session.reasoner.vocabulary.most_questions


def test_back_and_forward_keep_every_answer(asked: Session):
    """Going back to the first tile and forward again finds each answer where it was."""
    given = []
    for _ in range(3):
        view = asked.question()
        given.append((view.sign, view.answers[-1].answer))
        asked.answer(view.answers[-1].answer)
    for _ in range(10):
        asked.back()
    assert asked.step == FAMILY
    asked.choose_family("choux")
    asked.choose_fault("flat")
    for sign, answer in given:
        view = asked.question()
        assert view.sign == sign
        assert [card.answer for card in view.answers if card.chosen] == [answer]
        asked.forward()


def test_a_changed_answer_keeps_the_later_ones(asked: Session):
    """Changing the first answer in place leaves the others standing and reasons anew."""
    first = asked.question()
    asked.answer(first.answers[0].answer)
    second = asked.question()
    asked.answer(second.answers[0].answer)
    before = asked.conclusion.suspects
    asked.show(first.sign)
    asked.answer(first.answers[-1].answer)
    assert asked.state.answers[second.sign].answer == second.answers[0].answer
    assert asked.state.answers[first.sign].answer == first.answers[-1].answer
    assert asked.conclusion.suspects != before


def test_another_family_begins_a_new_case(asked: Session):
    """Choosing the same family keeps the case; what was said of it does not follow into another."""
    asked.answer(asked.question().answers[0].answer)
    asked.choose_family("choux")
    assert asked.state.answers


def test_an_answer_that_cannot_be_changes_nothing(asked: Session):
    """A wrong answer, a number where none can be given, and one out of range leave the case as it was."""
    before = asked.state
    sign = asked.question().sign
    with pytest.raises(CaseError, match="unknown answer"):
        asked.volunteer(sign, "purple")
    with pytest.raises(CaseError, match="takes no number"):
        asked.volunteer("paste_hang", 3.0)
    with pytest.raises(CaseError, match="out of range"):
        asked.volunteer("panade_loss", 400.0)
    with pytest.raises(CaseError, match="did you mean 'paste_hang'"):
        asked.volunteer("paste_hand", "v_slow")
    assert asked.state == before


def test_cant_tell_throughout_ends_in_an_honest_verdict(asked: Session):
    """A person who can tell nothing gets a verdict that is not settled and names what would settle it."""
    for _ in range(20):
        if asked.step != QUESTION:
            break
        asked.answer(CANT_TELL)
    verdict = asked.verdict()
    assert asked.step == VERDICT
    assert not verdict.settled
    assert len(verdict.suspects) >= 1
    assert verdict.settling_test


def test_asking_more_goes_on_after_the_stop(asked: Session):
    """After the verdict one more question can be asked, and one more after that."""
    asked.to_verdict()
    seen = set(asked.state.asked)
    asked.ask_more()
    assert asked.step == QUESTION
    assert asked.question().sign not in seen


def test_the_batch_changes_the_amounts_at_once(session: Session):
    """Weights given at the verdict are in the steps of the rescue; taking them back says what was assumed."""
    session.choose_family("choux")
    session.choose_fault("piped_spreads")
    for sign, answer in (
        ("paste_hang", "runs_off"),
        ("panade_look", "smooth_ball"),
        ("egg_measure", "all_in_weighed"),
        ("panade_loss", 7.0),
    ):
        session.volunteer(sign, answer)
    session.to_verdict()

    def rescue() -> tuple[str, tuple[str, ...]]:
        advice = next(a for a in session.verdict().rescue if a.remedy == "stiffen_with_panade")
        return " ".join(advice.steps), advice.assumed

    session.set_batch("flour_g", 300.0)
    session.set_batch("liquid_g", 500.0)
    session.set_batch("butter_g", 210.0)
    session.set_batch("egg_g", 660.0)
    assert "100 g" in rescue()[0]
    assert rescue()[1] == ()
    session.set_batch("egg_g", None)
    assert any("egg" in line for line in rescue()[1])
    with pytest.raises(CaseError, match="out of range"):
        session.set_batch("egg_g", -3.0)


def test_time_to_service_decides_what_is_offered_first(session: Session):
    """With an hour and a half a rescue of the paste comes first; with half an hour it is said to be too late."""
    session.choose_family("choux")
    session.choose_fault("piped_spreads")
    for sign, answer in (("paste_hang", "runs_off"), ("panade_look", "smooth_ball"), ("egg_measure", "all_in_weighed")):
        session.volunteer(sign, answer)
    session.set_service(90)
    assert session.verdict().rescue[0].remedy == "stiffen_with_panade"
    session.set_service(30)
    assert all(advice.in_time is False or advice.ready_in_min <= 30 for advice in session.verdict().rescue)


def test_why_this_question_names_the_suspects_it_parts(asked: Session):
    """The reason names suspects, and the chances of its answers add up to one."""
    why = asked.why_ask()
    assert "“" in why.sentence
    assert sum(line.chance for line in why.lines) == pytest.approx(1.0)


def test_a_number_in_fahrenheit_is_the_same_temperature(shelf: Shelf):
    """A kitchen that set Fahrenheit types Fahrenheit, and the reasoning is the same."""
    from troubleshoot.advice.wording import Wording

    session = Session(shelf, Wording(fahrenheit=True))
    session.choose_family("choux")
    session.choose_fault("scrambled")
    session.volunteer("egg_in_temp", 158.0)
    assert session.state.answers["egg_in_temp"].value == pytest.approx(70.0)
    assert session.conclusion.answers["egg_in_temp"] == "over_60"
    assert "158 °F" in [line.said for line in session.answered()]


def test_every_action_is_saved(shelf: Shelf):
    """Each action hands the new state to whoever keeps it."""
    kept: list[State] = []
    session = Session(shelf, save=kept.append)
    session.choose_family("choux")
    session.choose_fault("flat")
    session.answer(session.question().answers[0].answer)
    assert kept[-1] == session.state
    assert len(kept) >= 3


def test_resuming_shows_the_same_question(asked: Session, shelf: Shelf):
    """A case taken up again stands at the same question with the same suspects."""
    asked.answer(asked.question().answers[0].answer)
    again = Session(shelf)
    again.resume(asked.state)
    assert again.question() == asked.question()
    assert again.suspects() == asked.suspects()


def test_each_answer_has_the_time_at_which_it_was_given_or_changed(shelf: Shelf):
    """An answer keeps its time while others come and when it is said again; changed it has a new one, else none."""
    times = iter(NOON + n * MINUTE for n in range(9))
    session = Session(shelf, now=lambda: next(times))
    session.choose_family("choux")
    session.volunteer("paste_hang", "runs_off")
    session.volunteer("panade_look", "wet_sticky")
    session.volunteer("paste_hang", "runs_off")
    assert session.state.begun == NOON
    assert session.state.times == {"paste_hang": NOON + MINUTE, "panade_look": NOON + 2 * MINUTE}
    session.volunteer("paste_hang", "v_slow")
    assert session.state.times["paste_hang"] == NOON + 4 * MINUTE
    session.take_back("paste_hang")
    assert session.state.times == {"panade_look": NOON + 2 * MINUTE}
    session.choose_family("shortbread")
    assert (session.state.begun, dict(session.state.times)) == (NOON + 5 * MINUTE, {})


def test_a_case_taken_up_keeps_the_times_it_had(shelf: Shelf):
    """Going on a day later gives only the new answers the new time; the beginning stays."""
    session = Session(shelf, now=lambda: NOON)
    session.choose_family("choux")
    session.volunteer("paste_hang", "runs_off")
    again = Session(shelf, now=lambda: NOON + DAY)
    again.resume(session.state)
    again.volunteer("panade_look", "wet_sticky")
    assert again.state.begun == NOON
    assert again.state.times == {"paste_hang": NOON, "panade_look": NOON + DAY}


def test_settledness_grows_from_nothing_to_nearly_all(asked: Session):
    """How settled the matter is lies between 0 and 1 and is high once a cause is settled."""
    start = asked.settledness()
    for sign, answer in (
        ("door", "opened_or_moved"),
        ("sank_when", "in_oven"),
        ("piped_hold", "holds"),
        ("heat_down", "after_set"),
    ):
        asked.volunteer(sign, answer)
    assert 0.0 <= start < 0.5 < asked.settledness() <= 1.0


def test_how_far_the_batch_is_decides_what_can_still_be_done(session: Session):
    """Paste on the bench can be stiffened; once the pieces are out of the oven it is too late for that."""
    session.choose_family("choux")
    session.choose_fault("piped_spreads")
    for sign, answer in (("paste_hang", "runs_off"), ("panade_look", "smooth_ball"), ("egg_measure", "all_in_weighed")):
        session.volunteer(sign, answer)
    assert [choice.stage for choice in session.stages() if choice.chosen] == ["pipe"]
    assert "stiffen_with_panade" in session.conclusion.remedies
    session.set_stage("out")
    assert [choice.stage for choice in session.stages() if choice.chosen] == ["out"]
    assert "stiffen_with_panade" not in session.conclusion.remedies
    assert "use_flat" in session.conclusion.remedies
    with pytest.raises(CaseError, match="unknown stage"):
        session.set_stage("nowhere")
