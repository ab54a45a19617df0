"""A learner's name, their record, what comes next for them, and records that cannot be read."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import practice_pages
import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QFileDialog

from troubleshoot.practice import schedule
from troubleshoot.practice.record import LearnerStore
from ui.practice.desk import DUE
from ui.widgets.cards import Card

ALT = Qt.KeyboardModifier.AltModifier
NAME = "Mo 7"


@pytest.fixture
def place(person):
    """The place of practice, gone to with the mouse."""
    person.click("Practice")
    return person.window.stack.currentWidget()


@pytest.fixture
def known(person):
    """The place with a learner who has finished one batch, the cause wrong."""
    place = practice_pages.learner(person.window)
    person.settle()
    return place


def card(person, title: str) -> Card:
    """Return the card of that title on show."""
    return next(c for c in person.window.findChildren(Card) if c.title == title and c.isVisible())


def test_a_name_is_given_by_keyboard_alone(person, place):
    """A mnemonic reaches the field, Enter takes the name, and the page says who practises."""
    person.press(Qt.Key.Key_M, ALT)
    person.type(NAME)
    person.press(Qt.Key.Key_Return)
    assert place.practice.learner == NAME
    assert person.sees(f"Practising: {NAME}")
    assert place.practice.level == DUE


def test_without_a_name_nothing_is_kept(person, place):
    """A batch finished under no name leaves no file."""
    practice_pages.marked(person.window)
    person.settle()
    assert place.practice.marks.code
    assert not place.practice.store.folder.exists()


def test_a_name_that_cannot_be_is_said(person, place):
    """An empty name is refused with what to write instead."""
    person.click("Practise under this name")
    assert place.practice.learner == ""
    assert person.window.shown_strips() == ["That could not be done."]


def test_a_finished_batch_is_in_the_record(person, known):
    """What was finished is on disk, once, and the start says so."""
    rounds = LearnerStore().rounds(NAME)
    assert [one.code for one in rounds] == [known.practice.play.case.key.code]
    assert person.sees("1 batch, 0 passed")


def test_a_learner_is_offered_again_and_pressed(person, known):
    """Whoever practised here before presses their name."""
    person.click("Somebody else practises")
    assert person.sees("Who practises?")
    person.click(f"Practise as {NAME}")
    assert known.practice.learner == NAME


def test_a_batch_left_unfinished_is_there_again_after_a_crash(person, place, open_window):
    """Another window, begun after the first was cut off, goes on where the learner was."""
    place.practice.use(NAME)
    practice_pages.batch(person.window, 2)
    looks = place.practice.play.state.looks
    assert len(looks) == 2
    again = open_window()
    again.click("Practice")
    other = again.window.stack.currentWidget()
    again.press(Qt.Key.Key_M, ALT)
    again.type(NAME)
    again.press(Qt.Key.Key_Return)
    practice_pages.wait(other)
    again.settle()
    assert other.practice.play.state.looks == looks
    again.click("Go on with the batch in hand")
    assert other.at == "round"


def test_what_comes_next_follows_the_schedule(person, known, monkeypatch):
    """The card of what comes next begins the case that the scheduler names, and says why without naming a cause."""
    now = datetime.now(UTC) + timedelta(days=400)

    class Later(datetime):
        @classmethod
        def now(cls, tz=None):
            return now

    monkeypatch.setattr("ui.practice.desk.datetime", Later)
    rounds = known.practice.rounds()
    wanted = schedule.next_up(person.interview.shelf.reasoner("choux"), rounds, now)
    assert wanted.why == "due"
    known.go("start")
    person.settle()
    person.click(card(person, "What comes next for you"))
    person.click(card(person, "Choux"))
    practice_pages.wait(known)
    person.settle()
    assert known.practice.play.case.key == wanted.key
    assert person.sees(wanted.say)


def test_pairs_that_are_due_are_counted_on_the_tiles(person, known, monkeypatch):
    """A family with something due says how many."""
    now = datetime.now(UTC) + timedelta(days=400)

    class Later(datetime):
        @classmethod
        def now(cls, tz=None):
            return now

    monkeypatch.setattr("ui.practice.learner.datetime", Later)
    known.go("start")
    person.settle()
    assert card(person, "Choux").note == "1 due"
    assert card(person, "Shortbread").note == ""


def test_a_line_that_cannot_be_read_is_said_and_left(person, known):
    """A spoilt line stays in the file, the rest counts, and the learner is told."""
    path = next(known.practice.store.folder.glob("*.jsonl"))
    with path.open("a", encoding="utf-8") as stream:
        stream.write("{spoilt\n")
    person.click("Somebody else practises")
    person.click(f"Practise as {NAME}")
    practice_pages.wait(known)
    person.settle()
    assert person.sees("could not be read: 1. They stay in the file")
    assert "{spoilt" in path.read_text(encoding="utf-8")
    assert len(known.practice.rounds()) == 1


def test_an_unfinished_batch_that_cannot_be_read_is_kept_aside_and_said(person, known):
    """A spoilt file of the batch in hand is moved aside, and another batch can be begun."""
    person.click("Somebody else practises")
    folder = known.practice.store.folder
    name = next(folder.glob("*.jsonl")).stem
    (folder / f"{name}.open.json").write_text("{spoilt", encoding="utf-8")
    person.click(f"Practise as {NAME}")
    practice_pages.wait(known)
    person.settle()
    assert person.sees("It was kept aside; begin another.")
    assert [p.read_text(encoding="utf-8") for p in folder.glob("*.unreadable*")] == ["{spoilt"]


def test_a_record_without_a_readable_head_is_said_and_left(person, place):
    """A file of which not even the name can be read is not thrown away."""
    folder = place.practice.store.folder
    folder.mkdir(parents=True)
    (folder / "spoilt.jsonl").write_text("?\n", encoding="utf-8")
    place.go("start")
    person.settle()
    assert person.sees("1 record cannot be read")
    assert (folder / "spoilt.jsonl").exists()


def test_a_record_that_cannot_be_written_is_said_and_the_batch_goes_on(person, place, monkeypatch):
    """A full disk is said in a strip; the look still shows what it showed."""
    place.practice.use(NAME)

    def full(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(LearnerStore, "keep_open", full)
    practice_pages.batch(person.window, 1)
    person.settle()
    assert len(place.practice.play.state.looks) == 1
    assert any("No space left" in strip for strip in person.window.shown_strips())


def test_a_record_is_taken_along_and_in_again(person, known, tmp_path, monkeypatch):
    """Saved as a file and taken in elsewhere, the rounds are the same and none is there twice."""
    file = tmp_path / "record.json"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(file), ""))
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *_: (str(file), ""))
    before = known.practice.rounds()
    person.click("Your record")
    person.click("Save the record as a file")
    person.click("Add a record that was saved as a file")
    assert known.practice.rounds() == before
    assert person.sees(f"Added to the record of {NAME}: 0 batches.")
    known.practice.store.forget(NAME)
    person.click("Add a record that was saved as a file")
    assert known.practice.rounds() == before


def test_a_file_that_is_no_record_changes_nothing(person, known, tmp_path, monkeypatch):
    """Something else than a record is refused, and said."""
    file = tmp_path / "shopping.json"
    file.write_text("[1, 2]", encoding="utf-8")
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *_: (str(file), ""))
    before = known.practice.rounds()
    person.click("Your record")
    person.click("Add a record that was saved as a file")
    assert person.window.shown_strips() == ["That could not be done."]
    assert known.practice.rounds() == before


def test_forgetting_asks_first_and_keeping_is_the_way_out(person, known):
    """Forget me asks; No keeps everything; Delete leaves nothing of the learner."""
    person.click("Your record")
    person.click("Forget me: delete all that is kept")
    assert QApplication.focusWidget().accessibleName() == "Keep it"
    person.press(Qt.Key.Key_Return)
    assert len(known.practice.rounds()) == 1
    person.click("Forget me: delete all that is kept")
    person.click("Delete it all")
    assert known.at == "start"
    assert known.practice.store.learners() == ()
    assert not list(known.practice.store.folder.glob("*.jsonl"))
