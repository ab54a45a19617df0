"""Folders that cannot be written: what cannot be kept is said with its place, and what was there stays."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from busy_kitchen import IN_HAND, WRITING, Kitchen, written
from surroundings import CASE, command, contents, without_rights

from troubleshoot import atomic, settings
from troubleshoot.inference.facts import Given
from troubleshoot.interview.pictures import PictureStore
from troubleshoot.interview.state import QUESTION, State
from troubleshoot.interview.store import CaseStore
from troubleshoot.practice.record import LearnerStore
from troubleshoot.settings import Settings

#: Commands that write into a folder of the program's own, and the folder.
OWN = {
    "profile": "settings",
    "book add": "data",
    "book import": "data",
    "book restore": "data",
    "book demo": "data",
    "practise": "data",
    "results import": "data",
}
#: Commands that write where they are told to, and there find a file in a folder's place.
ELSEWHERE = ("book backup", "card", "results csv")

STATE = State(step=QUESTION, family="choux", fault=None, answers={"x": Given("y")}, asked=("x",))


@pytest.mark.parametrize("name", OWN)
def test_where_no_folder_can_be_made_a_command_says_which(
    name: str, kitchen: Kitchen, capsys: pytest.CaptureFixture[str]
):
    """With a file in the folder's place it ends with 2, the reason and the place, and the file is left alone."""
    place = kitchen.home / OWN[name]
    shutil.rmtree(place)
    place.write_text("a shopping list", encoding="utf-8")
    before = contents(kitchen.home)
    assert written(kitchen, name) == 2
    shown = "".join(capsys.readouterr()).replace("\n", "")
    assert str(place) in shown
    assert "Not a directory" in shown
    assert contents(kitchen.home) == before


@pytest.mark.parametrize("name", ELSEWHERE)
def test_what_is_written_elsewhere_says_where_it_could_not_be(
    name: str, kitchen: Kitchen, capsys: pytest.CaptureFixture[str]
):
    """Sent below a file, a command ends with 2 and names the place."""
    (kitchen.out / "deep").write_text("no folder", encoding="utf-8")
    before = contents(kitchen.home)
    assert written(kitchen, name) == 2
    assert "deep" in capsys.readouterr().err
    assert contents(kitchen.home) == before


def test_folders_that_cannot_be_made_are_said_or_passed_over(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
):
    """Where the folders for data, settings and the store are below a file, a diagnosis still comes."""
    blocked = tmp_path / "blocked"
    blocked.write_text("", encoding="utf-8")
    for name in ("BATCHMEND_DATA", "BATCHMEND_SETTINGS", "BATCHMEND_CACHE"):
        monkeypatch.setenv(name, str(blocked / "x"))
    assert command(["diagnose", str(CASE)]) == 0
    assert "More egg went in" in capsys.readouterr().out


@pytest.fixture
def closed() -> Iterator[Path]:
    """A folder with a kept file in which nothing can be made or changed, but everything read."""
    folder = Path(tempfile.mkdtemp(prefix="kept"))
    for sub in ("cases", "practice", "pictures"):
        (folder / sub).mkdir()
    settings.save(Settings(kitchen="Lakeside"), folder / "settings.json")
    CaseStore(folder / "cases").save(IN_HAND, STATE)
    for path in (folder, *folder.rglob("*")):
        path.chmod(0o555 if path.is_dir() else 0o444)
    yield folder
    for path in (folder, *folder.rglob("*")):
        path.chmod(0o755)
    shutil.rmtree(folder)


WRITERS: dict[str, Callable[[Path], object]] = {
    "settings": lambda folder: settings.save(Settings(), folder / "settings.json"),
    "case in hand": lambda folder: CaseStore(folder / "cases").save(IN_HAND, STATE),
    "another case": lambda folder: CaseStore(folder / "cases").save("b" * 32, STATE),
    "picture": lambda folder: PictureStore(folder / "pictures").keep(b"\xff\xd8\xff\xd9"),
    "round": lambda folder: (
        LearnerStore(folder / "practice").keep_open("Kiwi", None)
        or atomic.write_text(folder / "practice" / "x.jsonl", "x")
    ),
    "new folder": lambda folder: atomic.own_folder(folder / "new" / "deep"),
}


@pytest.mark.parametrize("what", WRITERS)
def test_a_folder_without_rights_is_named_and_left_as_it_is(what: str, closed: Path):
    """Whoever may only read is told which file it was about, and not a byte has changed."""
    before = contents(closed)
    with without_rights(), pytest.raises(PermissionError) as refused:
        WRITERS[what](closed)
    assert str(closed) in str(refused.value.filename)
    assert contents(closed) == before


def test_settings_that_may_only_be_read_hold(closed: Path):
    """A settings file on a medium that cannot be written is read as any other."""
    with without_rights():
        assert settings.load(closed / "settings.json").settings.kitchen == "Lakeside"


def test_damaged_settings_that_cannot_be_moved_aside_are_said(closed: Path):
    """The usual settings hold, the message names the file, and the file stays where it is."""
    file = closed / "settings.json"
    file.chmod(0o644)
    file.write_text("{", encoding="utf-8")
    file.chmod(0o444)
    with without_rights():
        loaded = settings.load(file)
    assert loaded.settings == Settings()
    assert str(file) in (loaded.message or "")
    assert file.read_text(encoding="utf-8") == "{"
    assert set(OWN) | set(ELSEWHERE) <= set(WRITING)
