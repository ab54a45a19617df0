"""The disk is full: what cannot be written is said in one sentence, what was there stays, and later it works."""

from __future__ import annotations

import contextlib
import sys
from pathlib import Path

import pytest
from busy_kitchen import WRITING, Kitchen, written
from surroundings import CASE, ROOT, command, contents, full_disk, run, surroundings

from troubleshoot import atomic

#: What may be said for the reason; the last is SQLite's word when the system says no to it.
REASONS = ("File too large", "the disk is full", "the disk gave an error")


def said(capsys: pytest.CaptureFixture[str]) -> str:
    """What was shown, whatever the breaks of lines."""
    shown = capsys.readouterr()
    return " ".join((shown.out + shown.err).split())


@pytest.mark.parametrize("name", WRITING)
def test_a_command_that_finds_the_disk_full_loses_nothing_and_works_later(
    name: str, kitchen: Kitchen, capsys: pytest.CaptureFixture[str]
):
    """It ends with 2 and the reason, every file is there as it was and none is new; with room it does its work."""
    before = contents(kitchen.home)
    with full_disk():
        assert written(kitchen, name) == 2
    shown = said(capsys)
    assert any(reason in shown for reason in REASONS), shown
    assert "Traceback" not in shown
    assert contents(kitchen.home) == before
    assert written(kitchen, name) == 0
    assert contents(kitchen.home) != before


@pytest.mark.parametrize("name", ["card", "plot", "book chart", "results csv", "book export csv", "new", "profile"])
def test_a_disk_that_fills_in_the_middle_leaves_no_half_file(
    name: str, kitchen: Kitchen, capsys: pytest.CaptureFixture[str]
):
    """With room for the first bytes alone there is no piece of a file that looks like the whole."""
    before = contents(kitchen.home)
    with full_disk(room_bytes=100):
        assert written(kitchen, name) == 2
    shown = said(capsys)
    assert any(reason in shown for reason in REASONS), shown
    assert contents(kitchen.home) == before


def test_a_round_that_could_not_be_kept_is_kept_once_there_is_room(
    kitchen: Kitchen, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
):
    """The round is held until room was made and Enter pressed; then it stands in the record, once."""
    typed = iter(("v", "1", "", "1", "1", "1", "1"))
    disk = full_disk()

    def read(prompt: str = "") -> str:
        if "try again" in prompt:
            disk.__exit__(None, None, None)
            return ""
        line = next(typed)
        if prompt == "> " and line == "v":
            disk.__enter__()
        return line

    monkeypatch.setattr("builtins.input", read)
    assert command(["practise", "choux", "--case", "5", "--level", "1", "--learner", "Kiwi"]) == 0
    shown = said(capsys)
    assert "could not be kept for Kiwi (File too large" in shown
    assert "Kept for Kiwi." in shown
    assert command(["practice-results", "--learner", "Kiwi", "--csv", "-"]) == 0
    assert capsys.readouterr().out.count("choux-1-5") == 1


@pytest.mark.parametrize(
    "words",
    [["--version"], ["diagnose", str(CASE)], ["diagnose", str(CASE), "--json"], ["book", "list"], ["signs", "choux"]],
    ids=" ".join,
)
def test_an_answer_that_cannot_be_written_out_in_full_is_no_success(
    words: list[str], kitchen: Kitchen, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
):
    """Sent into a file on a full disk, a command ends with 2 and says so, although its own work was done."""
    full = Path("/dev/full").open("w", encoding="utf-8")  # noqa: SIM115
    try:
        monkeypatch.setattr(sys, "stdout", full)
        assert command(words) == 2
    finally:
        for stream in (sys.stdout, full):
            with contextlib.suppress(OSError):
                stream.close()
    assert "this could not be finished (No space left on device)" in capsys.readouterr().err


def test_a_process_that_cannot_write_out_says_one_sentence(tmp_path: Path):
    """Nothing is added when Python itself ends, and the exit code holds."""
    code = "import sys; sys.stdout = open('/dev/full', 'w'); from troubleshoot import cli; sys.exit(cli.main(['--version']))"
    ended = run(["-c", code], surroundings(tmp_path), ROOT)
    assert ended.returncode == 2
    assert ended.stderr.count("\n") == 1


def test_writing_names_the_file_it_was_about(tmp_path: Path):
    """The system names no file when the disk is full; the error does."""
    path = tmp_path / "deep" / "settings.json"
    with full_disk(), pytest.raises(OSError, match="File too large") as refused:
        atomic.write_text(path, "{}")
    assert refused.value.filename == str(path)
    assert list(path.parent.iterdir()) == []
