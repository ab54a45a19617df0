"""Cases in hand on disk: saved whole, taken up by one window at a time, never thrown away unread."""

from __future__ import annotations

import json
import subprocess
import sys
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from types import MappingProxyType

import pytest

from troubleshoot.inference.facts import Given
from troubleshoot.interview.state import QUESTION, State
from troubleshoot.interview.store import CaseStore

STATE = State(
    step=QUESTION,
    family="choux",
    fault="flat",
    answers=MappingProxyType({"paste_hang": Given("runs_off"), "panade_loss": Given(value=2.5), "sieve": Given()}),
    asked=("paste_hang", "panade_loss", "sieve", "door"),
    at=3,
    batch=MappingProxyType({"flour_g": 150.0}),
    service_in_min=90.0,
)


@pytest.fixture
def store(tmp_path: Path) -> CaseStore:
    return CaseStore(tmp_path / "cases")


def test_a_saved_case_comes_back_equal(store: CaseStore):
    """Everything said, the place in the interview and the batch come back as they were."""
    store.save("one", STATE)
    (saved,) = store.unfinished()
    assert saved.state == STATE


def test_the_times_of_answers_come_back(store: CaseStore):
    """When the interview began and when each answer was given is in the file, to the microsecond."""
    noon = datetime(2026, 3, 2, 12, 0, 0, 7, tzinfo=UTC)
    times = MappingProxyType({"paste_hang": noon + timedelta(minutes=1)})
    store.save("one", replace(STATE, begun=noon, times=times))
    (saved,) = store.unfinished()
    assert (saved.state.begun, saved.state.times) == (noon, times)


def test_a_case_saved_before_times_were_kept_opens(store: CaseStore):
    """Without times in the file the case comes back with all that was said."""
    store.save("one", STATE)
    file = store.folder / "one.json"
    data = json.loads(file.read_text(encoding="utf-8"))
    del data["begun"], data["times"]
    file.write_text(json.dumps(data), encoding="utf-8")
    (saved,) = store.unfinished()
    assert saved.state == STATE
    assert (saved.state.begun, saved.state.times) == (None, {})


@pytest.mark.parametrize("time", ["soon", "2026-03-02T12:00:00", 7, "0001-01-01T00:00:00+23:00"])
def test_a_case_with_a_time_that_is_none_is_kept_aside(store: CaseStore, time: object):
    """A time that cannot be, one without its zone and one before all time are told, and the file is kept."""
    store.save("one", STATE)
    file = store.folder / "one.json"
    data = json.loads(file.read_text(encoding="utf-8"))
    file.write_text(json.dumps({**data, "times": {"paste_hang": time}}), encoding="utf-8")
    assert store.unfinished() == ()
    assert len(list(store.folder.glob("one.json.unreadable*"))) == 1


def test_a_case_without_a_family_is_not_worth_keeping(store: CaseStore):
    """Opening the window and leaving again leaves nothing behind."""
    store.save("one", State())
    assert store.unfinished() == ()


def test_a_case_held_by_another_process_is_not_offered(store: CaseStore):
    """Two windows never take up the same case; when the other process ends, however it ends, the case is free."""
    store.save("one", STATE)
    code = (
        "import sys, pathlib\nfrom troubleshoot.interview.store import CaseStore\n"
        "store = CaseStore(pathlib.Path(sys.argv[1]))\nprint(store.claim('one'), flush=True)\nsys.stdin.read()\n"
    )
    other = subprocess.Popen(
        [sys.executable, "-c", code, str(store.folder)], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    )
    try:
        assert other.stdout is not None
        assert other.stdout.readline().strip() == "True"
        assert store.unfinished() == ()
        assert not store.claim("one")
    finally:
        other.kill()
        other.communicate()
    assert [saved.id for saved in store.unfinished()] == ["one"]
    assert store.claim("one")


@pytest.mark.parametrize("text", ["", "{", "[]", '{"format": 99}', '{"format": 1, "step": "nowhere"}'])
def test_an_unreadable_case_is_kept_aside_and_said(store: CaseStore, text: str):
    """A file that cannot be read is moved, not deleted, and the person is told where it is."""
    store.save("good", STATE)
    (store.folder / "bad.json").write_text(text, encoding="utf-8")
    assert [saved.id for saved in store.unfinished()] == ["good"]
    (kept,) = store.folder.glob("bad.json.unreadable*")
    assert kept.read_text(encoding="utf-8") == text
    assert str(kept) in store.messages[0]


def test_a_finished_case_is_forgotten(store: CaseStore):
    """A discarded case is no longer offered."""
    store.save("one", STATE)
    store.claim("one")
    store.discard("one")
    assert store.unfinished() == ()


def test_only_the_owner_can_read_a_case(store: CaseStore):
    """A saved case is readable by its owner alone."""
    store.save("one", STATE)
    assert (store.folder / "one.json").stat().st_mode & 0o077 == 0
