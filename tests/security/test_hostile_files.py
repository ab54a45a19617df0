"""Files made to hurt: bombs, links, pipes and paths that lead out are refused, soon and by name."""

from __future__ import annotations

import json
import os
import shutil
import threading
from pathlib import Path

import pytest

from troubleshoot import cli, resources, settings
from troubleshoot.errors import RuleBaseError
from troubleshoot.interview.store import CaseStore
from troubleshoot.knowledge.load import load
from troubleshoot.settings import Settings

SMALL = Path(__file__).parents[1] / "support" / "small_rules"

BOMBS = {
    "laughs": "a: &a [x, x, x, x, x, x, x, x, x]\n"
    + "".join(f"{chr(98 + i)}: &{chr(98 + i)} [{', '.join(['*' + chr(97 + i)] * 9)}]\n" for i in range(9)),
    "deep": "family: " + "[" * 20_000 + "]" * 20_000,
    "wide": "family: choux\nanswers: {" + ", ".join(f"k{i}: v" for i in range(50_000)) + "}",
    "large": "family: choux # " + "x" * 3_000_000,
    "digits": "family: choux\nservice_in_min: " + "9" * 100_000,
    "code": "family: !!python/object/apply:os.system [touch hurt]",
    "cycle": "family: &a [*a]",
    "merge": "family: choux\n<<: {fault: piped_spreads}",
    "not text": "family: \udcff",
}


@pytest.fixture
def rules(tmp_path: Path) -> Path:
    """A copy of the small rule base, to be made hostile."""
    return Path(shutil.copytree(SMALL, tmp_path / "rules"))


