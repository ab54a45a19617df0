"""Whole cases, as a person works through them."""

from __future__ import annotations

import re
import unicodedata

import pypdf
import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication, QFileDialog

from troubleshoot.advice import report
from ui.widgets.basic import NumberEdit
from ui.widgets.chain import ChainBox
from ui.widgets.remedy import RemedyCard

MOST = 30


def answer_all_by_mouse(person, answer):
    """Press answers until the verdict; return the signs asked."""
    asked = []
    for _ in range(MOST):
        if person.interview.step != "question":
            return asked
        view = person.page.view
        asked.append(view.sign)
        given = answer(view.sign)
        if isinstance(given, float | int):
            person.page.number.setFocus()
            person.type(f"{given:g}")
            person.click("Go on")
        elif given in person.page.cards:
            person.click(person.page.cards[given])
        else:
            person.click("Can't tell")
    raise AssertionError("no verdict came")


def test_whole_case_by_mouse(person, knows):
    """Tile, complaint, answers, verdict: the cause, its rescue with steps, and the way there."""
    cause, fault, answer = knows
    person.click(person.page.tiles[[t.family for t in person.interview.tiles()].index("choux")])
    assert person.interview.step == "fault"
    say = next(line.say for line in person.interview.faults() if line.fault == fault)
    person.click(say)
    asked = answer_all_by_mouse(person, answer)
    assert asked
    verdict = person.interview.verdict()
    assert verdict.cause == cause
    assert person.sees(verdict.headline)
    assert person.sees(verdict.sure)
    card = person.page.findChild(RemedyCard)
    assert card.advice == verdict.rescue[0]
    assert all(person.sees(step) for step in verdict.rescue[0].steps)
    assert [box.text for box in person.page.findChildren(ChainBox)] == [link.text for link in verdict.chain]


def test_whole_case_by_keyboard(person, knows):
    """The same without a mouse: digits, Enter, 0, and letters on buttons."""
    cause, fault, answer = knows
    person.press(str([t.family for t in person.interview.tiles()].index("choux") + 1))
    assert person.interview.step == "fault"
    say = next(line.say for line in person.interview.faults() if line.fault == fault)
    person.type(say)
    person.press(Qt.Key.Key_Return)
    assert person.interview.state.fault == fault
    for _ in range(MOST):
        if person.interview.step != "question":
            break
        view = person.page.view
        given = answer(view.sign)
        if isinstance(given, float | int):
            person.press(Qt.Key.Key_U, Qt.KeyboardModifier.AltModifier)
            person.type(f"{given:g}")
            person.press(Qt.Key.Key_Return)
            continue
        digit = person.page.cards[given].digit if given in person.page.cards else "0"
        person.press(digit)
        assert person.interview.state.current == view.sign, "a digit only picks"
        person.press(Qt.Key.Key_Return)
    assert person.interview.step == "verdict"
    assert person.interview.verdict().cause == cause
    person.press(Qt.Key.Key_N, Qt.KeyboardModifier.AltModifier)
    person.qtbot.waitUntil(lambda: person.interview.step == "family")


def test_second_press_of_a_digit_goes_on(person):
    """Pressing the same digit twice picks and goes on."""
    person.to_question("paste_runny")
    sign, first = person.page.view.sign, person.page.view.answers[0].answer
    person.press("1")
    assert person.page.cards[first].isChecked()
    person.press("1")
    assert person.interview.state.answers[sign].answer == first
    assert person.page.view.sign != sign


def test_enter_without_an_answer_says_so(person):
    """Enter goes nowhere before something is picked, and says what to do."""
    person.to_question("paste_runny")
    sign = person.page.view.sign
    person.press(Qt.Key.Key_Return)
    assert person.page.view.sign == sign
    assert not person.interview.state.answers
    assert person.sees("No answer is picked yet.")


@pytest.mark.parametrize("key", ["backspace", "alt-left", "button"])
def test_back_loses_nothing(person, key):
    """Back shows the question before with its answer, in three ways."""
    person.to_question("paste_runny")
    sign, first = person.page.view.sign, person.page.view.answers[0].answer
    person.click(person.page.cards[first])
    if key == "backspace":
        person.press(Qt.Key.Key_Backspace)
    elif key == "alt-left":
        person.press(Qt.Key.Key_Left, Qt.KeyboardModifier.AltModifier)
    else:
        person.click("Back")
    assert person.page.view.sign == sign
    assert person.page.cards[first].isChecked()
    assert person.interview.state.answers[sign].answer == first


