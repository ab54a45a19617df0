"""The trainer: what is known and confused, a set for all, its sheets on paper, and results as a file."""

from __future__ import annotations

import csv
from datetime import UTC, datetime

import practice_pages
import pytest
from pypdf import PdfReader
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QFileDialog, QLineEdit, QWidget

from troubleshoot.practice.cases import draw_case, key_of
from troubleshoot.practice.record import Finished
from troubleshoot.practice.trainer import Confusions
from ui.practice.job import ProgressPanel
from ui.practice.sets import MOST_BATCHES
from ui.widgets.cards import Card
from ui.widgets.matrix import MatrixView

ALT = Qt.KeyboardModifier.AltModifier
SAID = Qt.ItemDataRole.AccessibleTextRole


def done(cause: str, named: str, day: int, code: str = "choux-1-1", **other) -> Finished:
    """Return a finished round of November 2026; the cause named was ``named``."""
    values = {
        "id": f"{cause}{named}{day}{code}",
        "at": datetime(2026, 11, day, 12, tzinfo=UTC),
        "code": code,
        "causes": (cause,),
        "named": named,
        "rival": "flour_weak",
        "chain": cause,
        "total": 80 if cause == named else 10,
        "passed": cause == named,
        "points": {},
        "minutes": 10.0,
        "pieces": 1.0,
        "program_minutes": 8.0,
        "program_pieces": 0.0,
        "rules_version": "abc",
    }
    return Finished(**{**values, **other})


EGG, PANADE = "egg_overdose", "panade_undried"
ROUNDS = [done(EGG, PANADE, 3), done(EGG, EGG, 10), done(EGG, EGG, 11), done(PANADE, EGG, 12)]


@pytest.fixture
def trainer(person):
    """The trainer's view with two learners' records of choux in it, gone to with the mouse."""
    person.click("Practice")
    place = person.window.stack.currentWidget()
    for one in ROUNDS:
        place.practice.store.add("Mo", one)
    place.practice.store.add("7", done(PANADE, PANADE, 12))
    person.click(next(c for c in person.window.findChildren(Card) if c.title == "For the trainer"))
    person.click("Batches of the family Choux")
    practice_pages.wait(place)
    person.settle()
    return place.page


def cell(page, work: int, named: int) -> str:
    """Return the words that are read out for a cell of the matrix."""
    model = page.matrix.model()
    return model.data(model.index(work, named + 1), SAID)


def test_the_matrix_counts_what_was_taken_for_what(person, trainer):
    """Rows are causes at work, columns causes named; each cell shows a number and says it in words."""
    names = trainer.matrix.taken.names
    egg = next(i for i, name in enumerate(names) if name.startswith("More egg"))
    panade = 1 - egg
    assert len(names) == 2
    assert cell(trainer, egg, egg) == f"{names[egg]}: named rightly 2 times"
    assert cell(trainer, egg, panade) == f"{names[egg]}: taken for {names[panade]} 1 times"
    assert cell(trainer, panade, egg) == f"{names[panade]}: taken for {names[egg]} 1 times"
    assert trainer.matrix.model().index(egg, egg + 1).data() == "2"
    assert person.sees(f"“{names[egg]}” was taken for “{names[panade]}” (1 ×)")


def test_the_matrix_is_gone_through_by_keys(person, trainer):
    """Arrow keys go from cell to cell, and Tab leaves the table."""
    trainer.matrix.setFocus()
    person.press(Qt.Key.Key_Right)
    person.press(Qt.Key.Key_Down)
    at = trainer.matrix.currentIndex()
    assert (at.row(), at.column()) == (1, 1)
    person.press(Qt.Key.Key_Tab)
    assert QApplication.focusWidget() is not trainer.matrix


