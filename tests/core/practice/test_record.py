"""A learner's record: only added to, whole after any end of the program, and carried elsewhere and back."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import threading
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from troubleshoot.errors import CaseError
from troubleshoot.practice.record import Finished, LearnerStore, learner_key
from troubleshoot.practice.round import RoundState

Make = Callable[..., Finished]

#: Adds rounds without end, and says after each that it is kept.
ADDS = """
import sys
from pathlib import Path
sys.path.insert(0, sys.argv[2])
from conftest import finished_round
from troubleshoot.practice.record import LearnerStore
store = LearnerStore(Path(sys.argv[1]))
number = 0
while True:
    number += 1
    store.add("7", finished_round(number))
    print(number, flush=True)
"""


@pytest.fixture
def store(tmp_path: Path) -> LearnerStore:
    return LearnerStore(tmp_path / "practice")


def only_file(store: LearnerStore) -> Path:
    (path,) = store.folder.glob("*.jsonl")
    return path


def test_what_was_added_is_read_back(store: LearnerStore, made: Make):
    """Rounds come back as they were, the earliest first."""
    later, earlier = made(2), made(1)
    store.add("Lime", later)
    store.add("Lime", earlier)
    assert store.rounds("Lime") == (earlier, later)
    assert store.rounds("nobody") == ()


def test_a_learner_is_the_same_however_typed(store: LearnerStore, made: Make):
    """Capitals, spaces around and the form of an accent make no other learner; the first spelling is shown."""
    store.add("Zoë", made(1))
    store.add(" ZOE\u0308 ", made(2))
    assert store.learners() == ("Zoë",)
    assert len(store.rounds("zoë")) == 2


@pytest.mark.parametrize("name", ["", "   ", "a" * 33, "tea\x1b[31m", "two\nlines", "\u202eback"])
def test_what_is_no_nickname_is_refused(store: LearnerStore, made: Make, name: str):
    """Empty, long or hidden characters are refused, and nothing is written."""
    with pytest.raises(CaseError, match="cannot be a nickname"):
        store.add(name, made())
    assert not store.folder.exists()


def test_a_nickname_cannot_leave_the_folder(store: LearnerStore, made: Make, tmp_path: Path):
    """A nickname that looks like a path stays a nickname."""
    store.add("../../lime", made())
    assert only_file(store).parent == store.folder
    assert store.learners() == ("../../lime",)


def test_nothing_but_the_nickname_is_kept(store: LearnerStore, made: Make):
    """The file's head holds the nickname, and a round holds what was practised and nothing else."""
    store.add("12", made())
    head, line, _ = only_file(store).read_text(encoding="utf-8").split("\n")
    assert json.loads(head) == {"format": 1, "learner": "12"}
    assert set(json.loads(line)) == set(Finished.__dataclass_fields__)


def test_a_killed_program_loses_no_finished_round(tmp_path: Path):
    """After kill -9 in the midst of adding, every round that was said to be kept is there, and adding goes on."""
    child = subprocess.Popen(
        [sys.executable, "-c", ADDS, str(tmp_path), str(Path(__file__).parent)],
        stdout=subprocess.PIPE,
        text=True,
    )
    assert child.stdout is not None
    said = [int(child.stdout.readline()) for _ in range(5)]
    child.send_signal(signal.SIGKILL)
    said += [int(line) for line in child.stdout.read().split()]
    child.wait()
    child.stdout.close()
    store = LearnerStore(tmp_path)
    kept = {one.id for one in store.rounds("7")}
    assert {f"round-{number}" for number in said} <= kept
    before = len(kept)
    store.add("7", replace(store.rounds("7")[0], id="after"))
    assert len(store.rounds("7")) == before + 1


def test_a_line_cut_off_spoils_no_other(store: LearnerStore, made: Make):
    """Half a line is left where it stands; what came before and what comes after are read."""
    store.add("7", made(1))
    path = only_file(store)
    with path.open("ab") as stream:
        stream.write(b'{"id": "half')
    assert store.rounds("7") == (made(1),)
    assert store.unread("7") == 1
    store.add("7", made(2))
    assert store.rounds("7") == (made(1), made(2))
    assert b'{"id": "half\n' in path.read_bytes()


def test_two_windows_add_at_once(store: LearnerStore, made: Make):
    """Rounds added from several sides at the same time are all there."""
    sides = [
        threading.Thread(target=lambda begin=begin: [LearnerStore(store.folder).add("7", made(n)) for n in range(begin, begin + 8)])
        for begin in (0, 8, 16)
    ]  # fmt: skip
    for side in sides:
        side.start()
    for side in sides:
        side.join()
    assert len(store.rounds("7")) == 24
    assert store.unread("7") == 0