def test_backspace_in_a_field_only_edits_it(person):
    """Backspace goes back from anywhere but a field with text in it."""
    person.desk.act(lambda: person.interview.choose_family("choux"))
    person.type("ab")
    person.press(Qt.Key.Key_Backspace)
    assert person.page.search.text() == "a"
    assert person.interview.step == "fault"


def test_an_earlier_answer_is_changed_in_place(person):
    """A line of what was said leads back to its question; another answer replaces the first, nothing else."""
    person.to_question("paste_runny")
    view = person.page.view
    sign, first, second = view.sign, view.answers[0].answer, view.answers[1].answer
    person.click(person.page.cards[first])
    later = person.page.view.sign
    person.click("Can't tell")
    latest = person.page.view.sign
    line = next(line for line in person.interview.answered() if line.sign == sign)
    person.click(f"Change: {line.ask} {line.said}")
    assert person.page.view.sign == sign
    person.click(person.page.cards[second])
    assert person.interview.state.answers[sign].answer == second
    assert person.interview.state.answers[later].cant_tell
    person.click("To the latest question")
    assert person.page.view.sign == latest


def test_the_complaint_is_changed_in_place(person):
    """The complaint among what was said leads back to the complaints and keeps every answer."""
    person.to_question("paste_runny")
    sign = person.page.view.sign
    person.click(person.page.cards[person.page.view.answers[0].answer])
    say = next(line.say for line in person.interview.faults() if line.fault == "paste_runny")
    person.click(f"Change the complaint: {say}")
    assert person.interview.step == "fault"
    assert sign in person.interview.state.answers


def test_cant_tell_throughout(person):
    """Somebody who can tell nothing still comes to a verdict that says it is not settled."""
    person.to_question(None)
    answer_all_by_mouse(person, lambda sign: "cant-tell")
    verdict = person.interview.verdict()
    assert not verdict.settled
    assert person.sees("Not settled. These are still possible:")
    assert person.sees(verdict.settling_test)


def test_ask_me_more(person):
    """An unsettled verdict leads on to another question."""
    person.to_question(None)
    person.click("Verdict as it stands")
    person.click("Ask me more")
    assert person.interview.step == "question"


def test_why_ask_this(person):
    """The question mark and the button open the reason in place, and close it again."""
    person.to_question("paste_runny")
    why = person.interview.why_ask()
    person.press("?")
    assert person.sees(why.sentence)
    assert person.sees(why.lines[0].said)
    person.press(Qt.Key.Key_Escape)
    assert not person.sees(why.sentence)
    person.click("Why ask this?")
    assert person.sees(why.sentence)


def test_beside_the_question(person):
    """What is suspected, how settled it is and what was said stand beside the question, in words and numbers."""
    person.to_question("paste_runny")
    person.click(person.page.cards[person.page.view.answers[0].answer])
    for bar in person.interview.suspects():
        assert person.sees(f"{bar.shown}  {bar.name}")
    assert any(re.match(r"The matter is .+\.", text) for text in person.texts())


def test_search_of_complaints(person):
    """Typing keeps the complaints that hold every word typed, also by the other words for them."""
    person.desk.act(lambda: person.interview.choose_family("choux"))
    every = len(person.page.found())
    person.type("soup")
    found = [card.title for card in person.page.found()]
    words = {line.say: line.words for line in person.interview.faults()}
    assert 0 < len(found) < every
    assert all("soup" in words[say] for say in found)
    person.press(Qt.Key.Key_Escape)
    assert len(person.page.found()) == every
    person.type("zzz")
    assert person.page.found() == []
    assert person.sees("Nothing here matches “zzz”.")


def test_search_then_down_then_enter(person):
    """Down leads from the field to the first complaint found, and Enter takes it."""
    person.desk.act(lambda: person.interview.choose_family("choux"))
    person.type("runny")
    title = person.page.found()[0].title
    person.press(Qt.Key.Key_Down)
    assert QApplication.focusWidget() is person.page.found()[0]
    person.press(Qt.Key.Key_Return)
    fault = next(line.fault for line in person.interview.faults() if line.say == title)
    assert person.interview.state.fault == fault


