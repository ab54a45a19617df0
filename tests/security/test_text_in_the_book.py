"""Text is text: what looks like a command of the database, or a pattern, is kept and searched for as it was written."""

from __future__ import annotations

import contextlib
import json
import sqlite3
from pathlib import Path

import pytest
from surroundings import CASE, command

HOSTILE = (
    "x' OR '1'='1",
    "x'); DROP TABLE cases; --",
    'x" OR ""="',
    "%",
    "_",
    "x\\' UNION SELECT * FROM details --",
    ":kitchen ? $1 {0} %s",
)


@pytest.fixture
def case(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> dict[str, object]:
    """One case in a book of its own, as its line of JSON."""
    monkeypatch.chdir(tmp_path)
    assert command(["book", "add", str(CASE), "--note", "plain"]) == 0
    assert command(["book", "export", "one.jsonl"]) == 0
    capsys.readouterr()
    return dict(json.loads(Path("one.jsonl").read_text(encoding="utf-8")))


@pytest.mark.parametrize("text", HOSTILE)
@pytest.mark.parametrize("option", ["--kitchen", "--family", "--cause"])
def test_a_filter_that_is_a_command_of_the_database_finds_nothing(
    option: str, text: str, case: dict[str, object], capsys: pytest.CaptureFixture[str]
):
    """It fits no case, opens no other, and the book is whole afterwards."""
    assert command(["book", "list", option, text]) in (0, 2)
    assert str(case["id"]) not in capsys.readouterr().out
    assert command(["book", "check"]) == 0
    assert "1 cases, all whole" in capsys.readouterr().out


@pytest.mark.parametrize("text", HOSTILE)
def test_an_id_that_is_a_command_of_the_database_is_no_case(
    text: str, case: dict[str, object], capsys: pytest.CaptureFixture[str]
):
    """Neither show nor outcome takes it for the one case that is there."""
    assert command(["book", "show", text]) == 2
    assert command(["book", "outcome", text, "wrong"]) == 2
    assert "there is no case" in capsys.readouterr().err
    assert command(["book", "export", "after.jsonl"]) == 0
    assert Path("after.jsonl").read_bytes() == Path("one.jsonl").read_bytes()


@pytest.mark.parametrize("text", HOSTILE)
def test_a_case_with_such_words_comes_out_as_it_went_in(
    text: str, case: dict[str, object], capsys: pytest.CaptureFixture[str]
):
    """Its kitchen, role and note are kept to the letter, and found by exactly these letters."""
    sent = case | {"id": "sent", "kitchen": text, "role": text, "note": text}
    Path("sent.jsonl").write_text(json.dumps(sent) + "\n", encoding="utf-8")
    assert command(["book", "import", "sent.jsonl"]) == 0
    assert command(["book", "export", "--kitchen", text, "back.jsonl"]) == 0
    assert json.loads(Path("back.jsonl").read_text(encoding="utf-8")) == sent
    assert command(["book", "check"]) == 0
    assert "2 cases, all whole" in capsys.readouterr().out


@pytest.mark.parametrize(
    "planted",
    [
        "CREATE TRIGGER forget AFTER INSERT ON cases BEGIN DELETE FROM cases; END",
        "CREATE VIEW shown AS SELECT * FROM cases WHERE family <> 'choux'",
    ],
    ids=["a trigger", "a view"],
)
def test_a_book_that_would_act_by_itself_is_not_opened(
    planted: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
):
    """A book somebody sent is refused when it holds what could change cases unseen, and is left as it was."""
    book = tmp_path / "sent.db"
    monkeypatch.setenv("BATCHMEND_BOOK", str(book))
    assert command(["book", "add", str(CASE)]) == 0
    with contextlib.closing(sqlite3.connect(book)) as planting:
        planting.execute(planted)
        planting.commit()
    capsys.readouterr()
    assert command(["book", "add", str(CASE)]) == 2
    assert "triggers or views" in capsys.readouterr().err
    with contextlib.closing(sqlite3.connect(book)) as left:
        assert left.execute("SELECT count(*) FROM cases").fetchone() == (1,)