def test_a_record_goes_out_and_comes_back(store: LearnerStore, made: Make, tmp_path: Path):
    """An exported record read elsewhere is equal; read twice it adds nothing."""
    for number in (1, 2, 3):
        store.add("Lime", made(number))
    assert store.export("lime", tmp_path / "lime.json") == 3
    elsewhere = LearnerStore(tmp_path / "elsewhere")
    assert elsewhere.take_in(tmp_path / "lime.json") == ("Lime", 3)
    assert elsewhere.rounds("Lime") == store.rounds("Lime")
    assert elsewhere.take_in(tmp_path / "lime.json") == ("Lime", 0)
    assert elsewhere.rounds("Lime") == store.rounds("Lime")


@pytest.mark.parametrize(
    "text",
    [
        "",
        "[]",
        "{}",
        '{"format": 2, "learner": "x", "rounds": []}',
        '{"format": 1, "learner": "x", "rounds": [{}]}',
        '{"format": 1, "learner": "x\\u001b", "rounds": []}',
        "[" * 100_000,
    ],
)
def test_a_file_that_is_no_record_changes_nothing(store: LearnerStore, tmp_path: Path, text: str):
    """What was not exported here is refused in words, and nothing is written."""
    source = tmp_path / "bad.json"
    source.write_text(text, encoding="utf-8")
    with pytest.raises(CaseError):
        store.take_in(source)
    assert not store.folder.exists()


def test_a_learner_is_forgotten_whole(store: LearnerStore, made: Make):
    """Forgetting leaves no file of the learner, and others stay."""
    store.add("Lime", made(1))
    store.add("7", made(1))
    store.keep_open("Lime", RoundState("choux-1-3"))
    store.forget("lime")
    assert store.learners() == ("7",)
    assert store.open_round("Lime") is None
    stem = only_file(store).stem
    assert all(path.name.startswith(stem) for path in store.folder.iterdir())


def test_an_unfinished_round_is_kept(store: LearnerStore):
    """A round in hand is read back until it is finished; a damaged one is kept aside."""
    state = RoundState("choux-1-3", ("door",), (("straight_back_in", 1),))
    store.keep_open("7", state)
    assert store.open_round("7") == state
    store.keep_open("7", None)
    assert store.open_round("7") is None
    store.keep_open("7", state)
    (path,) = store.folder.glob("*.open.json")
    path.write_text("{", encoding="utf-8")
    assert store.open_round("7") is None
    assert list(store.folder.glob("*.unreadable1"))


def test_a_key_is_stable():
    """The key that makes a learner the same is lower case and in one form."""
    assert learner_key(" Zoe\u0308 ") == "zoë"


def test_what_is_too_large_to_be_a_record_is_refused_at_once(store: LearnerStore, tmp_path: Path):
    """A file of many gigabytes (of nothing, here) is told by its size and not read; nobody's record changes."""
    giant = tmp_path / "giant.json"
    with giant.open("wb") as made:
        made.truncate(1_000_000_000_000)
    with pytest.raises(CaseError, match="larger than 10 MB"):
        store.take_in(giant)
    assert store.learners() == ()


def test_what_is_no_file_is_no_record(store: LearnerStore, tmp_path: Path):
    """A pipe that nobody writes to, and a device without an end, are refused without waiting."""
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    for source in (pipe, Path("/dev/zero")):
        with pytest.raises(CaseError, match="this is no file"):
            store.take_in(source)


@pytest.mark.parametrize(
    "text", ["[" * 500_000, '{"learner": "7", "format": 1, "rounds": [{"total": Infinity}]}', "1" * 9_000_000, "\x80"]
)
def test_a_hostile_record_is_refused_plainly(store: LearnerStore, tmp_path: Path, text: str):
    """Depth without end, numbers beyond all bounds, and bytes that are no text are told as no record."""
    source = tmp_path / "record.json"
    source.write_bytes(text.encode("latin-1"))
    with pytest.raises(CaseError, match="this is no learner's record"):
        store.take_in(source)


def test_a_number_beyond_all_bounds_in_a_round_is_refused(store: LearnerStore, tmp_path: Path, made: Make):
    """Whole points that are infinite are no points."""
    store.add("7", made(1))
    source = tmp_path / "record.json"
    store.export("7", source)
    data = json.loads(source.read_text(encoding="utf-8"))
    data["rounds"][0]["total"] = float("inf")
    source.write_text(json.dumps(data), encoding="utf-8")
    with pytest.raises(CaseError, match="this is no learner's record"):
        store.take_in(source)
