"""Practice in the terminal: the same flow as the window, and nothing a person types can drive the terminal."""

from __future__ import annotations

import argparse
import io
from pathlib import Path

import pytest

from troubleshoot import cli, resources
from troubleshoot.commands import practise
from troubleshoot.inference.reason import Reasoner
from troubleshoot.practice.cases import PracticeCase
from troubleshoot.practice.record import LearnerStore
from troubleshoot.practice.round import Round


def run(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    code = cli.main(list(words))
    out, err = capsys.readouterr()
    return code, out, err


def play(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], typed: list[str], *words: str) -> str:
    """What the terminal shows for a person who types these lines; the end of input stops them."""
    monkeypatch.setattr("sys.stdin", io.StringIO("".join(f"{line}\n" for line in typed)))
    code, out, err = run(capsys, "practise", "choux", *words)
    assert (code, err) == (0, "")
    return out


def best_lines(choux: Reasoner, case: PracticeCase) -> list[str]:
    """What to type to do as the program did, its reason chosen."""
    played = Round(choux, case)
    looks = [line.sign for line in played.looks()]
    typed = [str(looks.index(sign) + 1) for sign in case.program.asked]
    names = [line.remedy for line in played.remedies()]
    typed += ["r", str(names.index(case.program.remedy or "") + 1)]
    causes = [line.cause for line in played.causes()]
    typed += ["v", str(causes.index(case.causes[0]) + 1)]
    played.decide(case.causes[0])
    right = tuple(played.wording.text(link) for link in choux.family.causes[case.causes[0]].why)
    return [*typed, str(next(card.number for card in played.reasons() if card.links == right))]


def test_a_round_is_held_from_look_to_marks(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], choux: Reasoner, clear: PracticeCase
):
    """Looks, remedy, cause and reason are typed, and full marks are shown and kept."""
    typed = best_lines(choux, clear)
    out = play(monkeypatch, capsys, typed, "--case", "3", "--learner", "Lime")
    assert "100 of 100. Full marks." in out
    assert choux.family.causes[clear.causes[0]].name in out.replace("\n  ", " ").replace("\n", " ")
    (kept,) = LearnerStore().rounds("lime")
    assert (kept.code, kept.total, kept.right) == ("choux-1-3", 100, True)


def test_what_is_shown_at_first_names_no_cause(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], choux: Reasoner, clear: PracticeCase
):
    """Before anything is typed the cause's name is not on the screen."""
    out = play(monkeypatch, capsys, ["q"], "--case", "3")
    assert choux.family.causes[clear.causes[0]].name not in out.replace("\n", " ")
    assert "Stopped. Nothing was kept." in out


def test_the_end_of_input_keeps_nothing(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]):
    """When the terminal goes away in the midst of a round, it ends without harm."""
    out = play(monkeypatch, capsys, ["1"], "--case", "3", "--learner", "Lime")
    assert "Stopped" in out
    assert LearnerStore().rounds("Lime") == ()


def test_odd_lines_are_answered_in_words(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]):
    """What matches nothing is said, control characters shown as such, and the round goes on."""
    out = play(
        monkeypatch, capsys, ["999", "\x1b[31mred", "door", "s", "", "r", "zzz", "", "v", "", "q"], "--case", "3"
    )
    assert "Nothing here matches '\\x1b[31mred'" in out
    assert "\x1b" not in out
    assert "Stopped" in out


def test_a_nickname_with_control_characters_is_refused(capsys: pytest.CaptureFixture[str]):
    """It is said before the round begins, in one line without the character."""
    code, out, err = run(capsys, "practise", "choux", "--case", "3", "--learner", "x\x1b[2J")
    assert code == 2
    assert out == ""
    assert "cannot be a nickname" in err
    assert "\x1b" not in err


