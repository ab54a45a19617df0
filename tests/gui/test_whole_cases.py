"""One whole case in every family, worked through by mouse, by keyboard alone, and by somebody who can tell nothing."""

from __future__ import annotations

import pypdf
import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QFileDialog

from troubleshoot.advice import report
from troubleshoot.interview import casefile
from ui.widgets.basic import NumberEdit
from ui.widgets.chain import ChainBox
from ui.widgets.remedy import RemedyCard

#: For each family one of the cases that ship with it, and the cause that is at work in it.
CASES = {
    "choux": ("flat-over-egged", "egg_overdose"),
    "shortbread": ("spread-not-chilled", "not_chilled"),
    "whipped-cream": ("beaten-past-firm", "overwhipped"),
    "melted-chocolate": ("seized-by-steam", "trace_water"),
    "candied-peel": ("sticky-in-the-box", "under_dried"),
}
MOST = 30

every_family = pytest.mark.parametrize("family", CASES)


class Batch:
    """What somebody knows whose batch is that of a case file: its answers, and else what its cause makes plain."""

    def __init__(self, person, family):
        name, self.cause = CASES[family]
        base = person.interview.shelf.rulebase(family)
        knowledge = base.families[family]
        path = person.interview.shelf.folder / family / "cases" / f"{name}.yaml"
        self.case = casefile.to_case(casefile.read_document(path), knowledge)
        self.shows = knowledge.causes[self.cause].shows_as
        self.complaint = knowledge.faults[self.case.fault].say

    def answer(self, sign):
        """Return the answer to a question: an answer's id, a number, or that it cannot be told."""
        given = self.case.answers.get(sign)
        if given is not None:
            return given.value if given.value is not None else given.answer
        levels = self.shows.get(sign, {})
        best = max(levels, key=lambda answer: levels[answer], default="")
        return best if best and levels[best] >= 0.8 else "cant-tell"


def shows_the_verdict(person, batch):
    """Assert that the page says the cause, how sure, what to do step by step, what to change, and why."""
    verdict = person.interview.verdict()
    assert verdict.cause == batch.cause
    assert person.sees(verdict.headline)
    assert person.sees(verdict.sure)
    assert person.page.findChild(RemedyCard).advice == verdict.rescue[0]
    assert all(person.sees(step) for step in verdict.rescue[0].steps)
    boxes = person.page.findChildren(ChainBox)
    assert [box.text for box in boxes] == [link.text for link in verdict.chain]
    # Whoever cannot see the boxes hears beside each link what was told of it.
    seen = [link.seen_words for link in verdict.chain]
    assert any(seen)
    assert [box.accessibleDescription() for box in boxes] == [f"Seen here: {words}" if words else "" for words in seen]
    assert person.sees("Next time") is bool(verdict.next_time)


@every_family
def test_whole_case_by_mouse(person, family):
    """Tile, complaint, time to service, answers, verdict: the cause of the case file comes out."""
    batch = Batch(person, family)
    names = [tile.family for tile in person.interview.tiles()]
    person.click(person.page.tiles[names.index(family)])
    person.wait(lambda: person.interview.step == "fault")
    if batch.case.service_in_min is not None:
        field = next(e for e in person.page.findChildren(NumberEdit) if e.accessibleName().startswith("Minutes"))
        person.click(field)
        person.type(f"{batch.case.service_in_min:g}")
    person.click(next(card for card in person.page.found() if card.title == batch.complaint))
    assert person.interview.state.service_in_min == batch.case.service_in_min
    for _ in range(MOST):
        if person.interview.step != "question":
            break
        given = batch.answer(person.page.view.sign)
        if isinstance(given, float):
            person.click(person.page.number)
            person.type(f"{given:g}")
            person.click("Go on")
        else:
            person.click(person.page.cards.get(given, "Can't tell"))
    assert person.interview.step == "verdict"
    shows_the_verdict(person, batch)


