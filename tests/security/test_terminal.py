"""What strangers wrote, in files and in names, cannot drive the terminal of the person who reads it."""

from __future__ import annotations

import contextlib
import json
import shutil
import sqlite3
from pathlib import Path

import pytest

from troubleshoot import cli
from troubleshoot.commands import ask, practise
from troubleshoot.commands.output import print_json, print_text
from troubleshoot.knowledge.yamlread import read_text
from troubleshoot.practice.record import LearnerStore

SMALL = Path(__file__).parents[1] / "support" / "small_rules"
SHIPPED_CASE = Path(__file__).parents[2] / "rules" / "choux" / "cases" / "flat-over-egged.yaml"

#: Colour, a new window title, an eight-bit control sequence, and a return to the start of the line.
HOSTILE = "\x1b[31mred\x1b]0;title\x07\x9b2J\rover"

CASE = """family: choux
fault: piped_spreads
answers:
  paste_hang: {answer}
"""


def controls(text: str) -> list[str]:
    """The characters of a text that drive a terminal."""
    return [ch for ch in text if not ch.isprintable() and ch not in "\n"]


@pytest.mark.parametrize(
    "arguments",
    [
        [HOSTILE],
        ["--rules", HOSTILE, "signs", "choux"],
        ["--rules", HOSTILE, "--version"],
        ["signs", HOSTILE],
        ["causes", "choux", HOSTILE],
        ["diagnose", f"{HOSTILE}.yaml"],
        ["explain", f"{HOSTILE}.yaml"],
        ["check", HOSTILE],
        ["check", HOSTILE, "--json"],
        ["check", HOSTILE, "--sarif"],
        ["amounts", HOSTILE],
        ["amounts", "egg_for_paste", f"{HOSTILE}=1"],
        ["profile", f"{HOSTILE}=1"],
        ["new", "cause", "choux", HOSTILE],
        ["ask", HOSTILE],
        ["practise", HOSTILE],
        ["practise", "choux", "--learner", HOSTILE],
        ["practise", "choux", "--explore", HOSTILE],
        ["practice-results", "--learner", HOSTILE],
        ["card", HOSTILE],
        ["book", "show", HOSTILE],
        ["book", "list", "--kitchen", HOSTILE],
        ["book", "list", "--since", HOSTILE],
        ["book", "list", "--book", HOSTILE],
        ["book", "export", HOSTILE],
        ["book", "import", HOSTILE],
    ],
    ids=lambda arguments: " ".join("X" if HOSTILE in one else one for one in arguments),
)
def test_a_name_given_to_a_command_comes_back_harmless(
    arguments: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
):
    """Whatever a command says of a name, no control character of it reaches the terminal."""
    monkeypatch.chdir(tmp_path)
    with contextlib.suppress(SystemExit):
        cli.main(arguments)
    said = capsys.readouterr()
    assert controls(said.out + said.err) == []
    assert "Traceback" not in said.err


@pytest.mark.parametrize("answer", [HOSTILE, '"\\e[31mred"', '"a\\rb"', '"\\u202eabc"', '"\\x9b2J"'], ids=range(5))
def test_a_case_file_with_control_characters_is_refused_by_line(
    answer: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
):
    """Written as they are or as an escape in quotes, they are named by line and code, and not shown."""
    file = tmp_path / "case.yaml"
    file.write_bytes(CASE.replace("{answer}", answer).encode())
    for command in ("diagnose", "explain"):
        assert cli.main([command, str(file)]) == 2
        said = capsys.readouterr()
        assert f"{file}:4:" in said.err
        assert "the hidden character U+" in said.err
        assert controls(said.out + said.err) == []