def test_one_learner_is_looked_at_alone(person, trainer):
    """Pressing a name leaves only that learner's batches."""
    person.click("Batches of 7")
    assert trainer.matrix.taken.counts == {(0, 0): 1}
    person.click("Batches of All learners")
    assert sum(trainer.matrix.taken.counts.values()) == 5


def test_results_are_saved_as_csv_for_a_spreadsheet(trainer, tmp_path):
    """Every batch is a row; a nickname that begins like a formula cannot become one."""
    trainer.practice.store.add("=1+1", done(EGG, EGG, 12))
    assert trainer.save_csv_as(tmp_path / "results.csv")
    with (tmp_path / "results.csv").open(encoding="utf-8", newline="") as stream:
        rows = list(csv.DictReader(stream))
    assert len(rows) == 6
    assert {row["learner"] for row in rows} == {"Mo", "7", "'=1+1"}
    wrong = next(row for row in rows if row["named"] == PANADE and row["at_work"] == EGG)
    assert (wrong["right"], wrong["marks_of_100"], wrong["looking_min"]) == ("no", "10", "10")


def test_results_that_cannot_be_saved_are_said(person, trainer, tmp_path):
    """A folder that is not there is said in a strip."""
    assert not trainer.save_csv_as(tmp_path / "no" / "results.csv")
    assert any("could not be saved" in strip for strip in person.window.shown_strips())


def test_without_any_record_the_trainer_is_told_what_to_do(person):
    """The empty view says how results come about, and a set can be made at once."""
    person.click("Practice")
    person.click(next(c for c in person.window.findChildren(Card) if c.title == "For the trainer"))
    assert person.sees("Make a set below and give it out.")
    assert person.button("Make the set").isEnabled()


def make_set(person, page, count: int) -> list[str]:
    """Make a set of choux with the mouse and return its codes."""
    person.click("For the set: Choux")
    page.set_panel.count.setText(str(count))
    person.click("Make the set")
    practice_pages.wait(page.place)
    person.settle()
    field = next(f for f in page.findChildren(QLineEdit) if f.isReadOnly())
    return field.text().split()


def test_a_set_is_made_given_out_by_code_and_worked_through(person, trainer):
    """Its codes, typed by a learner, bring the same batches one after another."""
    codes = make_set(person, trainer, 2)
    assert len(set(codes)) == 2
    place = trainer.place
    place.go("start")
    person.settle()
    field = next(f for f in place.page.findChildren(QLineEdit) if "Codes" in f.accessibleName())
    field.setFocus()
    person.type(" ".join(codes))
    person.press(Qt.Key.Key_Return)
    practice_pages.wait(place)
    person.settle()
    assert place.practice.play.case.key.code == codes[0]
    place.practice.decide(place.practice.play.case.causes[0])
    place.practice.choose(1)
    place.go("marked")
    person.settle()
    person.click("Next batch")
    practice_pages.wait(place)
    person.settle()
    assert place.practice.play.case.key.code == codes[1]


def test_a_set_is_made_and_put_on_paper_by_keyboard_alone(person, trainer, tmp_path, monkeypatch):
    """Mnemonics reach the number, make the set and save the two sheets."""
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *given: (str(tmp_path / given[2]), ""))
    person.press(Qt.Key.Key_Y, ALT)
    person.press(Qt.Key.Key_A, Qt.KeyboardModifier.ControlModifier)
    person.type("1")
    person.press(Qt.Key.Key_M, ALT)
    practice_pages.wait(trainer.place)
    person.settle()
    assert len(trainer.practice.made) == 1
    person.press(Qt.Key.Key_F, ALT)
    person.press(Qt.Key.Key_N, ALT)
    assert {path.name for path in tmp_path.glob("*.pdf")} == {"work-sheet.pdf", "answer-sheet.pdf"}
    person.press(Qt.Key.Key_Left, ALT)
    assert trainer.place.at == "start"


