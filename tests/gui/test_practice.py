"""The place of practice: a batch found out about with the mouse and by keyboard alone, and what can go wrong."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel

from troubleshoot.errors import RuleBaseError
from troubleshoot.interview.shelf import Shelf
from troubleshoot.practice.round import LOOKING
from troubleshoot.problems import Place, Problem
from ui.practice.job import ProgressPanel
from ui.widgets.basic import Heading
from ui.widgets.cards import Card
from ui.widgets.drawn import Drawing
from ui.widgets.search import SearchField
from ui.widgets.strips import ErrorStrip

ALT = Qt.KeyboardModifier.AltModifier
ROOT = Path(__file__).parents[2]


@pytest.fixture
def place(person):
    """The place of practice, gone to with the mouse."""
    person.click("Practice")
    return person.window.stack.currentWidget()


def wait(person, place):
    """Wait until nothing is being made ready."""
    person.qtbot.waitUntil(lambda: place.practice.job is None, timeout=60_000)
    person.settle()


def in_hand(person, place, level=1, number=7):
    """Get a batch of choux in hand, always the same one."""
    place.practice.begin("choux", level, number)
    wait(person, place)


def cause_name(place) -> str:
    """Return the name of the cause that is hidden in the batch in hand."""
    play = place.practice.play
    return next(line.name for line in play.causes() if line.cause == play.case.causes[0])


def right_reason(place) -> int:
    """Return the number of the chain that is right."""
    play = place.practice.play
    why = play.family.causes[play.case.causes[0]].why
    return next(card.number for card in play.reasons() if len(card.links) == len(why) and card.links[0] == why[0])


def test_a_digit_presses_nothing_while_a_batch_is_made_ready(person, place):
    """A second digit at once begins no other batch: the cards that digits pressed are gone."""
    QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_2)
    job = place.practice.job
    assert job is not None
    QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_1)
    assert place.practice.job is job
    wait(person, place)
    assert place.practice.play.case.key.family == "choux"


def test_a_batch_is_begun_looked_at_and_marked_with_the_mouse(person, place):
    """A learner presses a level, a family, the program's own questions, the cause and its chain, and passes."""
    person.click(card(person, "Common and clear"))
    person.click(card(person, "Choux"))
    wait(person, place)
    assert place.at == "round"
    play = place.practice.play
    for sign in play.case.program.asked:
        ask = next(line.ask for line in play.looks() if line.sign == sign)
        if any(c.title == ask and c.isVisible() for c in person.window.findChildren(Card)):
            person.click(card(person, ask))
    person.click("Name the cause")
    person.click(card(person, cause_name(place)))
    assert person.sees("Why does it come out so?")
    number = right_reason(place)
    person.click(place.page.numbered[number - 1])
    assert place.at == "marked"
    points = {point.id: point for point in place.practice.marks.points}
    assert points["cause"].full
    assert points["reason"].full
    assert person.sees(f"{place.practice.marks.total} marks of 100")


def card(person, title: str) -> Card:
    """Return the card of that title on show."""
    return next(c for c in person.window.findChildren(Card) if c.title == title and c.isVisible())


def test_a_batch_is_found_out_about_by_keyboard_alone(person, place):
    """Digits, mnemonics, typing and Enter do all of it."""
    place.take_focus()
    person.press(Qt.Key.Key_2)
    wait(person, place)
    assert place.at == "round"
    assert place.practice.play.story().family == "choux"
    line = next(line for line in place.practice.play.looks() if not line.done)
    person.press(Qt.Key.Key_L, ALT)
    assert isinstance(QApplication.focusWidget(), SearchField)
    person.type(line.ask)
    person.press(Qt.Key.Key_Return)
    assert line.sign in place.practice.play.state.looks
    assert isinstance(QApplication.focusWidget(), Heading)
    person.press(Qt.Key.Key_N, ALT)
    assert place.at == "name"
    person.type(cause_name(place))
    person.press(Qt.Key.Key_Return)
    assert place.at == "reason"
    person.press(Qt.Key(ord(str(right_reason(place)))))
    assert place.at == "marked"
    person.press(Qt.Key.Key_Left, ALT)
    assert place.at == "start"


def test_a_look_says_what_it_showed_and_what_it_cost(person, place):
    """What was looked at moves from what can be looked at to what was seen, and the minutes go down."""
    in_hand(person, place)
    play = place.practice.play
    before = play.tally()
    line = next(line for line in play.looks() if not line.done and line.minutes > 0)
    person.click(card(person, line.ask))
    after = play.tally()
    shown = next(one for one in play.looks() if one.sign == line.sign).shown
    assert after.minutes == before.minutes + line.minutes
    assert person.sees(after.say)
    assert QApplication.focusWidget().text() == shown.say
    assert not any(c.title == line.ask and c.isVisible() for c in person.window.findChildren(Card))


def test_answers_with_a_drawing_are_drawn(person, place):
    """What a look showed is drawn where the rule base has a drawing, with words that say the same."""
    in_hand(person, place)
    play = place.practice.play
    for line in play.looks():
        if not line.done and play.look(line.sign).shown.drawing is not None:
            break
    place.refresh()
    person.settle()
    shown = next(one for one in play.looks() if one.sign == line.sign).shown
    drawn = [d.accessibleName() for d in person.window.findChildren(Drawing) if d.isVisible()]
    assert f"Drawing: {shown.say}" in drawn


def test_a_remedy_can_be_taken_before_the_cause_is_named(person, place):
    """A remedy costs its minutes, says what came of it, and the batch goes on."""
    in_hand(person, place)
    play = place.practice.play
    person.click("Take a remedy")
    line = play.remedies()[0]
    before = play.tally().minutes
    person.click(card(person, line.name))
    assert place.at == "round"
    assert play.step == LOOKING
    assert play.tally().minutes == before + line.minutes
    assert person.sees(play.taken()[0].say)
    person.click("Take a remedy")
    assert not card(person, line.name).isEnabled()


