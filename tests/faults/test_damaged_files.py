"""Each file that the program reads is damaged, one at a time: it is said, work goes on, and the bytes are still there."""

from __future__ import annotations

import random
import shutil
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest
from busy_kitchen import IN_HAND, Kitchen
from surroundings import SMALL, command, contents

from troubleshoot import settings
from troubleshoot.casebook import entry
from troubleshoot.interview.store import CaseStore
from troubleshoot.practice.record import LearnerStore
from troubleshoot.settings import Settings

#: What becomes of the bytes of a file.
DAMAGE: dict[str, Callable[[bytes], bytes]] = {
    "empty": lambda raw: b"",
    "half": lambda raw: raw[: len(raw) // 2],
    "zeros": lambda raw: bytes(len(raw)),
    "noise": lambda raw: random.Random(7).randbytes(len(raw)),
    "another file": lambda raw: b'{"shopping": [1, 2]}\n',
}


@dataclass(frozen=True)
class Read:
    """A file, the command that reads it, the exit codes that are right, and words that must be shown."""

    file: str
    words: tuple[str, ...]
    codes: tuple[int, ...]
    said: str


FILES = {
    "settings and profile": Read("settings/settings.json", ("profile",), (0,), "They were kept as"),
    "book": Read("data/book.db", ("book", "list"), (2,), "batchmend book restore"),
    "case file": Read("out/case.yaml", ("diagnose", "case.yaml"), (2,), "case.yaml:"),
    "cases to take in": Read("out/sent.jsonl", ("book", "import", "sent.jsonl"), (2,), "sent.jsonl"),
    "copy of the book": Read("out/copy.db", ("book", "restore", "copy.db", "--over"), (2,), "copy.db"),
    "learner's export": Read("out/kiwi.json", ("practice-results", "--import", "kiwi.json"), (2,), "kiwi.json"),
    "practice set": Read("out/set.yaml", ("practice-set", "set.yaml"), (2,), "set.yaml"),
}


def still_there(home: Path, raw: bytes) -> bool:
    """Whether some file holds these bytes."""
    return raw in contents(home).values() or raw == b""


@pytest.mark.parametrize(
    ("name", "damage"),
    # A file without a line holds no case, which is no fault.
    [(name, damage) for name in FILES for damage in DAMAGE if (name, damage) != ("cases to take in", "empty")],
)
def test_a_damaged_file_is_said_and_kept(name: str, damage: str, kitchen: Kitchen, capsys: pytest.CaptureFixture[str]):
    """The command ends as it should, names the file, changes no other, and the damaged bytes can still be found."""
    read = FILES[name]
    path = kitchen.home / read.file
    raw = DAMAGE[damage](path.read_bytes())
    path.write_bytes(raw)
    others = {one: kept for one, kept in contents(kitchen.home).items() if not one.startswith(read.file)}
    assert command(read.words) in read.codes
    shown = "".join(capsys.readouterr())
    assert read.said in " ".join(shown.split())
    assert "Traceback" not in shown
    assert still_there(kitchen.home, raw)
    after = contents(kitchen.home)
    assert {one: after.get(one) for one in others} == others


@pytest.mark.parametrize("name", FILES)
def test_a_folder_in_the_place_of_a_file_is_said(name: str, kitchen: Kitchen, capsys: pytest.CaptureFixture[str]):
    """A folder under the file's name is refused or passed over in words, and what lies in it stays."""
    read = FILES[name]
    path = kitchen.home / read.file
    path.unlink()
    path.mkdir()
    (path / "list").write_text("eggs, flour", encoding="utf-8")
    assert command(read.words) in (*read.codes, 2)
    shown = "".join(capsys.readouterr())
    assert Path(read.file).name in shown
    assert "Traceback" not in shown
    assert still_there(kitchen.home, b"eggs, flour")


@pytest.mark.parametrize("damage", DAMAGE)
def test_a_damaged_case_that_waits_for_the_book_hinders_nothing_and_is_told_of_by_the_check(
    damage: str, kitchen: Kitchen, capsys: pytest.CaptureFixture[str]
):
    """The book is listed, the next case goes in, the bytes stay, and the check names the file."""
    path = entry.waiting_folder() / "waits.json"
    raw = DAMAGE[damage]((kitchen.out / "waits.json").read_bytes())
    path.parent.mkdir(exist_ok=True)
    path.write_bytes(raw)
    assert command(["book", "list"]) == 0
    assert command(["book", "import", "more.jsonl"]) == 0
    assert command(["book", "check"]) == 1
    assert "waits.json" in "".join(capsys.readouterr())
    assert path.read_bytes() == raw


@pytest.mark.parametrize("damage", DAMAGE)
def test_a_damaged_case_in_hand_is_kept_aside_and_hides_no_other(damage: str, kitchen: Kitchen):
    """What cannot be read is said with its new name; the other case in hand is still offered."""
    store = CaseStore()
    path = store.folder / f"{IN_HAND}.json"
    whole = path.read_bytes()
    (store.folder / f"{'b' * 32}.json").write_bytes(whole)
    path.write_bytes(DAMAGE[damage](whole))
    assert [case.id for case in store.unfinished()] == ["b" * 32]
    (message,) = store.messages
    kept = Path(message.removeprefix("A case could not be read. It was kept as ").removesuffix("."))
    assert kept.read_bytes() == DAMAGE[damage](whole)
    assert len(store.unfinished()) == 1


@pytest.mark.parametrize("damage", DAMAGE)
def test_a_damaged_record_of_a_learner_takes_new_rounds_and_loses_no_byte(
    damage: str, kitchen: Kitchen, capsys: pytest.CaptureFixture[str]
):
    """What cannot be read stays in the file, a round can be added after it and read, and the results still come."""
    store = LearnerStore()
    (path,) = store.folder.glob("*.jsonl")
    (done,) = store.rounds("Kiwi")
    raw = DAMAGE[damage](path.read_bytes())
    path.write_bytes(raw)
    assert command(["practice-results", "--learner", "Kiwi"]) == 0
    assert "Traceback" not in "".join(capsys.readouterr())
    assert path.read_bytes() == raw
    store.add("Kiwi", done)
    assert path.read_bytes().startswith(raw)
    assert done.id in {one.id for one in store.rounds("Kiwi")}


def test_a_damaged_round_in_hand_is_kept_aside(kitchen: Kitchen):
    """There is no round to take up, and its bytes lie beside it under another name."""
    store = LearnerStore()
    for number, damage in enumerate(DAMAGE.values(), 1):
        path = store.folder / f"{next(store.folder.glob('*.jsonl')).stem}.open.json"
        raw = damage(b'{"format": 1, "code": "choux-1-3"}')
        path.write_bytes(raw)
        assert store.open_round("Kiwi") is None
        assert path.with_name(f"{path.name}.unreadable{number}").read_bytes() == raw


@pytest.mark.parametrize("damage", DAMAGE)
def test_a_damaged_store_of_parsed_rules_changes_no_answer(
    damage: str,
    kitchen: Kitchen,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
):
    """The rules are read from their files again, without a word."""
    monkeypatch.setenv("BATCHMEND_CACHE", str(tmp_path / "cache"))
    words = ["--rules", str(kitchen.rules), "signs", "toast"]
    assert command(words) == 0
    right = capsys.readouterr()
    stores = list((tmp_path / "cache").rglob("*.json"))
    assert stores
    for path in stores:
        path.write_bytes(DAMAGE[damage](path.read_bytes()))
    assert command(words) == 0
    assert capsys.readouterr() == right


@pytest.mark.parametrize(
    "file", sorted(str(path.relative_to(SMALL)) for path in SMALL.rglob("*.yaml") if "cases" not in path.parts)
)
def test_every_rule_file_when_damaged_is_named(file: str, kitchen: Kitchen, capsys: pytest.CaptureFixture[str]):
    """Whichever rule file is damaged and however, the check does not pass, names it, and leaves it as it is."""
    path = kitchen.rules / file
    whole = path.read_bytes()
    for damage in ("empty", "zeros", "noise", "another file"):
        raw = DAMAGE[damage](whole)
        path.write_bytes(raw)
        assert command(["check", str(kitchen.rules)]) != 0, damage
        shown = "".join(capsys.readouterr())
        assert f"{path}:" in shown, damage
        assert "Traceback" not in shown
        assert path.read_bytes() == raw


def test_a_rules_folder_cut_off_from_its_own_parts_is_said(kitchen: Kitchen, capsys: pytest.CaptureFixture[str]):
    """Without its vocabulary, or without a family's header, the folder is refused in words."""
    for file in ("vocabulary.yaml", "toast/family.yaml"):
        copy = Path(shutil.copytree(SMALL, kitchen.home / file.replace("/", "-")))
        (copy / file).unlink()
        assert command(["--rules", str(copy), "signs", "toast"]) == 2
        assert "Traceback" not in "".join(capsys.readouterr())


def test_settings_of_a_later_version_are_kept_aside(kitchen: Kitchen):
    """A key that this version does not know makes the file unreadable, and it is not written over."""
    raw = b'{"text_size": 100, "from_the_future": 1}'
    settings.path().write_bytes(raw)
    loaded = settings.load()
    assert loaded.settings == Settings()
    assert "They were kept as" in (loaded.message or "")
    settings.save(Settings(fahrenheit=True))
    assert still_there(kitchen.home, raw)
