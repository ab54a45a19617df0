"""The commands: what they print, the form of their JSON, and one plain line for every kind of bad input."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from troubleshoot import __version__, cli, resources
from troubleshoot.commands import ask, window

CASES = sorted((resources.folder("rules") / "choux" / "cases").glob("*.yaml"))
SOUND = "family: choux\nfault: flat\nanswers: {paste_hang: runs_off}\n"


def run(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    code = cli.main(list(words))
    out, err = capsys.readouterr()
    return code, out, err


def diagnose(capsys: pytest.CaptureFixture[str], tmp_path: Path, text: str) -> tuple[int, str, str]:
    case = tmp_path / "case.yaml"
    case.write_text(text, encoding="utf-8")
    return run(capsys, "diagnose", str(case), "--json")


def test_version_names_the_rules_folder(capsys: pytest.CaptureFixture[str]):
    """The version says which rules are in use."""
    code, out, _ = run(capsys, "--version")
    assert code == 0
    assert __version__ in out
    assert str(resources.folder("rules")) in out


def test_the_json_of_a_diagnosis_has_its_promised_form(capsys: pytest.CaptureFixture[str], tmp_path: Path):
    """Every key that other programs may rely on is there, with its type."""
    code, out, _ = diagnose(capsys, tmp_path, SOUND)
    data = json.loads(out)
    assert code == 0
    assert {"family", "suspects", "unlisted", "settled", "next", "remedies", "cautions", "trace"} <= set(data)
    probabilities = [suspect["probability"] for suspect in data["suspects"]]
    assert probabilities == sorted(probabilities, reverse=True)
    assert set(data["suspects"][0]) == {"cause", "name", "probability"}
    assert {"sign", "question", "bits", "minutes"} == set(data["next"])
    assert {"remedy", "kind", "steps", "minutes", "pieces_saved", "because", "not_this"} <= set(data["remedies"][0])
    assert {"rule", "because", "facts", "concluded", "sources"} == set(data["trace"][0])


@pytest.mark.parametrize("case", CASES, ids=lambda path: path.stem)
def test_the_same_case_gives_the_same_bytes(capsys: pytest.CaptureFixture[str], case: Path):
    """Diagnosing a case twice prints the same bytes."""
    assert run(capsys, "diagnose", str(case), "--json") == run(capsys, "diagnose", str(case), "--json")


@pytest.mark.parametrize(
    ("text", "line", "wrong", "advice"),
    [
        ("family: choux\nanswers: {past_hang: runs_off}\n", 2, "unknown sign 'past_hang'", "did you mean 'paste_hang'?"),
        ("family: choux\nanswers:\n  paste_hang: run_off\n", 3, "unknown answer 'run_off'", "did you mean 'runs_off'?"),
        ("family: choux\nfault: flatt\nanswers: {}\n", 2, "unknown fault 'flatt'", "did you mean 'flat'?"),
        ("family: shoux\nanswers: {}\n", 1, "there is no family 'shoux'", "did you mean 'choux'?"),
        ("family: choux\nanswers: {panade_loss: 400}\n", 2, "400 % is out of range", "write a number from 0 to 40 %"),
        ("family: choux\nanswers: {egg_in_temp: {value: 3, unit: kg}}\n", 2, "'kg' is a", "write a unit that can become degC"),
        ("family: choux\nanswers: {paste_hang: 3}\n", 2, "paste_hang takes a word, not a number", "write one of"),
        ("family: choux\nanswers: {paste_hang: [a\n", 3, "", "look at the indentation"),
        ("family: choux\nanswers: {}\nservice_in_min: soon\n", 3, "'soon' is not a number", "write a number"),
        ("family: choux\nanswers: {}\nbatch: {flour_g: 0}\n", 3, "0 g is out of range", "write a number from 10 to 20000 g"),
        ("family: choux\nanswers: {}\nbatch: {flour: 100}\n", 3, "unknown batch figure 'flour'", "did you mean 'flour_g'?"),
        ("family: choux\nanswers: {}\nstage: oven\n", 3, "unknown stage 'oven'", "write one of"),
        ("family: choux\n", 1, "the key 'answers' is missing", "add 'answers:'"),
        ("family: choux\nanswers: {}\nanser: 1\n", 3, "this key is not known here", "did you mean 'answers'?"),
        ("family: choux\nanswers: {paste_hang: true}\n", 2, "cannot stand here", "write"),
    ],
)  # fmt: skip
def test_bad_cases_give_one_plain_line(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, text: str, line: int, wrong: str, advice: str
):
    """Each mistake in a case file is one line with its place and what to write; exit 2."""
    code, out, err = diagnose(capsys, tmp_path, text)
    assert code == 2
    assert out == ""
    (said,) = err.strip().splitlines()
    assert f"case.yaml:{line}:" in said
    assert wrong in said
    assert advice in said


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        (("diagnose", "nowhere.yaml"), "there is no such file"),
        (("signs", "shoux"), "did you mean 'choux'?"),
        (("causes", "choux", "egg_overdos"), "did you mean 'egg_overdose'?"),
        (("ask", "shoux"), "did you mean 'choux'?"),
        (("--rules", "nowhere", "signs", "choux"), "there is no such folder"),
        (("amounts", "egg_to_flor"), "did you mean 'egg_to_flour'?"),
        (("amounts", "egg_to_flour", "egg_g=250"), "also needs flour_g"),
        (("amounts", "egg_to_flour", "egg_g=250", "flour_g=5 degC"), "wanted here"),
    ],
)
def test_bad_words_give_one_plain_line(capsys: pytest.CaptureFixture[str], words: tuple[str, ...], expected: str):
    """A file, family, cause or calculation that does not exist is one plain line; exit 2."""
    code, _, err = run(capsys, *words)
    assert code == 2
    assert expected in err
    assert "Traceback" not in err
    assert len(err.strip().splitlines()) == 1


def test_an_unknown_command_is_one_plain_line(capsys: pytest.CaptureFixture[str]):
    """A command that does not exist is refused in one line."""
    with pytest.raises(SystemExit) as stopped:
        cli.main(["dignose"])
    assert stopped.value.code == 2
    assert len(capsys.readouterr().err.strip().splitlines()) == 1


def test_amounts_take_units(capsys: pytest.CaptureFixture[str]):
    """A calculation takes ounces where grams are meant and gives the figure and its formula."""
    code, out, _ = run(capsys, "amounts", "egg_to_flour", "egg_g=10 oz", "flour_g=5 oz")
    assert code == 0
    assert "egg_ratio = 2" in out


def test_lists_as_json_hold_every_sign_and_cause(capsys: pytest.CaptureFixture[str]):
    """The lists are complete and name answers, strengths and remedies."""
    signs = json.loads(run(capsys, "signs", "choux", "--json")[1])
    causes = json.loads(run(capsys, "causes", "choux", "--json")[1])
    assert {"sign", "ask", "answers"} <= set(signs[0])
    assert len({sign["sign"] for sign in signs}) == len(signs) >= 60
    assert len({cause["cause"] for cause in causes}) == len(causes) >= 45
    assert "How it works" in run(capsys, "causes", "choux", "egg_overdose")[1]


def test_without_a_display_the_interview_is_held_in_the_terminal(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
):
    """On a machine without a screen the program says so and asks in the terminal."""
    for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setattr("sys.platform", "linux")
    monkeypatch.setattr("builtins.input", lambda prompt="": (_ for _ in ()).throw(EOFError))
    assert window.run(resources.folder("rules")) == 0
    out = capsys.readouterr().out
    assert "no display" in out
    assert "What has gone wrong?" in out


def script(*lines: str):
    """A person who types these lines and then ends the input."""
    left = list(lines)

    def read(prompt: str) -> str:
        if not left:
            raise EOFError
        return left.pop(0)

    return read


def test_the_terminal_interview_reaches_a_verdict(capsys: pytest.CaptureFixture[str]):
    """Searching a complaint, asking why, going back, nonsense and numbers all lead to a verdict in words."""
    read = script("run", "1", "?", "1", "b", "banana", "99", "1", "1", "1", "1", "1", "1", "1", "1", "1")
    assert ask.interview(resources.folder("rules"), "choux", read) == 0
    out = capsys.readouterr().out
    assert "is none of the answers" in out
    assert "How sure:" in out
    assert "RESCUE" in out


def test_output_never_carries_control_characters(capsys: pytest.CaptureFixture[str]):
    """What a person types is echoed with escape codes made harmless."""
    ask.interview(resources.folder("rules"), "choux", script("\x1b[31mred", "q"))
    assert "\x1b" not in capsys.readouterr().out


def test_interview_in_the_terminal_takes_facts_and_another_answer(capsys):
    """How far the batch is, the time, a weight and an earlier answer can be given between questions, and wrong ones not."""
    facts = ("s", "1", "s", "99", "t", "90", "t", "-5", "t", "soon", "g", "1", "1", "g", "1", "150")
    change = ("1", "1", "c", "1", "2", "c", "0")
    ask.interview(resources.folder("rules"), "choux", script("runny", "1", *facts, *change, "q"))
    said = capsys.readouterr().out
    for words in (
        "(now)",
        "Nothing was changed. Type a number from 1 to",
        "give 0 to 10080 minutes; nothing was changed",
        "'soon' is not a number; nothing was changed",
        "out of range",
        "Stopped.",
    ):
        assert words in said, words


def test_the_terminal_keeps_what_was_said_when_an_answer_is_changed(monkeypatch):
    """The other answer replaces the first, and what was answered after it stays."""
    made = []
    shown = ask.Session

    def keep(*arguments):
        made.append(shown(*arguments))
        return made[-1]

    monkeypatch.setattr(ask, "Session", keep)
    ask.interview(resources.folder("rules"), "choux", script("runny", "1", "1", "", "t", "45", "c", "1", "2", "q"))
    state = made[0].state
    first, second = list(state.answers)[:2]
    assert state.answers[first].answer == made[0].family.signs[first].answer_ids[1]
    assert state.answers[second].cant_tell
    assert state.service_in_min == 45