@every_family
def test_whole_case_by_keyboard(person, family):
    """The same with no mouse: a digit for the tile, letters for the complaint, digits, Enter, and back to the start."""
    batch = Batch(person, family)
    names = [tile.family for tile in person.interview.tiles()]
    person.press(str(names.index(family) + 1))
    person.wait(lambda: person.interview.step == "fault")
    person.type(batch.complaint)
    person.press(Qt.Key.Key_Return)
    if person.interview.step == "fault":  # others hold the same words: Enter went to the first of them
        for _ in range(MOST):
            if QApplication.focusWidget().title == batch.complaint:
                break
            person.press(Qt.Key.Key_Tab)
        person.press(Qt.Key.Key_Return)
    assert person.interview.state.fault == batch.case.fault
    for _ in range(MOST):
        if person.interview.step != "question":
            break
        view = person.page.view
        given = batch.answer(view.sign)
        if isinstance(given, float):
            person.press(Qt.Key.Key_U, Qt.KeyboardModifier.AltModifier)
            person.type(f"{given:g}")
        else:
            person.press(person.page.cards[given].digit if given in person.page.cards else "0")
            assert person.interview.state.current == view.sign, "a digit only picks"
        person.press(Qt.Key.Key_Return)
    assert person.interview.step == "verdict"
    shows_the_verdict(person, batch)
    person.press(Qt.Key.Key_N, Qt.KeyboardModifier.AltModifier)
    person.wait(lambda: person.interview.step == "family")


@every_family
def test_cant_tell_throughout(person, family):
    """Somebody who can tell nothing comes to a verdict that says it is open, what is possible and what would settle it."""
    person.to_question(None, family)
    for _ in range(MOST):
        if person.interview.step != "question":
            break
        person.click("Can't tell")
    verdict = person.interview.verdict()
    assert not verdict.settled
    assert all(given.cant_tell for given in person.interview.state.answers.values())
    assert person.sees("Not settled. These are still possible:")
    assert all(person.sees(suspect.name) for suspect in verdict.suspects)
    assert person.sees(verdict.settling_test)


@every_family
def test_why_each_question_is_asked(person, family):
    """The question mark says of every question which suspects it would part, and once more puts it away."""
    batch = Batch(person, family)
    person.to_question(batch.case.fault, family)
    for _ in range(MOST):
        if person.interview.step != "question":
            break
        why = person.interview.why_ask()
        person.press("?")
        assert person.sees(why.sentence)
        assert all(person.sees(line.said) for line in why.lines)
        person.press("?")
        assert not person.sees(why.sentence)
        person.press("0")
        person.press("0")


@every_family
def test_a_changed_answer_gives_the_verdict_of_the_answers_that_stand(person, family):
    """From the verdict back to the first question, another answer, and the verdict is that of the answers now."""
    batch = Batch(person, family)
    person.to_question(batch.case.fault, family)
    first = person.page.view
    person.click(person.page.cards[first.answers[0].answer])
    person.click("Verdict as it stands")
    before = person.interview.conclusion
    person.press(Qt.Key.Key_Backspace)
    line = next(line for line in person.interview.answered() if line.sign == first.sign)
    if person.page.view.sign != first.sign:
        person.click(f"Change: {line.ask} {line.said}")
    person.click(person.page.cards[first.answers[1].answer])
    assert person.interview.state.answers[first.sign].answer == first.answers[1].answer
    person.desk.act(person.interview.to_verdict)
    person.settle()
    reasoner = person.interview.reasoner
    assert person.interview.conclusion.suspects == reasoner.reason(person.interview.state.case()).suspects
    assert person.interview.conclusion.suspects != before.suspects


@every_family
def test_saved_as_pdf(person, family, tmp_path, monkeypatch, squeezed):
    """The PDF holds as text the cause, how sure, every step of the first rescue, its cautions, and the chain."""
    batch = Batch(person, family)
    person.to_question(batch.case.fault, family)
    for sign, given in batch.case.answers.items():
        answer = given.value if given.value is not None else given.answer
        person.desk.act(lambda sign=sign, answer=answer: person.interview.volunteer(sign, answer))
    person.click("Verdict as it stands")
    path = tmp_path / "verdict.pdf"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(path), ""))
    person.click("Save as PDF")
    assert person.sees("Saved as")
    text = squeezed("".join(page.extract_text() for page in pypdf.PdfReader(path).pages))
    verdict = person.interview.verdict()
    cautions = {caution.caution: caution.say for caution in verdict.cautions}
    rescue = verdict.rescue[0]
    wanted = [
        report.headline(verdict),
        report.sure_line(verdict),
        rescue.name,
        *rescue.steps,
        *(link.text for link in verdict.chain),
    ]
    wanted += [cautions[caution] for caution in rescue.cautions]
    assert [words for words in wanted if squeezed(words) not in text] == []


@every_family
def test_every_complaint_is_found_by_its_own_words(person, family):
    """Typing a complaint's words, or another name for it, leaves it among what is shown."""
    person.desk.act(lambda: person.interview.choose_family(family))
    person.settle()
    for line in person.interview.faults():
        person.page.search.setText(line.say.upper())
        assert line.say in [card.title for card in person.page.found()]