def test_a_hard_batch_asks_for_a_second_cause(person, place):
    """Where there may be two mistakes, two can be named, and Back takes the first one back."""
    in_hand(person, place, level=4)
    play = place.practice.play
    person.click("Name the cause")
    first, second = play.causes()[0], play.causes()[1]
    person.click(card(person, first.name))
    assert person.sees("Is there a second one?")
    person.click("Back")
    assert person.sees("What is the cause?")
    person.click(card(person, first.name))
    person.click(card(person, second.name))
    assert (play.state.cause, play.state.also) == (first.cause, second.cause)
    assert person.sees(f"You named: {first.name} and {second.name}")


def test_a_batch_left_is_kept_in_hand(person, place):
    """Going away loses nothing: the start offers to go on."""
    in_hand(person, place)
    line = next(line for line in place.practice.play.looks() if not line.done)
    place.page.look(line.sign)
    person.settle()
    person.click("Back")
    assert place.at == "start"
    person.click("Amounts")
    person.click("Practice")
    person.click("Go on with the batch in hand")
    assert place.at == "round"
    assert place.practice.play.state.looks == (line.sign,)


def test_making_a_batch_ready_can_be_stopped(person, place):
    """While a batch is made ready the window says so and offers to stop; stopped, all is as before."""
    place.practice.begin("choux", 1, 7)
    person.settle()
    panel = next(p for p in person.window.findChildren(ProgressPanel) if p.isVisible())
    person.click(panel.stop)
    wait(person, place)
    assert place.at == "start"
    assert place.practice.round is None


def test_the_marks_say_what_would_have_been_best(person, place):
    """A learner who looks at nothing is shown the question that was worth asking, and why."""
    in_hand(person, place)
    play = place.practice.play
    wrong = next(line for line in play.causes() if line.cause not in play.case.causes)
    person.click("Name the cause")
    person.click(card(person, wrong.name))
    person.click(place.page.numbered[0])
    marks = place.practice.marks
    assert not marks.passed
    assert person.sees(marks.said)
    assert marks.steps
    assert person.sees(marks.steps[-1].best_ask)
    assert person.sees(marks.steps[-1].why)


def test_without_a_rule_base_practice_says_what_to_do(open_window, tmp_path):
    """Broken rule files leave practice with nothing, and it says where to look."""
    (tmp_path / "rules").mkdir()
    person = open_window(rules=tmp_path / "rules")
    person.click("Practice")
    assert person.sees("nothing to practise with")


def test_a_family_that_cannot_be_read_is_said_and_the_rest_can_be_practised(person, place, monkeypatch):
    """A broken family shows what is wrong in a strip; nothing else is lost."""
    broken = Shelf(place.desk.interview.shelf.folder)
    monkeypatch.setattr(place.desk.interview, "shelf", broken)
    place.practice.begin("no-such-family", 1, 7)
    wait(person, place)
    assert person.window.shown_strips() == ["That could not be made ready."]
    assert place.at == "start"
    in_hand(person, place)
    assert place.at == "round"


def test_many_problems_in_the_rules_leave_room_for_the_page(person, place, monkeypatch):
    """A strip says how many there are, shows the first, and where all of them stand."""
    problems = [Problem(Place(f"rules/choux/causes/c{n}.yaml", n), "c", "it is wrong", "mend it") for n in range(1, 31)]

    def fail(_family: str) -> None:
        raise RuleBaseError(problems)

    monkeypatch.setattr(place.desk.interview.shelf, "reasoner", fail)
    place.practice.begin("choux", 1, 7)
    wait(person, place)
    (strip,) = person.window.findChildren(ErrorStrip)
    said = " ".join(text.text() for text in strip.findChildren(QLabel))
    assert "Problems in the rule files: 30" in said
    assert "c1.yaml" in said
    assert "c2.yaml" not in said
    assert strip.height() < person.window.height() / 3


def test_units_hold_in_a_batch_that_is_in_hand(person, place):
    """Degrees chosen in the settings are those of the looks at once, and what was done stands."""
    in_hand(person, place)
    assert any("°C" in c.title or "°C" in c.accessibleDescription() for c in person.window.findChildren(Card))
    line = next(line for line in place.practice.play.looks() if not line.done)
    place.page.look(line.sign)
    person.desk.set_settings(replace(person.desk.settings, fahrenheit=True))
    person.settle()
    shown = [c for c in place.page.findChildren(Card) if c.isVisible()]
    assert any("°F" in c.title or "°F" in c.accessibleDescription() for c in shown)
    assert not any("°C" in c.title or "°C" in c.accessibleDescription() for c in shown)
    assert place.practice.play.state.looks == (line.sign,)


def test_a_program_that_ends_while_something_is_made_ends_well():
    """A thread that still runs when the interpreter ends is waited for; Qt would end the process on it."""
    program = (
        "import threading\n"
        "from PySide6.QtWidgets import QApplication\n"
        "from ui.practice.job import Job\n"
        "app = QApplication([])\n"
        "begun = threading.Event()\n"
        "def work():\n"
        "    begun.set()\n"
        "    while True:\n"
        "        threading.Event().wait(0.01)\n"
        "        yield 1\n"
        "Job(work, 1).begin()\n"
        "begun.wait()\n"
    )
    ended = subprocess.run([sys.executable, "-c", program], cwd=ROOT, capture_output=True, text=True, timeout=60)
    assert ended.returncode == 0, ended.stderr
