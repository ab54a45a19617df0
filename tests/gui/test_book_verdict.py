"""From a verdict into the case book and back: finished cases go in, past ones and what was learnt come out."""

from __future__ import annotations

from dataclasses import replace

from book_person import case, fold, held, press, ready, to_verdict, write

from troubleshoot.casebook.record import Outcome
from ui.widgets.cards import Card


def test_a_finished_case_goes_into_the_book_when_a_new_one_begins(open_window):
    person = open_window(kitchen="boathouse", role="trainee")
    to_verdict(person)
    press(person, "New case")
    (record,) = held()
    assert (record.family, record.fault, record.kitchen, record.role) == (
        "choux",
        "paste_runny",
        "boathouse",
        "trainee",
    )
    assert [(a.sign, a.answer) for a in record.answers] == [("paste_hang", "runs_off")]
    assert person.interview.step == "family"


def test_a_case_taken_up_again_goes_in_with_the_times_it_had(open_window):
    """Closed after an answer and taken up in another window, the case keeps when it began and when that was said."""
    person = open_window()
    person.to_question("paste_runny")
    person.desk.act(lambda: person.interview.volunteer("paste_hang", "runs_off"))
    begun, said = person.interview.state.begun, person.interview.state.times["paste_hang"]
    person.window.close()
    again = open_window()
    again.desk.take_up(again.desk.unfinished()[0])
    again.wait(lambda: again.interview.step == "question")
    again.desk.act(again.interview.to_verdict)
    again.settle()
    press(again, "New case")
    (record,) = held()
    assert (record.begun, record.answers[0].at) == (begun, said)
    assert begun < said < record.finished


def test_a_case_put_in_by_hand_is_not_put_in_twice(person):
    to_verdict(person)
    press(person, "Put in the book")
    assert person.sees("Put in the case book")
    press(person, "New case")
    assert len(held()) == 1


def test_a_case_without_a_verdict_does_not_go_in(person):
    person.to_question("paste_runny")
    person.desk.new_case()
    ready(person)
    assert held() == ()


def test_a_book_that_cannot_be_opened_does_not_stop_the_interview(open_window, own_folders):
    (own_folders / "data").mkdir()
    (own_folders / "data" / "book.db").write_bytes(b"no book at all")
    person = open_window()
    to_verdict(person)
    press(person, "New case")
    assert any("not in the book yet" in strip for strip in person.window.shown_strips())
    assert person.interview.step == "family"
    assert len(list((own_folders / "data" / "waiting").glob("*.json"))) == 1
    assert (own_folders / "data" / "book.db").read_bytes() == b"no book at all"


def test_a_new_case_heeds_the_book_and_says_so(open_window):
    write(*(case(n, outcome=Outcome.RIGHT, true="egg_overdose") for n in range(12)))
    person = open_window()
    person.desk.act(lambda: person.interview.choose_family("choux"))
    ready(person)
    to_verdict(person)
    assert person.sees("in 12 of 12 confirmed cases")
    person.desk.set_settings(replace(person.desk.settings, learn=False))
    person.settle()
    assert not person.sees("confirmed cases")


def test_seen_before(open_window):
    """The verdict shows the past case, and pressing it opens it in the book."""
    write(case(1, outcome=Outcome.RIGHT, true="egg_overdose", done=("bake_drop_puffs",)))
    person = open_window()
    to_verdict(person)
    person.click(fold(person, "Seen before?"))
    ready(person)
    assert person.sees("Likest first")
    (card,) = [c for c in person.page.findChildren(Card) if "alike" in c.note]
    assert "What worked" in card.note
    press(person, card)
    assert person.window.at == "book"
    assert person.sees("Was the verdict right?")


def test_nothing_seen_before(open_window):
    person = open_window()
    to_verdict(person)
    person.click(fold(person, "Seen before?"))
    ready(person)
    assert person.sees("Nothing like this is in the case book")