def test_a_learner_without_a_number_gets_what_is_next(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
):
    """The schedule chooses the case and says why."""
    out = play(monkeypatch, capsys, ["q"], "--learner", "Lime")
    assert "Something new" in out


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("--explore", "door_opened"), "What it does:"),
        (("--explore", "door"), "No, it stayed shut"),
        (("--explore", "rose_fell_in"), "Noticed at: In the oven"),
        (("--explore", "door_opened", "--against", "underbaked"), "What parts them:"),
    ],
)
def test_cause_and_effect_are_printed(capsys: pytest.CaptureFixture[str], words: tuple[str, ...], says: str):
    """A mistake, a sign, a complaint and two mistakes beside one another are explored as text."""
    code, out, _ = run(capsys, "practise", "choux", *words)
    assert code == 0
    assert says in out
    assert all(len(line) <= 78 for line in out.splitlines())


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("shoux",), "did you mean 'choux'?"),
        (("choux", "--level", "7"), "there is no level 7"),
        (("choux", "--case", "0"), "there is no case 0"),
        (("choux", "--explore", "door_open"), "did you mean 'door_opened'?"),
    ],
)
def test_wrong_words_give_one_plain_line(capsys: pytest.CaptureFixture[str], words: tuple[str, ...], says: str):
    """What does not exist is said in one line; exit 2."""
    code, _, err = run(capsys, "practise", *words)
    assert code == 2
    assert says in err
    assert len(err.strip().splitlines()) == 1


def test_a_set_is_made_and_its_sheets_printed(capsys: pytest.CaptureFixture[str], tmp_path: Path):
    """A trainer makes a set by numbers, and prints its work sheet and its answer sheet."""
    file = str(tmp_path / "week.yaml")
    assert run(capsys, "practice-set", file, "--make", "choux", "--title", "Week 1", "--numbers", "3,5")[0] == 0
    code, work, _ = run(capsys, "practice-set", file)
    assert code == 0
    assert "Work sheet" in work
    assert "choux-1-5" in work
    _, answers, _ = run(capsys, "practice-set", file, "--answers")
    assert "The program looked at:" in answers
    code, _, err = run(capsys, "practice-set", file, "--make", "choux", "--numbers", "three")
    assert code == 2
    assert "--numbers 3,17,20" in err


def test_results_are_told_written_and_carried(
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    choux: Reasoner,
    clear: PracticeCase,
    tmp_path: Path,
):
    """What a learner knows is printed; table, export, import and forgetting each do what they say."""
    assert "No round was finished yet" in run(capsys, "practice-results")[1]
    play(monkeypatch, capsys, best_lines(choux, clear), "--case", "3", "--learner", "Lime")
    out = run(capsys, "practice-results")[1]
    assert "Lime" in out
    assert "(1 of 1 right)" in out
    run(capsys, "practice-results", "--csv", str(tmp_path / "all.csv"))
    assert '"Lime"' in (tmp_path / "all.csv").read_text(encoding="utf-8")
    run(capsys, "practice-results", "--learner", "Lime", "--export", str(tmp_path / "lime.json"))
    run(capsys, "practice-results", "--learner", "Lime", "--forget")
    assert LearnerStore().learners() == ()
    assert "New rounds of Lime: 1" in run(capsys, "practice-results", "--import", str(tmp_path / "lime.json"))[1]
    assert len(LearnerStore().rounds("Lime")) == 1
    assert run(capsys, "practice-results", "--forget")[0] == 2


def test_results_of_a_set_leave_out_other_cases(
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    choux: Reasoner,
    clear: PracticeCase,
    tmp_path: Path,
):
    """With a set named, only its cases count."""
    play(monkeypatch, capsys, best_lines(choux, clear), "--case", "3", "--learner", "Lime")
    for number, held in ((3, 1), (4, 0)):
        file = str(tmp_path / f"{number}.yaml")
        run(capsys, "practice-set", file, "--make", "choux", "--numbers", str(number))
        out = run(capsys, "practice-results", "--set", file, "--csv", "-")[1]
        assert out.count("choux-1-3") == held


def test_a_case_that_is_hard_asks_for_a_second_cause(capsys: pytest.CaptureFixture[str]):
    """Where two may be at work, the terminal asks for a second, and Enter says there was none."""
    lines = iter(["v", "door", "1", "", "1"])
    arguments = argparse.Namespace(family="choux", level=4, case=1, learner=None, explore=None, against=None)
    assert practise.run(arguments, resources.folder("rules"), lambda _prompt: next(lines)) == 0
    out = capsys.readouterr().out
    assert "there may be two mistakes" in out
    assert "Was there a second one?" in out
    assert "of 100" in out