def test_a_rule_folder_with_control_characters_is_refused_by_line(tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    """A name of a cause that would clear the screen is refused where it stands."""
    rules = Path(shutil.copytree(SMALL, tmp_path / "rules"))
    cause = rules / "toast" / "causes" / "dial_low.yaml"
    text = cause.read_text(encoding="utf-8")
    cause.write_text(text.replace("name: The dial stood too low", 'name: "The \\e[2Jdial"'), encoding="utf-8")
    assert cli.main(["check", str(rules)]) == 2
    said = capsys.readouterr()
    assert "dial_low.yaml:2:" in said.err + said.out
    assert controls(said.out + said.err) == []


def test_a_file_name_with_control_characters_is_shown_harmless(tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    """A rule file whose own name holds them is told of, and its name does nothing."""
    rules = Path(shutil.copytree(SMALL, tmp_path / "rules"))
    (rules / "toast" / "signs" / "a\x1b[31m.yaml").write_text("sign: [", encoding="utf-8")
    assert cli.main(["check", str(rules)]) == 2
    said = capsys.readouterr()
    assert "a\\x1b[31m.yaml" in said.err + said.out
    assert controls(said.out + said.err) == []


def test_keys_are_held_to_the_same_rule():
    """A key written as an escape is refused as well as a value."""
    (problem,) = read_text('"a\\e[31m": 1\n', "file.yaml").problems
    assert "U+001B" in problem.wrong


def test_a_new_file_in_a_folder_with_a_hostile_name_is_named_harmless(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
):
    """The path of a file just written comes back with its control characters spelt out."""
    rules = Path(shutil.copytree(SMALL, tmp_path / HOSTILE))
    assert cli.main(["--rules", str(rules), "new", "cause", "toast", "slot_cold"]) == 0
    said = capsys.readouterr().out
    assert "\\x1b[31mred" in said
    assert controls(said) == []


def test_json_for_a_machine_holds_no_control_character_and_loses_none(capsys: pytest.CaptureFixture[str]):
    """What would drive a terminal is written as an escape of JSON, and reads back as it was."""
    data = {HOSTILE: ["\x7f\u202e\ud800", "\U000e0041", "œuf à la crème 🍰"]}
    print_json(data)
    said = capsys.readouterr().out
    assert controls(said) == []
    assert "œuf à la crème 🍰" in said
    assert json.loads(said) == data


def test_what_stands_before_a_paragraph_is_made_harmless_too(capsys: pytest.CaptureFixture[str]):
    """The head of a line goes through the same door as its text."""
    print_text("text", "  ", f"{HOSTILE}: ")
    assert controls(capsys.readouterr().out) == []


def test_a_book_changed_by_another_program_cannot_drive_the_terminal(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
):
    """Kitchen and note put into the file behind the book's back come out of show and list spelt out."""
    book = tmp_path / "book.db"
    monkeypatch.setenv("BATCHMEND_BOOK", str(book))
    assert cli.main(["book", "add", str(SHIPPED_CASE), "--note", "plain"]) == 0
    case_id = capsys.readouterr().out.split()[1]
    with contextlib.closing(sqlite3.connect(book)) as connection, connection:
        assert connection.execute("UPDATE cases SET kitchen = ?", [HOSTILE]).rowcount == 1
        assert connection.execute("UPDATE details SET note = ?", [HOSTILE]).rowcount == 1
    for command in (
        ["show", case_id],
        ["show", case_id, "--json"],
        ["list"],
        ["list", "--json"],
        ["export"],
        ["export", "--csv"],
    ):
        cli.main(["book", *command])
        said = capsys.readouterr()
        assert "title" in said.out + said.err
        # A row of a table ends with a return and a line feed.
        assert controls((said.out + said.err).replace("\r\n", "\n")) == []


def test_a_case_with_control_characters_is_not_taken_into_the_book(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
):
    """Whichever text of it holds them, the import is refused by line, whole, and says so without them."""
    monkeypatch.setenv("BATCHMEND_BOOK", str(tmp_path / "book.db"))
    assert cli.main(["book", "add", str(SHIPPED_CASE)]) == 0
    capsys.readouterr()
    assert cli.main(["book", "export"]) == 0
    case = json.loads(capsys.readouterr().out)
    for field in ("kitchen", "role", "note", "family", "id", "rules_version"):
        sent = tmp_path / f"{field}.jsonl"
        good, bad = case | {"id": "good1"}, case | {"id": "bad1"} | {field: HOSTILE}
        sent.write_text(f"{json.dumps(good)}\n{json.dumps(bad)}\n", encoding="utf-8")
        assert cli.main(["book", "import", str(sent)]) == 2
        said = capsys.readouterr()
        assert f"{sent}:2:" in said.err
        assert controls(said.out + said.err) == []
        assert cli.main(["book", "show", "good1"]) == 2
        capsys.readouterr()


def test_a_learners_record_with_control_characters_is_printed_harmless(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
):
    """A nickname and a cause written into the record by hand, or by another's export, are spelt out."""
    answers = iter(["v", "1", "", "1", "1", "1", "1"])
    arguments = cli.parser().parse_args(["practise", "choux", "--case", "3", "--level", "1", "--learner", "Kiwi"])
    assert practise.run(arguments, SHIPPED_CASE.parents[2], lambda _: next(answers)) == 0
    store = LearnerStore()
    (path,) = store.folder.glob("*.jsonl")
    head, line = path.read_text(encoding="utf-8").splitlines()
    spoilt = json.loads(line) | {"named": HOSTILE, "causes": [HOSTILE + "x"]}
    path.write_text(
        json.dumps(json.loads(head) | {"learner": "Kiwi" + HOSTILE}) + "\n" + json.dumps(spoilt) + "\n",
        encoding="utf-8",
    )
    exported = tmp_path / "record.json"
    exported.write_text(json.dumps({"format": 1, "learner": HOSTILE, "rounds": [spoilt]}), encoding="utf-8")
    capsys.readouterr()
    for command in (["--learner", "Kiwi"], [], ["--csv", "-"], ["--import", str(exported)]):
        with contextlib.suppress(SystemExit):
            cli.main(["practice-results", *command])
        said = capsys.readouterr()
        assert said.out + said.err
        assert controls(said.out + said.err) == []


def test_what_is_typed_in_an_interview_comes_back_harmless(capsys: pytest.CaptureFixture[str]):
    """A search for a word with control characters finds nothing and repeats none of them."""
    answers = iter(["1", HOSTILE, "q"])
    assert ask.interview(SHIPPED_CASE.parents[2], None, lambda _: next(answers)) == 0
    said = capsys.readouterr().out
    assert "Nothing here matches" in said
    assert controls(said) == []
