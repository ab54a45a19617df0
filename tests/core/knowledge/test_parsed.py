"""What earlier runs parsed: found by content, never trusted when damaged or open to others, and never in the way."""

from __future__ import annotations

import json
import os
import shutil
import stat
from pathlib import Path

import pytest

from troubleshoot.errors import RuleBaseError
from troubleshoot.knowledge import kept, parsed
from troubleshoot.knowledge.load import load
from troubleshoot.knowledge.model import RuleBase

SMALL = Path(__file__).parents[2] / "support" / "small_rules"
EDGE = "toast/signs/edge.yaml"


@pytest.fixture
def rules(tmp_path: Path) -> Path:
    """A copy of the small rule base."""
    return Path(shutil.copytree(SMALL, tmp_path / "rules"))


@pytest.fixture
def store(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A store that earlier runs filled, or will."""
    folder = tmp_path / "cache"
    monkeypatch.setenv("BATCHMEND_CACHE", str(folder))
    return folder


@pytest.fixture
def parses(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The files that were parsed as YAML, by name."""
    seen: list[str] = []
    real = kept.read_bytes

    def noted(raw: bytes, name: str) -> object:
        seen.append(Path(name).name)
        return real(raw, name)

    monkeypatch.setattr(kept, "read_bytes", noted)
    return seen


def stores(folder: Path) -> list[Path]:
    """The files of a store."""
    return sorted(folder.rglob("*.json"))


def same(one: RuleBase, other: RuleBase) -> bool:
    """Whether two rule bases say the same and point at the same places."""
    return one == other and one.places.files == other.places.files and one.version == other.version


def test_a_second_start_parses_nothing_and_reads_the_same(rules: Path, store: Path, parses: list[str]):
    """The rule base, its places and its version are the same, and no file was parsed again."""
    first = load(rules)
    assert len(parses) == len(list(rules.rglob("*.yaml")))
    parses.clear()
    assert same(load(rules), first)
    assert parses == []


def test_a_changed_file_is_parsed_again_and_no_other(rules: Path, store: Path, parses: list[str]):
    """What was written into the file is what is read."""
    load(rules)
    parses.clear()
    path = rules / EDGE
    path.write_text(path.read_text(encoding="utf-8").replace("Darker than", "Browner than"), encoding="utf-8")
    assert load(rules).families["toast"].signs["edge"].answers[1].say == "Browner than the middle"
    assert parses == ["edge.yaml"]


def test_a_file_of_the_same_length_and_date_is_still_told_apart(rules: Path, store: Path):
    """Content decides, not the date of a file."""
    load(rules)
    path = rules / EDGE
    about = path.stat()
    path.write_text(path.read_text(encoding="utf-8").replace("Darker", "Redder"), encoding="utf-8")
    os.utime(path, ns=(about.st_atime_ns, about.st_mtime_ns))
    assert "Redder" in load(rules).families["toast"].signs["edge"].answers[1].say


def test_a_broken_file_is_told_of_every_time(rules: Path, store: Path):
    """A file with a problem is not kept: its line is told again at the next start."""
    path = rules / EDGE
    path.write_text(path.read_text(encoding="utf-8").replace("kind: seen", "kind: no"), encoding="utf-8")
    told = []
    for _ in range(2):
        with pytest.raises(RuleBaseError) as error:
            load(rules)
        told.append([str(problem) for problem in error.value.problems])
    assert told[0] == told[1]
    assert told[0]


@pytest.mark.parametrize(
    "spoil",
    [
        lambda raw: b"",
        lambda raw: raw[: len(raw) // 2],
        lambda raw: raw.replace(b"Darker", b"Whiter"),
        lambda raw: b"\xff" + raw,
        lambda raw: raw.replace(b'"form": 1', b'"form": 0'),
        lambda raw: b"[" * 100_000,
        lambda raw: b"{}\n{}",
    ],
    ids=["empty", "half", "another word", "no text", "older form", "nested", "nothing in it"],
)
def test_a_damaged_store_is_ignored_and_made_again(rules: Path, store: Path, parses: list[str], spoil):
    """The rule base comes from the files, and the next start finds a sound store."""
    first = load(rules)
    for path in stores(store):
        path.write_bytes(spoil(path.read_bytes()))
    assert same(load(rules), first)
    parses.clear()
    assert same(load(rules), first)
    assert parses == []


def test_a_store_that_others_can_write_is_not_trusted(rules: Path, store: Path, parses: list[str]):
    """A store open to others is read as if it were not there."""
    load(rules)
    for path in stores(store):
        path.chmod(0o666)
    parses.clear()
    load(rules)
    assert len(parses) == len(list(rules.rglob("*.yaml")))


def test_the_store_is_readable_by_its_owner_only(rules: Path, store: Path):
    """Neither its files nor its folders are open to others."""
    load(rules)
    assert stores(store)
    for path in (store, *store.rglob("*")):
        assert stat.S_IMODE(path.stat().st_mode) & 0o077 == 0, path


def test_a_store_that_is_a_link_is_not_followed(rules: Path, store: Path, tmp_path: Path, parses: list[str]):
    """A link put in place of a store leads nowhere."""
    load(rules)
    for number, path in enumerate(stores(store)):
        elsewhere = tmp_path / f"elsewhere{number}"
        path.rename(elsewhere)
        path.symlink_to(elsewhere)
    parses.clear()
    load(rules)
    assert len(parses) == len(list(rules.rglob("*.yaml")))


def test_it_can_be_switched_off(rules: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, parses: list[str]):
    """Switched off, nothing is written and everything is parsed."""
    monkeypatch.setenv("BATCHMEND_CACHE", "off")
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "home cache"))
    load(rules)
    load(rules)
    assert len(parses) == 2 * len(list(rules.rglob("*.yaml")))
    assert not (tmp_path / "home cache").exists()