def test_service_and_pieces(person):
    """The two optional facts reach the remedies: pieces saved, and whether there is time."""
    person.desk.act(lambda: person.interview.choose_family("choux"))
    person.press(Qt.Key.Key_M, Qt.KeyboardModifier.AltModifier)
    person.type("5")
    person.press(Qt.Key.Key_Return)
    person.press(Qt.Key.Key_I, Qt.KeyboardModifier.AltModifier)
    person.type("40")
    person.press(Qt.Key.Key_Tab)
    assert person.interview.state.service_in_min == 5
    assert person.interview.state.batch["pieces"] == 40
    person.desk.act(lambda: person.interview.choose_fault("paste_runny"))
    person.click("Verdict as it stands")
    late = [advice for advice in person.interview.verdict().rescue if advice.in_time is False]
    assert late
    assert person.sees("oo late for service") or any("too late" in s.head.title for s in person.page.sections)


def test_weights_rework_the_amounts_at_once(person):
    """A weight typed into a remedy is put into its steps at once, and the focus stays in the field."""
    person.to_question("paste_runny")
    person.click("Verdict as it stands")
    for section in person.page.sections:
        section.head.setChecked(True)
    person.settle()
    card = next(c for c in person.page.findChildren(RemedyCard) if c.advice.remedy == "stiffen_with_panade")
    before, name = card.advice.steps, card.advice.name
    field = next(e for e in card.findChildren(NumberEdit) if e.accessibleName().startswith("Flour"))
    field.setFocus()
    person.type("600")
    person.press(Qt.Key.Key_Return)
    assert person.interview.state.batch["flour_g"] == 600
    card = next(c for c in person.page.findChildren(RemedyCard) if c.advice.remedy == "stiffen_with_panade")
    assert card.advice.steps != before
    assert card.isVisible()
    assert QApplication.focusWidget().accessibleName().startswith("Flour")
    assert name in QApplication.focusWidget().accessibleName()


def test_new_case_forgets_the_old_one(person):
    """After a verdict, New case begins anew and leaves nothing to take up."""
    person.to_question("paste_runny")
    person.click("Verdict as it stands")
    person.click("New case")
    assert person.interview.step == "family"
    assert person.desk.unfinished() == ()
    assert list(person.desk.store.folder.glob("*.json")) == []


def squeezed(text):
    """Return a text without spaces and ligatures: a page breaks lines where it likes."""
    return re.sub(r"\s+", "", unicodedata.normalize("NFKC", text))


def test_saved_as_pdf(person, tmp_path, monkeypatch):
    """The PDF holds the cause, the steps, the cautions and why, as text."""
    person.to_question("paste_runny")
    person.click("Verdict as it stands")
    path = tmp_path / "out.pdf"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(path), ""))
    person.click("Save as PDF")
    assert person.sees("Saved as")
    text = "".join(page.extract_text() for page in pypdf.PdfReader(path).pages)
    verdict = person.interview.verdict()
    wanted = [
        report.headline(verdict),
        verdict.rescue[0].name,
        verdict.rescue[0].steps[0],
        verdict.chain[0].text,
        "CAUTION",
    ]
    for words in wanted:
        assert squeezed(words) in squeezed(text), words


def test_copied_as_text(person):
    """The clipboard holds the whole verdict as plain text."""
    person.to_question("paste_runny")
    person.click("Verdict as it stands")
    person.click("Copy as text")
    text = QGuiApplication.clipboard().text()
    verdict = person.interview.verdict()
    assert verdict.headline in text
    assert all(step in text for advice in verdict.rescue for step in advice.steps)
    assert "Allergens: " in text


def test_double_click_answers_one_question(person):
    """The second press of a double click does not answer the next question unseen."""
    person.to_question("paste_runny")
    card = next(iter(person.page.cards.values()))
    person.click(card)
    assert len(person.interview.state.answers) == 1
    following = next(iter(person.page.cards.values()))
    person.qtbot.mouseDClick(following, Qt.MouseButton.LeftButton)
    person.settle()
    assert len(person.interview.state.answers) <= 2


def test_saying_how_far_the_batch_is_changes_the_rescue(person):
    """On the verdict, saying that the pieces are already out of the oven takes away what only helps raw paste."""
    person.to_question("piped_spreads")
    for sign, answer in (("paste_hang", "runs_off"), ("panade_look", "smooth_ball"), ("egg_measure", "all_in_weighed")):
        person.desk.act(lambda sign=sign, answer=answer: person.interview.volunteer(sign, answer))
    person.desk.act(person.interview.to_verdict)
    assert "stiffen_with_panade" in [advice.remedy for advice in person.page.verdict.rescue]
    person.click("The batch is at: Piping")
    person.click("Out of the oven")
    person.settle()
    assert person.interview.state.stage == "out"
    assert "stiffen_with_panade" not in [advice.remedy for advice in person.page.verdict.rescue]
