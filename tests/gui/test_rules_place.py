"""The rule base is read, searched and followed in the window, and an edit is seen there at once."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest
from PySide6.QtCore import Qt

from ui.rules_place import RulesPlace, Shown
from ui.widgets.cards import Card, Fold

SMALL = Path(__file__).parents[1] / "support" / "small_rules"
DIAL = "The dial stood too high"


@pytest.fixture
def rules(tmp_path) -> Path:
    """A rules folder that can be written to."""
    folder = tmp_path / "rules"
    shutil.copytree(SMALL, folder)
    return folder


@pytest.fixture
def reader(open_window, rules, qtbot):
    """Somebody at the Rule base place of a small rule base."""
    person = open_window(rules)
    person.click(person.window.buttons["rules"])
    qtbot.waitUntil(lambda: not place(person).busy)
    person.settle()
    return person


def place(person) -> RulesPlace:
    """The place on show."""
    found = person.window.stack.currentWidget()
    assert isinstance(found, RulesPlace)
    return found


def card(person, title: str) -> Card:
    """The card on show with a title."""
    return next(c for c in person.window.findChildren(Card) if c.isVisible() and c.title == title)


def titles(person) -> list[str]:
    """The titles of the cards on show."""
    return [c.title for c in person.window.findChildren(Card) if c.isVisible()]


def edit(path: Path, old: str, new: str) -> None:
    """Save a file with some of its words changed."""
    text = path.read_text("utf-8")
    assert old in text
    path.write_text(text.replace(old, new), "utf-8")


# -- reading and following ---------------------------------------------------------------------


def test_typing_narrows_the_list(reader):
    """Each letter leaves what holds every word typed, wherever in the entry it stands."""
    everything = len(titles(reader))
    place(reader).list.search.setFocus()
    reader.type("dial")
    assert set(titles(reader)) >= {DIAL, "The dial stood too low"}
    assert len(titles(reader)) < everything
    reader.type(" soft")
    assert titles(reader) == [DIAL]


def test_one_kind_at_a_time(reader):
    """The kinds say how many there are of each, and show them alone."""
    reader.click("Causes (4)")
    assert sorted(titles(reader)) == sorted(
        [DIAL, "The dial stood too low", "The slice was left in too long", "The bread was old and dry"]
    )


def test_nothing_found_says_what_to_do(reader):
    """A word that stands nowhere is answered with advice."""
    place(reader).list.search.setFocus()
    reader.type("zabaglione")
    assert titles(reader) == []
    assert reader.sees("Nothing here matches “zabaglione”. Try fewer letters, or All.")


def test_enter_takes_the_only_one(reader):
    """With one entry left, Enter opens it."""
    place(reader).list.search.setFocus()
    reader.type("dial soft")
    reader.press(Qt.Key.Key_Return)
    assert reader.sees(DIAL)
    assert place(reader).at == Shown("toast", "cause", "dial_high")


def test_cause_to_sign_to_cause_and_back(reader):
    """A cause says how often it shows as what; its sign says which causes show it; Back goes the same way."""
    reader.click(card(reader, DIAL))
    heat = card(reader, "How hot is the slot?")
    assert "nearly always" in heat.note
    reader.click(heat)
    assert {DIAL, "The slice was left in too long"} <= set(titles(reader))
    reader.click(card(reader, "The slice was left in too long"))
    assert reader.sees("Among batches that go wrong it is met now and then.")
    reader.press(Qt.Key.Key_Left, Qt.KeyboardModifier.AltModifier)
    reader.click("Back")
    assert place(reader).at.id == "dial_high"
    reader.click("Back")
    assert place(reader).list is not None
    assert card(reader, DIAL).hasFocus()


def test_remedies_rivals_and_sources_are_led_to(reader):
    """From a cause one press leads to what helps, to its rivals, and to its sources."""
    for title, kind in (
        ("Scrape the black off", "remedy"),
        ("The slice was left in too long", "cause"),
        ("Common practice of the trade", "source"),
    ):
        place(reader).open(Shown("toast", "cause", "dial_high"))
        _open_all(reader)
        reader.click(card(reader, title))
        assert place(reader).at.kind == kind


def test_a_remedy_says_which_causes_it_helps(reader):
    """Read backwards: from the remedy to the causes."""
    place(reader).open(Shown("toast", "remedy", "scrape_it"))
    _open_all(reader)
    assert {DIAL, "The slice was left in too long"} <= set(titles(reader))


def test_a_rule_says_when_it_stays_silent_and_why(reader):
    """A rule names what it waits for, what follows, and the cases that are close but not meant, with the reason."""
    place(reader).open(Shown("toast", "rule", "out_on_the_bell"))
    _open_all(reader)
    assert "only mean that the slot was cool" in card(reader, "Was a timer set? It was not set.").note
    reader.click(card(reader, "What share of its weight did the bread lose? 20 %"))
    assert place(reader).at.id == "loss"
    place(reader).open(Shown("toast", "rule", "second_time_goes_fast"))
    _open_all(reader)
    assert "no second time to watch" in card(reader, "Not to be done: Toast the slice once more").note
    assert reader.sees("The batch is at: Spreading")


def test_where_it_stands_is_said(reader):
    """An entry names its file and line, so that whoever edits finds it."""
    place(reader).open(Shown("toast", "cause", "dial_high"))
    assert reader.sees("Stands in toast/causes/dial_high.yaml, line ")


def test_text_of_the_rules_is_never_markup(reader, rules, qtbot):
    """What looks like markup in a rule file is shown as it was typed."""
    edit(rules / "toast/causes/dial_high.yaml", f"name: {DIAL}", 'name: "<b>Dial</b> & co"')
    qtbot.waitUntil(lambda: "<b>Dial</b> & co" in titles(reader))


# -- a case ------------------------------------------------------------------------------------


def test_try_this_case(reader):
    """A case written beside a cause opens as an interview whose verdict is that cause."""
    place(reader).open(Shown("toast", "cause", "dial_high"))
    reader.click("Try case 1")
    assert reader.window.at == "case"
    assert reader.interview.step == "verdict"
    assert reader.sees(DIAL)
    assert set(reader.interview.state.answers) == {"colour", "heat"}
    reader.click("Back")
    assert reader.interview.state.current in ("colour", "heat")


def test_trying_a_case_keeps_the_one_in_hand(reader):
    """The case that was open can be taken up again afterwards."""
    reader.click(reader.window.buttons["case"])
    reader.desk.act(lambda: reader.interview.choose_family("toast"))
    reader.desk.act(lambda: reader.interview.choose_fault("white"))
    before = reader.desk.case_id
    reader.click(reader.window.buttons["rules"])
    place(reader).open(Shown("toast", "cause", "dial_high"))
    reader.click("Try case 1")
    assert before in [case.id for case in reader.desk.unfinished()]


# -- edits -------------------------------------------------------------------------------------


def test_a_save_is_seen(reader, rules, qtbot):
    """An entry on show changes by itself when its file is saved."""
    place(reader).open(Shown("toast", "cause", "dial_high"))
    edit(rules / "toast/causes/dial_high.yaml", DIAL, "Somebody turned the dial right up")
    qtbot.waitUntil(lambda: reader.sees("Somebody turned the dial right up"))
    assert reader.sees("Read again at ")


def test_a_replaced_file_is_seen_twice(reader, rules, qtbot):
    """Editors that put a new file in place of the old one are followed, the second time too."""
    path = rules / "toast/causes/dial_high.yaml"
    place(reader).open(Shown("toast", "cause", "dial_high"))
    for words in ("First new words", "Second new words"):
        fresh = path.with_suffix(".new")
        fresh.write_text(re.sub("name: .*", f"name: {words}", path.read_text("utf-8")), "utf-8")
        fresh.replace(path)
        qtbot.waitUntil(lambda words=words: reader.sees(words))


def test_a_new_file_is_seen(reader, rules, qtbot):
    """A cause written into a file of its own appears in the list."""
    text = (rules / "toast/causes/dial_high.yaml").read_text("utf-8")
    made = text.replace("cause: dial_high", "cause: dial_loose").replace(DIAL, "The dial is loose on its stem")
    (rules / "toast/causes/dial_loose.yaml").write_text(made, "utf-8")
    qtbot.waitUntil(lambda: "The dial is loose on its stem" in titles(reader))


def test_a_mistake_is_shown_by_file_and_line_and_the_last_good_rules_stay(reader, rules, qtbot):
    """A slip is named at its line; what was read before is still shown and used; mended, the message goes."""
    path = rules / "toast/causes/dial_high.yaml"
    good = path.read_text("utf-8")
    line = good.splitlines().index("stage: brown") + 1
    place(reader).open(Shown("toast", "cause", "dial_high"))
    path.write_text(good.replace("stage: brown", "stage: browned"), "utf-8")
    qtbot.waitUntil(lambda: reader.sees(f"dial_high.yaml, line {line}"))
    assert reader.sees("unknown stage 'browned'")
    assert reader.sees("The rules read before stay in force.")
    assert reader.sees(DIAL)
    reader.desk.act(lambda: reader.interview.choose_family("toast"))
    assert [fault.fault for fault in reader.interview.faults()][:1]
    path.write_text(good, "utf-8")
    qtbot.waitUntil(lambda: not place(reader).problems)
    reader.settle()
    assert not reader.sees("unknown stage")


def test_the_open_case_goes_on_with_the_new_rules(reader, rules, qtbot):
    """Answers that are still known are kept, and the question shows the new words."""
    reader.desk.act(lambda: reader.interview.choose_family("toast"))
    reader.desk.act(lambda: reader.interview.choose_fault("burnt"))
    reader.desk.act(lambda: reader.interview.show("heat"))
    edit(rules / "toast/signs/heat.yaml", "How hot is the slot?", "What does the probe in the slot read?")
    qtbot.waitUntil(lambda: reader.sees("The open case goes on with the new rules."))
    assert reader.interview.question().ask == "What does the probe in the slot read?"
    assert reader.interview.state.fault == "burnt"


def test_a_save_while_the_one_before_is_read_is_seen_too(reader, rules, qtbot):
    """With a case open, a second save that falls into the reading of the first is read when that is done."""
    reader.desk.act(lambda: reader.interview.choose_family("toast"))
    place(reader).open(Shown("toast", "cause", "dial_high"))
    place(reader).watch.changed.disconnect()
    path = rules / "toast/causes/dial_high.yaml"
    edit(path, DIAL, "Somebody turned the dial up")
    place(reader).read_again()
    # The thread has read the first save, and the window has not heard of it yet.
    place(reader)._background._thread.submit(int).result()
    edit(path, "Somebody turned the dial up", "Somebody turned the dial down")
    place(reader).read_again()
    qtbot.waitUntil(lambda: reader.sees("Somebody turned the dial down"))


def test_the_open_case_goes_on_with_what_it_had(reader, rules, qtbot):
    """When the new rules no longer know what was said, the open case keeps its rules; the next has the new ones."""
    reader.desk.act(lambda: reader.interview.choose_family("toast"))
    reader.desk.act(lambda: reader.interview.choose_fault("hard"))
    edit(rules / "common/causes/old_bread.yaml", "fault: hard", "fault: tough")
    edit(rules / "toast/faults.yaml", "  hard:\n", "  tough:\n")
    qtbot.waitUntil(lambda: reader.sees("The open case goes on with the rules it began with."))
    assert reader.interview.complaint() == "The toast is hard to bite"
    reader.desk.act(reader.interview.to_verdict)
    assert reader.interview.verdict().cause == "old_bread"
    reader.desk.new_case()
    reader.desk.act(lambda: reader.interview.choose_family("toast"))
    assert "tough" in [fault.fault for fault in reader.interview.faults()]


def test_read_again_by_hand(reader, rules, qtbot):
    """Where saves are not noticed, the button reads the files."""
    place(reader).watch.changed.disconnect()
    edit(rules / "toast/causes/dial_high.yaml", DIAL, "The dial was at its end")
    reader.click("Read again")
    qtbot.waitUntil(lambda: "The dial was at its end" in titles(reader))


def test_an_entry_that_is_gone(reader, rules, qtbot):
    """When what is on show is removed, that is said, and the list stands there."""
    place(reader).open(Shown("toast", "rule", "heat_burns_edges"))
    edit(rules / "toast/rules/said.yaml", "rule: heat_burns_edges", "rule: called_otherwise")
    qtbot.waitUntil(lambda: reader.sees("What was shown here is no longer in the rule base."))


def test_a_rule_base_that_cannot_be_opened(open_window, rules, qtbot):
    """With rules that were broken from the start the place shows why, and Read again opens them once mended."""
    good = (rules / "vocabulary.yaml").read_text("utf-8")
    (rules / "vocabulary.yaml").write_text("frequency: {", "utf-8")
    person = open_window(rules)
    person.click(person.window.buttons["rules"])
    assert person.sees("The rule files cannot be used")
    assert person.sees("vocabulary.yaml, line ")
    (rules / "vocabulary.yaml").write_text(good, "utf-8")
    person.click("Read again")
    qtbot.waitUntil(lambda: person.sees("Rule base") and not place(person).busy)
    qtbot.waitUntil(lambda: DIAL in titles(person))


def test_a_family_broken_from_the_start(open_window, rules, qtbot):
    """A family that cannot be read names its problems here, and is there once they are mended."""
    path = rules / "toast/causes/dial_high.yaml"
    good = path.read_text("utf-8")
    path.write_text(good.replace("how_common: 4", "how_common: often"), "utf-8")
    person = open_window(rules)
    person.click(person.window.buttons["rules"])
    qtbot.waitUntil(lambda: person.sees("dial_high.yaml, line "))
    path.write_text(good, "utf-8")
    qtbot.waitUntil(lambda: DIAL in titles(person))


def _open_all(person) -> None:
    for fold in person.window.findChildren(Fold):
        if fold.isVisible():
            fold.setChecked(True)
    person.settle()
