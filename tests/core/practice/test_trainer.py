"""The trainer's view, sets given to all, and their sheets."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from troubleshoot.errors import CaseError
from troubleshoot.inference.reason import Reasoner
from troubleshoot.practice import sheets, trainer
from troubleshoot.practice.cases import CaseKey, PracticeCase
from troubleshoot.practice.record import Finished
from troubleshoot.practice.round import Round
from troubleshoot.practice.sets import CaseSet, read_set, write_set

Make = Callable[..., Finished]
NAMES = {"door_opened": "The door", "underbaked": "Out too soon", "oven_hot": "Too hot"}
FAMILIES = ("choux", "shortbread")


def test_the_matrix_counts_what_was_taken_for_what(made: Make):
    """Rows are what was at work, columns what was named, in the order of the names; causes never met are left out."""
    rounds = [made(1), made(2), made(3, named="underbaked"), made(4, causes=("gone",), named="gone")]
    found = trainer.confusions(rounds, NAMES)
    assert found.causes == ("door_opened", "underbaked", "gone")
    assert found.names == ("The door", "Out too soon", "gone")
    assert found.counts == {(0, 0): 2, (0, 1): 1, (2, 2): 1}
    assert found.wrong() == (("The door", "Out too soon", 1),)


def test_a_cause_is_known_after_two_right_in_a_row(made: Make):
    """Right once is not yet known, right twice is, and one more wrong takes it back."""
    assert [one.known for one in trainer.known_causes([made(1)], NAMES)] == [False]
    assert [one.known for one in trainer.known_causes([made(1), made(2)], NAMES)] == [True]
    (back,) = trainer.known_causes([made(1), made(2), made(3, named="oven_hot")], NAMES)
    assert (back.known, back.met, back.named) == (False, 3, 2)


def test_weeks_begin_on_monday(made: Make):
    """Rounds of one week are put together, by hand: 2026-03-02 is a Monday."""
    rounds = [
        made(1, at=datetime(2026, 3, 3, 12, tzinfo=UTC), total=100),
        made(2, at=datetime(2026, 3, 6, 12, tzinfo=UTC), total=50, passed=False),
        made(3, at=datetime(2026, 3, 11, 12, tzinfo=UTC), named="oven_hot", passed=False, total=0),
    ]
    first, second = trainer.weeks(rounds)
    assert (first.monday, first.rounds, first.right, first.passed, first.mean_marks) == (date(2026, 3, 2), 2, 2, 1, 75)
    assert (second.monday, second.rounds, second.right) == (date(2026, 3, 9), 1, 0)


@pytest.mark.parametrize("name", ["=1+1", "+1", "-1", "@x", " =1", "'=1", '"=1'])
def test_no_cell_becomes_a_formula(made: Make, name: str):
    """A nickname that a spreadsheet would take for a formula is written as text, and the rest reads back."""
    stream = io.StringIO(newline="")
    assert trainer.write_table([(name, made())], stream) == 1
    stream.seek(0)
    head, row = list(csv.reader(stream))
    assert tuple(head) == trainer.COLUMNS
    assert row[0] == f"'{name}"
    assert row[1:10] == [
        *("2026-03-02 09:01:00", "choux-1-3", "choux", "1", "door_opened", "door_opened", "yes", "yes", "90")
    ]


def test_a_set_reads_as_it_was_written(tmp_path: Path):
    """Title and cases come back, whatever signs the title has."""
    keys = (CaseKey("choux", 1, 3), CaseKey("choux", 1, 17), CaseKey("shortbread", 4, 9999))
    chosen = CaseSet('Week 1: "soft" # shells \\ and more', keys)
    write_set(tmp_path / "set.yaml", chosen)
    assert read_set(tmp_path / "set.yaml", FAMILIES) == chosen


@pytest.mark.parametrize(
    ("text", "line", "says"),
    [
        ("set: x\n", 1, "the keys 'set' and 'cases'"),
        ("set: x\ncases: []\n", 2, "no list of cases"),
        ("set: 3\ncases:\n  - {family: choux, level: 1, numbers: [1]}\n", 1, "no title"),
        ("set: x\ncases:\n  - {family: shoux, level: 1, numbers: [1]}\n", 3, "did you mean 'choux'"),
        ("set: x\ncases:\n  - {family: choux, level: 5, numbers: [1]}\n", 3, "no level 5"),
        ("set: x\ncases:\n  - {family: choux, level: 1, numbers: [0]}\n", 3, "no numbers of cases"),
        ("set: x\ncases:\n  - {family: choux, level: 1, numbers: [true]}\n", 3, "no numbers of cases"),
        ("set: x\ncases:\n  - {family: choux, level: 1}\n", 3, "these are no cases"),
        ("set: [\n", 2, ""),
    ],
)
def test_a_bad_set_is_told_by_line(tmp_path: Path, text: str, line: int, says: str):
    """Every mistake in a set is said with its line and what to write."""
    path = tmp_path / "set.yaml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(CaseError) as raised:
        read_set(path, FAMILIES)
    assert says in str(raised.value)
    assert f"set.yaml:{line}:" in str(raised.value)


def test_the_work_sheet_tells_no_answer_and_the_answer_sheet_all(choux: Reasoner, clear: PracticeCase):
    """On the work sheet stand complaint and looks, never the cause; on the answer sheet the cause, its chain, the rescue."""
    play = Round(choux, clear)
    cause = choux.family.causes[clear.causes[0]]
    work = "\n".join(block.text for block in sheets.work_sheet([play]))
    answers = "\n".join(block.text for block in sheets.answer_sheet([play]))
    assert play.story().complaint in work
    assert clear.key.code in work
    assert cause.name not in work
    assert cause.name in answers
    assert all(link in answers for link in (play.wording.text(text) for text in cause.why))
    asked = [play.wording.text(choux.family.signs[sign].ask) for sign in clear.program.asked]
    memory = [choux.family.signs[sign].ask_later or "" for sign in clear.program.asked]
    for ask, later in zip(asked, memory, strict=True):
        assert ask in work or (later and play.wording.text(later) in work)
    assert clear.program.remedy is not None
    assert choux.family.remedies[clear.program.remedy].name in answers