@pytest.mark.parametrize("bomb", BOMBS, ids=lambda name: name.replace(" ", "-"))
def test_a_bomb_in_a_case_file_is_refused_by_line(bomb: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    """The command ends with 2, names the file and runs nothing."""
    file = tmp_path / "case.yaml"
    file.write_bytes(BOMBS[bomb].encode("utf-8", "surrogateescape"))
    assert cli.main(["diagnose", str(file)]) == 2
    assert f"{file}:" in capsys.readouterr().err
    assert not Path("hurt").exists()


@pytest.mark.parametrize("bomb", BOMBS, ids=lambda name: name.replace(" ", "-"))
def test_a_bomb_in_a_rule_folder_is_refused_by_line(bomb: str, rules: Path):
    """The folder is refused, and the first problem is in that file."""
    path = rules / "toast" / "signs" / "edge.yaml"
    path.write_bytes(BOMBS[bomb].encode("utf-8", "surrogateescape"))
    with pytest.raises(RuleBaseError) as error:
        load(rules)
    assert str(path) in {problem.place.file for problem in error.value.problems}


@pytest.mark.parametrize("name", ["../../etc/passwd", "/etc/passwd", "choux/../../../secret", "choux/tile/../../../x"])
def test_a_drawing_that_leads_out_of_its_folder_is_not_opened(name: str):
    """A name with steps upwards, or from the root, finds nothing."""
    with pytest.raises(FileNotFoundError, match="does not lie in"):
        resources.drawing(name)


@pytest.mark.parametrize("name", ["../../../secret", "/etc/passwd", "toast/../../x", "C:\\\\x", "toast/%2e%2e/x"])
def test_a_drawing_in_a_rule_that_leads_out_is_refused_by_line(
    name: str, rules: Path, capsys: pytest.CaptureFixture[str]
):
    """Steps upwards, a root, a drive and an encoded dot in the name of a drawing are refused where they stand."""
    sign = rules / "toast" / "signs" / "edge.yaml"
    text = sign.read_text(encoding="utf-8")
    sign.write_text(text.replace("normal: true}", f'normal: true, drawing: "{name}"}}'), encoding="utf-8")
    assert cli.main(["check", str(rules)]) == 2
    assert f"{sign}:9:" in capsys.readouterr().err


@pytest.mark.parametrize("secret", ["password: hunter2\n", "root:x:0:0:hunter2\n", "-----KEY\nhunter2\n"])
def test_a_link_out_of_a_rule_folder_shows_nothing_of_what_it_leads_to(
    secret: str, rules: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
):
    """A rule file that is a link to a person's own file is refused under the link's name, without a word from it."""
    target = tmp_path / "secret"
    target.write_text(secret, encoding="utf-8")
    link = rules / "toast" / "signs" / "edge.yaml"
    link.unlink()
    link.symlink_to(target)
    assert cli.main(["check", str(rules)]) == 2
    said = capsys.readouterr()
    assert f"{link}:" in said.err
    assert "hunter2" not in said.out + said.err
    assert target.read_text(encoding="utf-8") == secret


def test_a_link_in_place_of_a_new_rule_is_not_written_through(
    rules: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
):
    """A new cause is not written where a link of its name leads, even when nothing lies there yet."""
    target = tmp_path / "elsewhere.yaml"
    (rules / "toast" / "causes" / "slot_cold.yaml").symlink_to(target)
    assert cli.main(["--rules", str(rules), "new", "cause", "toast", "slot_cold"]) == 2
    assert "slot_cold.yaml" in capsys.readouterr().err
    assert not target.exists()


@pytest.mark.parametrize(
    "line",
    [
        "[" * 100_000,
        '{"id": ' + "9" * 100_000 + "}",
        "x" * 3_000_000,
        '{"note": NaN}',
        "\x00",
        "[]",
        '{"id": "\\ud800"}',
    ],
    ids=["nested", "digits", "long", "no number", "zero", "list", "half a letter"],
)
def test_a_bomb_in_an_import_is_refused_by_line(
    line: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
):
    """The import ends with 2 and names the line, and the book stays empty."""
    monkeypatch.setenv("BATCHMEND_BOOK", str(tmp_path / "book.db"))
    sent = tmp_path / "sent.jsonl"
    sent.write_text(line + "\n", encoding="utf-8")
    assert cli.main(["book", "import", str(sent)]) == 2
    assert f"{sent}:1:" in capsys.readouterr().err
    assert cli.main(["book", "list"]) == 0
    assert "No case fits." in capsys.readouterr().out


def test_a_pipe_in_a_rule_folder_is_not_waited_for(rules: Path):
    """A pipe in place of a rule file is told of at once."""
    path = rules / "toast" / "faults.yaml"
    path.unlink()
    os.mkfifo(path)
    told: list[str] = []

    def read() -> None:
        try:
            load(rules)
        except RuleBaseError as error:
            told.extend(str(problem) for problem in error.problems)

    thread = threading.Thread(target=read, daemon=True)
    thread.start()
    thread.join(timeout=30)
    assert not thread.is_alive(), "the pipe is being waited for"
    assert any("faults.yaml" in line and "not a plain file" in line for line in told)


@pytest.mark.parametrize("place", ["faults.yaml", "signs/edge.yaml"])
def test_a_pipe_in_a_rule_folder_holds_up_no_check(place: str, rules: Path, capsys: pytest.CaptureFixture[str]):
    """The check of a folder that holds a pipe in place of a rule file ends, with what is wrong."""
    path = rules / "toast" / place
    path.unlink()
    os.mkfifo(path)
    codes: list[int] = []
    thread = threading.Thread(target=lambda: codes.append(cli.main(["check", str(rules)])), daemon=True)
    thread.start()
    thread.join(timeout=30)
    assert codes == [2], "the pipe is being waited for"
    assert Path(place).stem in capsys.readouterr().err


def test_an_endless_file_in_a_rule_folder_is_refused(rules: Path):
    """A link to a device without an end is told of, and not read."""
    path = rules / "toast" / "faults.yaml"
    path.unlink()
    path.symlink_to("/dev/zero")
    with pytest.raises(RuleBaseError, match="not a plain file"):
        load(rules)


def test_links_that_go_round_in_a_rule_folder_end(rules: Path):
    """A folder that links to its own parent does not make reading run on."""
    (rules / "toast" / "causes" / "round").symlink_to(rules, target_is_directory=True)
    assert "toast" in load(rules).families


@pytest.mark.parametrize(
    "text",
    [
        "[" * 100_000,
        json.dumps({"kitchen": "\x1b[2Jx", "role": "<img src=x>"}),
        '{"text_size": ' + "9" * 5000 + "}",
        '{"altitude_m": NaN}',
        '{"creams": [' + "1," * 100_000 + "1]}",
        '{"oven": {"__class__": "x"}}',
        "\x00" * 1000,
        '{"kitchen": "' + "x" * 1_000_000 + '"}',
    ],
    ids=["nested", "markup", "digits", "no number", "many", "object", "zeros", "long"],
)
def test_a_hostile_settings_file_hurts_nobody(text: str, tmp_path: Path):
    """The usual settings hold, or those that make sense; nothing is raised."""
    file = tmp_path / "settings.json"
    file.write_text(text, encoding="utf-8")
    loaded = settings.load(file)
    assert loaded.settings == Settings() or loaded.settings.kitchen.isprintable()


@pytest.mark.parametrize(
    "text", ["[" * 100_000, "[]", "null", '{"family": []}', "\x00", '{"pictures": 3}'], ids=range(6)
)
def test_a_hostile_unfinished_case_is_kept_aside(text: str, tmp_path: Path):
    """An unfinished case that makes no sense is kept under another name and said, and others are still found."""
    store = CaseStore(tmp_path)
    (tmp_path / "bad.json").write_text(text, encoding="utf-8")
    assert store.unfinished() == ()
    (message,) = store.messages
    assert "It was kept as" in message
    assert (tmp_path / "bad.json.unreadable1").read_text(encoding="utf-8") == text


def test_markup_in_a_rule_stays_text(rules: Path, capsys: pytest.CaptureFixture[str]):
    """Angle brackets and entities in a rule come out of a command as they were written."""
    cause = rules / "toast" / "causes" / "dial_low.yaml"
    text = cause.read_text(encoding="utf-8")
    cause.write_text(text.replace("The dial stood too low", "The <b>dial</b> &amp; slot"), encoding="utf-8")
    assert cli.main(["--rules", str(rules), "causes", "toast", "dial_low"]) == 0
    assert "The <b>dial</b> &amp; slot" in capsys.readouterr().out