def test_making_a_set_shows_how_far_it_is_and_can_be_stopped(person, trainer):
    """The progress says how many of how many; stopped, no half set is kept."""
    person.click("For the set: Choux")
    trainer.set_panel.count.setText(str(MOST_BATCHES))
    person.click("Make the set")
    panel = next(p for p in person.window.findChildren(ProgressPanel) if p.isVisible())
    person.qtbot.waitUntil(lambda: panel.said.text().startswith("1 of"), timeout=60_000)
    person.click(panel.stop)
    assert trainer.practice.job is None
    assert trainer.practice.made == []
    assert person.button("Make the set").isEnabled()


@pytest.mark.parametrize("typed", ["", "0", "31", "2.5", "many"])
def test_an_impossible_number_of_batches_is_said(person, trainer, typed):
    """What is no number of batches makes no set, and the strip says what is possible."""
    trainer.set_panel.count.setText(typed)
    person.click("Make the set")
    assert person.window.shown_strips() == [f"“{typed}” is no number of batches."]
    assert trainer.practice.made == []


def test_a_code_that_is_none_is_said(person, trainer):
    """A slip in a code begins nothing and is told."""
    place = trainer.place
    place.go("start")
    person.settle()
    field = next(f for f in place.page.findChildren(QLineEdit) if "Codes" in f.accessibleName())
    field.setText("choux-2-117 chowx")
    person.click("Begin the batches you were given")
    assert person.window.shown_strips() == ["That could not be done."]
    assert place.practice.round is None


def test_the_sheets_hold_every_batch_and_only_one_of_them_the_answers(person, trainer, tmp_path):
    """The work sheet has complaint and looks but no cause's name; the answer sheet has cause, chain and looks."""
    codes = make_set(person, trainer, 2)
    work, answers = tmp_path / "work.pdf", tmp_path / "answers.pdf"
    assert trainer.set_panel.save_as(False, work)
    assert trainer.set_panel.save_as(True, answers)
    on_work, on_answers = _words(work), _words(answers)
    reasoner = person.interview.shelf.reasoner("choux")
    for code in codes:
        case = draw_case(reasoner, key_of(code))
        cause = reasoner.family.causes[case.causes[0]]
        assert _plain(reasoner.family.faults[case.complaint].say) in on_work
        assert _plain(cause.name) not in on_work
        assert _plain(cause.name) in on_answers
        assert _plain(cause.why[0]) in on_answers
        assert code in on_work
        assert code in on_answers


def test_a_sheet_that_cannot_be_saved_is_said(person, trainer, tmp_path):
    """A folder that cannot be made is told, and the set stays."""
    make_set(person, trainer, 1)
    (tmp_path / "file").write_text("", encoding="utf-8")
    assert not trainer.set_panel.save_as(False, tmp_path / "file" / "work.pdf")
    assert any("could not be saved" in strip for strip in person.window.shown_strips())
    assert len(trainer.practice.made) == 1


def test_a_large_matrix_is_as_high_as_its_rows(qtbot, qapp):
    """The table never scrolls up and down in itself, whatever its width."""
    names = tuple(f"A cause with a name that is somewhat long, number {n}" for n in range(12))
    holder = QWidget()
    qtbot.addWidget(holder)
    view = MatrixView(Confusions(names, names, {(0, 0): 3, (3, 5): 12}), holder)
    holder.show()
    for width in (500, 900, 1400):
        view.resize(width, view.height())
        rows = sum(view.rowHeight(row) for row in range(len(names)))
        assert view.viewport().height() >= rows


def _words(path) -> str:
    return _plain("".join(page.extract_text() for page in PdfReader(path).pages))


def _plain(text: str) -> str:
    """Return a text without what a PDF changes: spaces, and letters drawn as one."""
    for one, two in (("ﬁ", "fi"), ("ﬂ", "fl"), ("ﬀ", "ff"), ("ﬃ", "ffi"), ("ﬄ", "ffl")):
        text = text.replace(one, two)
    return "".join(text.split())
