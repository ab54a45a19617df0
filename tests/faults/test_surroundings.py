"""Where the program runs: without a home, on an install that cannot be written, with any clock, in any language."""

from __future__ import annotations

import json
import locale
import os
import shutil
import subprocess
import time
import zipfile
from pathlib import Path

import pytest
from busy_kitchen import IN_HAND, ROUND, Kitchen
from surroundings import CASE, ROOT, SMALL, command, run, surroundings

from troubleshoot import cli, units
from troubleshoot.errors import AmountError
from troubleshoot.inference.facts import Case
from troubleshoot.inference.reason import Reasoner
from troubleshoot.interview.store import CaseStore
from troubleshoot.practice.record import LearnerStore


def controlled(monkeypatch: pytest.MonkeyPatch, **changed: str | None) -> None:
    """Change the surroundings of this very process until the test ends; None takes a variable away."""
    for name, value in changed.items():
        if value is None:
            monkeypatch.delenv(name, raising=False)
        else:
            monkeypatch.setenv(name, value)


def test_without_a_home_a_verdict_is_found(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
):
    """With no home and no folders named, the command still diagnoses and leaves nothing in the folder it runs in."""
    gone = ("HOME", "XDG_CACHE_HOME", "XDG_DATA_HOME", "XDG_CONFIG_HOME", "USER", "LOGNAME", "BATCHMEND_SETTINGS")
    controlled(monkeypatch, **dict.fromkeys(gone))
    work = tmp_path / "work"
    work.mkdir()
    monkeypatch.chdir(work)
    assert cli.main(["diagnose", str(CASE)]) == 0
    assert "More egg went in" in capsys.readouterr().out
    assert list(work.iterdir()) == []


#: In one language after another: takes it up as the window does, and prints its decimal mark and a verdict.
IN_LANGUAGES = """
import contextlib, io, json, locale, os, sys
from troubleshoot import cli
found = {}
for language in sys.argv[2:]:
    os.environ["LC_ALL"] = os.environ["LANG"] = language
    with contextlib.suppress(locale.Error):
        locale.setlocale(locale.LC_ALL, "")
    mark, shown = locale.localeconv()["decimal_point"], io.StringIO()
    with contextlib.redirect_stdout(shown):
        code = cli.main(["diagnose", sys.argv[1], "--json"])
    found[language] = [code, mark, shown.getvalue()]
print(json.dumps(found))
"""

#: A decimal comma, a dotless i, and one that is written from right to left with figures of its own.
LANGUAGES = ("de_DE", "tr_TR", "ar_EG")


