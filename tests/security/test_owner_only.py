"""Whatever the program makes is closed to others: every file, and every folder on the way to it."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from busy_kitchen import IN_HAND, WRITING, Kitchen, furnish, written
from surroundings import SMALL, command, others_may

from troubleshoot import atomic, settings
from troubleshoot.casebook import entry
from troubleshoot.casebook.store import Book
from troubleshoot.inference.facts import Given
from troubleshoot.interview.pictures import PictureStore
from troubleshoot.interview.state import QUESTION, State
from troubleshoot.interview.store import CaseStore
from troubleshoot.practice.record import LearnerStore
from troubleshoot.practice.round import RoundState
from troubleshoot.settings import Settings

STATE = State(step=QUESTION, family="choux", fault=None, answers={"x": Given("y")}, asked=("x",))


@pytest.fixture(autouse=True)
def _open_to_all() -> Iterator[None]:
    """Nothing but the program itself keeps others out."""
    before = os.umask(0o000)
    yield
    os.umask(before)


@pytest.fixture
def kitchen_rules(tmp_path: Path) -> Path:
    """A rules folder of one's own."""
    return Path(shutil.copytree(SMALL, tmp_path / "rules"))


def everything(folder: Path) -> list[Path]:
    """A folder and all that lies in it."""
    return [folder, *sorted(folder.rglob("*"))]


def test_what_the_program_keeps_is_read_by_its_owner_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
):
    """After every command that writes, each file and folder of data, settings and store is closed to others."""
    monkeypatch.setenv("BATCHMEND_CACHE", str(tmp_path / "cache"))
    kitchen = Kitchen(tmp_path)
    kitchen.out.mkdir(mode=0o700)
    kitchen.live_in(monkeypatch)
    furnish(kitchen)
    for name in WRITING:
        assert written(kitchen, name) == 0, name
    made = [path for name in ("data", "settings", "cache") for path in everything(tmp_path / name)]
    kinds = {path.suffix for path in made}
    assert {".json", ".db", ".jsonl", ".lock"} <= kinds
    assert others_may(made) == []
    # What was written where the person said, too; two files were laid there by the furnishing itself.
    laid = {"case.yaml", "id", "more.jsonl", "waits.json", "other.json"}
    sent = [path for path in everything(kitchen.out) if path.name not in laid]
    assert {"new.pdf", "new.svg", "new.png", "new.csv", "new.jsonl", "new.json", "new.db", "new.yaml", "deep"} <= {
        path.name for path in sent
    }
    assert others_may(sent) == []


#: What is kept by itself, on a machine where not even the folders above are there yet.
KEEPERS = {
    "settings": lambda home: settings.save(Settings(), home / "settings.json"),
    "case in hand": lambda home: CaseStore(home / "cases").save(IN_HAND, STATE),
    "claimed case": lambda home: _claimed(home),
    "picture": lambda home: PictureStore(home / "pictures").keep(b"\xff\xd8\xff\xd9"),
    "open round": lambda home: LearnerStore(home / "practice").keep_open("Kiwi", RoundState("choux-1-3")),
    "book": lambda home: Book.open(home / "book.db").close(),
    "any file": lambda home: atomic.write_bytes(home / "x", b"x"),
}


def _claimed(home: Path) -> None:
    store = CaseStore(home / "cases")
    assert store.claim(IN_HAND)


@pytest.mark.parametrize("what", KEEPERS)
def test_folders_made_on_the_way_are_closed_too(what: str, tmp_path: Path):
    """On a new machine, with three folders missing above, none of them is open to others."""
    home = tmp_path / "share" / "of" / "this"
    KEEPERS[what](home)
    made = everything(tmp_path / "share")
    assert len(made) > 3
    assert others_may(made) == []


def test_a_case_that_waits_for_the_book_is_closed_too(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
):
    """What the book could not take lies beside it, for its owner alone."""
    monkeypatch.setenv("BATCHMEND_BOOK", str(tmp_path / "book.db"))
    (tmp_path / "book.db").write_bytes(b"")
    assert command(["ask", "choux"], ["1", "", "v"]) == 0
    made = everything(entry.waiting_folder())
    assert len(made) == 2
    assert others_may(made) == []


def test_a_rule_to_fill_in_may_be_read_by_others_but_not_changed(kitchen_rules: Path):
    """A rules folder is shared with those who use it, so a new file in it is only closed to writing."""
    assert command(["--rules", str(kitchen_rules), "new", "cause", "toast", "slot_cold"]) == 0
    (made,) = kitchen_rules.rglob("slot_cold.yaml")
    assert made.stat().st_mode & 0o777 == 0o644


def test_a_file_written_anew_is_closed_to_others_even_when_the_old_one_was_not(tmp_path: Path):
    """A file that lay open is closed by the next writing of it."""
    path = tmp_path / "settings.json"
    path.write_text("{}", encoding="utf-8")
    path.chmod(0o666)
    atomic.write_text(path, "{}")
    assert others_may([path]) == []