def test_a_folder_that_cannot_be_written_stops_nothing(rules: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    """Where the store's folder is a file, the rule base is read all the same."""
    blocked = tmp_path / "a file"
    blocked.write_text("x", encoding="utf-8")
    monkeypatch.setenv("BATCHMEND_CACHE", str(blocked))
    assert "toast" in load(rules).families


def test_a_new_reader_or_schema_meets_no_old_entry(rules: Path, store: Path, parses: list[str], monkeypatch):
    """An entry made by other code is not found."""
    load(rules)
    parses.clear()
    monkeypatch.setattr(parsed, "_reader", lambda: b"another reader")
    load(rules)
    assert len(parses) == len(list(rules.rglob("*.yaml")))


def test_the_store_holds_plain_data(rules: Path, store: Path):
    """Every store is two lines of JSON, and nothing in it is code."""
    load(rules)
    for path in stores(store):
        head, body = path.read_text(encoding="utf-8").split("\n")
        assert json.loads(head)["form"] == 1
        assert all(isinstance(entry, list) for entry in json.loads(body).values())


def test_what_is_not_used_any_more_leaves_the_store(rules: Path, store: Path):
    """After many changes of one file the store holds as many entries as there are files."""
    load(rules)
    size = {path: len(json.loads(path.read_text(encoding="utf-8").split("\n")[1])) for path in stores(store)}
    path = rules / EDGE
    text = path.read_text(encoding="utf-8")
    for number in range(5):
        path.write_text(text.replace("Darker than", f"Darker {number} than"), encoding="utf-8")
        load(rules)
    assert {path: len(json.loads(path.read_text(encoding="utf-8").split("\n")[1])) for path in stores(store)} == size


def test_the_store_holds_a_few_rules_folders_and_deletes_nothing_else(store: Path, tmp_path: Path):
    """Reading many rules folders leaves the newest few stores; what somebody else put there stays."""
    store.mkdir()
    (store / "mine.txt").write_text("kept", encoding="utf-8")
    for number in range(parsed.MOST_FOLDERS + 3):
        load(Path(shutil.copytree(SMALL, tmp_path / f"rules{number}")))
    assert len([path for path in store.iterdir() if path.is_dir()]) == parsed.MOST_FOLDERS
    assert (store / "mine.txt").read_text(encoding="utf-8") == "kept"