def test_the_language_of_the_system_changes_no_figure(tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    """Whatever the decimal mark and the way letters become small, and in a language there is none of, it is the same."""
    maker = shutil.which("localedef")
    for language in LANGUAGES if maker is not None else ():
        made = [maker, "--no-archive", "-i", language, "-f", "UTF-8", str(tmp_path / f"{language}.UTF-8")]
        subprocess.run(made, capture_output=True, check=False)
    names = [f"{language}.UTF-8" for language in LANGUAGES]
    assert cli.main(["diagnose", str(CASE), "--json"]) == 0
    plain = capsys.readouterr().out
    env = surroundings(tmp_path, LC_ALL="C", LOCPATH=str(tmp_path), PYTHONUTF8="1")
    ended = run(["-c", IN_LANGUAGES, str(CASE), *names, "nonsense"], env, tmp_path)
    assert ended.returncode == 0, ended.stderr
    found = json.loads(ended.stdout)
    assert {language: (code, shown == plain) for language, (code, _, shown) in found.items()} == dict.fromkeys(
        [*names, "nonsense"], (0, True)
    )
    # Where the language could be made, it was really taken up.
    if (tmp_path / "de_DE.UTF-8").is_dir():
        assert found["de_DE.UTF-8"][1] == ","


@pytest.mark.parametrize("typed", ["7,5 g", "٧٫٥ g", "７.５ g", "۷٫۵ g"], ids=["comma", "Arabic", "wide", "Persian"])
def test_a_number_as_another_language_writes_it_is_never_taken_for_another(typed: str):
    """Seven and a half grams are read as that, or refused with a sentence that says what to write."""
    try:
        assert units.parse_quantity(typed) == (7.5, "g")
    except AmountError as refused:
        assert "write" in str(refused)  # noqa: PT017


def test_a_decimal_comma_is_put_off_before_the_engine_reads_a_number(monkeypatch: pytest.MonkeyPatch, choux: Reasoner):
    """Where C writes 2,2 for two and a fifth, it is told to write 2.2, whichever languages are installed here."""
    numbers = ["system"]
    points = {"system": ",", "C": "."}
    monkeypatch.setattr(locale, "localeconv", lambda: {"decimal_point": points[numbers[-1]]})
    monkeypatch.setattr(locale, "setlocale", lambda kind, name: numbers.append(name) or name)
    choux.reason(Case(family="choux"))
    assert numbers == ["system", "C"]


def test_a_terminal_without_unicode_gets_its_verdict(tmp_path: Path):
    """Where the terminal takes ASCII alone, the command ends well."""
    env = surroundings(tmp_path, LC_ALL="C", PYTHONUTF8="0", PYTHONCOERCECLOCALE="0", PYTHONIOENCODING="ascii:replace")
    ended = run(["-m", "troubleshoot.cli", "diagnose", str(CASE)], env, tmp_path)
    assert ended.returncode == 0, ended.stderr
    assert "More egg went in" in ended.stdout


def test_an_install_that_cannot_be_written_works(tmp_path: Path):
    """From a copy whose files and folders are all read-only, a diagnosis comes and nothing is changed in it."""
    site = tmp_path / "site"
    for name in ("troubleshoot", "rules", "assets"):
        shutil.copytree(ROOT / name, site / name, ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copy(ROOT / "pyproject.toml", site)
    for path in (site, *site.rglob("*")):
        path.chmod(0o555 if path.is_dir() else 0o444)
    before = sorted(str(path) for path in site.rglob("*"))
    env = surroundings(tmp_path, PYTHONPATH=str(site), PYTHONDONTWRITEBYTECODE="1")
    try:
        ended = run(["-m", "troubleshoot.cli", "diagnose", str(CASE)], env, tmp_path)
        assert ended.returncode == 0, ended.stderr
        assert "More egg went in" in ended.stdout
        assert sorted(str(path) for path in site.rglob("*")) == before
    finally:
        for path in (site, *site.rglob("*")):
            path.chmod(0o755)


def test_from_inside_a_zip_it_says_what_it_needs(tmp_path: Path):
    """Run from a zip, where its rules are no folder, it says in one line what to do, and shows nothing of Python."""
    packed = tmp_path / "packed.zip"
    with zipfile.ZipFile(packed, "w") as archive:
        for name in ("troubleshoot", "ui"):
            for path in (ROOT / name).rglob("*.py"):
                archive.write(path, path.relative_to(ROOT))
        for name in ("rules", "assets"):
            for path in (ROOT / name).rglob("*.*"):
                archive.write(path, Path("troubleshoot") / path.relative_to(ROOT))
    ended = run(["-m", "troubleshoot.cli", "--version"], surroundings(tmp_path, PYTHONPATH=str(packed)), tmp_path)
    assert ended.returncode == 2
    assert "cannot run from inside a zip file" in ended.stderr
    assert "unpack it" in ended.stderr
    assert ended.stderr.count("\n") == 1


def test_the_program_without_its_rules_says_that_it_is_incomplete(tmp_path: Path):
    """A copy from which the rules were lost names the folder that is missing, in one line."""
    shutil.copytree(ROOT / "troubleshoot", tmp_path / "site" / "troubleshoot")
    env = surroundings(tmp_path, PYTHONPATH=str(tmp_path / "site"), PYTHONDONTWRITEBYTECODE="1")
    ended = run(["-m", "troubleshoot.cli", "signs", "choux"], env, tmp_path)
    assert ended.returncode == 2
    assert "there is no folder 'rules' at" in ended.stderr
    assert ended.stderr.count("\n") == 1


def test_a_clock_set_back_harms_no_reading(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
):
    """Rules and a store whose dates lie years ahead are read, and a change made under an earlier date is seen."""
    monkeypatch.setenv("BATCHMEND_CACHE", str(tmp_path / "cache"))
    rules = Path(shutil.copytree(SMALL, tmp_path / "rules"))
    command = ["--rules", str(rules), "signs", "toast"]
    assert cli.main(command) == 0
    assert "Was a timer set?" in capsys.readouterr().out
    ahead = time.time() + 10 * 365 * 86_400
    for path in (*rules.rglob("*"), *(tmp_path / "cache").rglob("*")):
        os.utime(path, (ahead, ahead))
    sign = rules / "toast" / "signs" / "timer.yaml"
    text = sign.read_text(encoding="utf-8")
    sign.write_text(text.replace("Was a timer set?", "Was the clock set?"), encoding="utf-8")
    assert cli.main(command) == 0
    assert "Was the clock set?" in capsys.readouterr().out


@pytest.mark.parametrize("now_s", [-86_400.0], ids=["1969"])
def test_a_clock_that_is_wrong_changes_no_verdict(
    now_s: float, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
):
    """On a day before the clock's time begins, the verdict is the same bytes."""
    command = ["diagnose", str(CASE), "--json"]
    assert cli.main(command) == 0
    right = capsys.readouterr().out
    monkeypatch.setattr(time, "time", lambda: now_s)
    monkeypatch.setattr(time, "time_ns", lambda: int(now_s * 1e9))
    monkeypatch.setattr(time, "monotonic", lambda: 0.0)
    assert cli.main(command) == 0
    assert capsys.readouterr().out == right


AHEAD = "2046-03-01T12:00:00+00:00"


def test_rounds_of_practice_dated_ahead_hinder_no_next_round(kitchen: Kitchen, capsys: pytest.CaptureFixture[str]):
    """After the clock was set back, the record is shown, and the next case is suggested and kept after the others."""
    store = LearnerStore()
    (path,) = store.folder.glob("*.jsonl")
    head, line = path.read_text(encoding="utf-8").splitlines()
    ahead = json.loads(line) | {"at": AHEAD}
    path.write_text(f"{head}\n{json.dumps(ahead)}\n", encoding="utf-8")
    assert command(["practice-results", "--learner", "Kiwi"]) == 0
    assert command(["practise", "choux", "--learner", "Kiwi"], ROUND) == 0
    assert "Kept for Kiwi." in capsys.readouterr().out
    assert len(store.rounds("Kiwi")) == 2


def test_cases_dated_ahead_stay_in_the_book_and_its_figures(kitchen: Kitchen, capsys: pytest.CaptureFixture[str]):
    """A case from a day that has not come is listed, counted and told apart, and its outcome can still be said."""
    case = json.loads((kitchen.out / "sent.jsonl").read_text(encoding="utf-8"))
    ahead = case | {"id": "ahead", "begun": AHEAD, "finished": AHEAD}
    Path("ahead.jsonl").write_text(json.dumps(ahead) + "\n", encoding="utf-8")
    assert command(["book", "import", "ahead.jsonl"]) == 0
    assert command(["book", "outcome", "ahead", "right"]) == 0
    for words in (["list"], ["figures"], ["seen", str(CASE)], ["list", "--since", "30d"], ["check"]):
        capsys.readouterr()
        assert command(["book", *words]) == 0, words
    assert command(["book", "list"]) == 0
    shown = capsys.readouterr().out
    assert "ahead" in shown
    assert case["id"] in shown


def test_a_case_in_hand_from_tomorrow_is_offered(kitchen: Kitchen):
    """A case saved before the clock was set back can be taken up, and saved again."""
    store = CaseStore()
    path = store.folder / f"{IN_HAND}.json"
    ahead = time.time() + 10 * 365 * 86_400
    os.utime(path, (ahead, ahead))
    (case,) = store.unfinished()
    store.save(IN_HAND, case.state)
    assert [one.state for one in store.unfinished()] == [case.state]
