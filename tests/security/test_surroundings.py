"""Where the program runs: without a network, without a home, on an install that cannot be written, in any language."""

from __future__ import annotations

import json
import locale
import os
import shutil
import stat
import subprocess
import sys
import time
import zipfile
from pathlib import Path

import pytest

from troubleshoot import atomic, cli, settings
from troubleshoot.commands import practise
from troubleshoot.inference.facts import Case, Given
from troubleshoot.inference.reason import Reasoner
from troubleshoot.interview.state import QUESTION, State
from troubleshoot.interview.store import CaseStore
from troubleshoot.settings import Settings

ROOT = Path(__file__).parents[2]
SMALL = ROOT / "tests" / "support" / "small_rules"
CASE = ROOT / "rules" / "choux" / "cases" / "flat-over-egged.yaml"

#: Every attempt to reach out ends what tried it, and is named.
GUARD = """
import contextlib, io, itertools, socket, sys

def refuse(event, arguments):
    internet = event == "socket.__new__" and arguments[1] in (socket.AF_INET, socket.AF_INET6)
    if internet or event in REACHING:
        print("REACHED OUT:", event, arguments[-1:], file=sys.__stderr__, flush=True)
        raise SystemExit(99)

REACHING = {
    "socket.connect", "socket.getaddrinfo", "socket.gethostbyname", "socket.gethostbyaddr", "socket.bind",
    "socket.sendto", "socket.sendmsg", "urllib.Request", "http.client.connect", "ftplib.connect", "smtplib.connect",
}
sys.addaudithook(refuse)
"""

#: Walks the commands, and opens the window.  Of the season of invented cases the first three are enough.
WALK = """
from troubleshoot import cli
from troubleshoot.casebook import demo
case, rules, work = sys.argv[1:4]
season = demo.season
demo.season = lambda shelf, seed: itertools.islice(season(shelf, seed), 3)
for typed, *arguments in (
    ("", "--version"), ("", "causes", "choux", "door_opened"), ("", "diagnose", case), ("", "explain", case),
    ("", "--rules", rules, "check"), ("", "amounts"), ("", "amounts", "egg_for_paste", "--help"),
    ("", "profile"), ("", "profile", "altitude=600"), ("1 1 1 0 q", "ask"),
    ("", "card", "choux", "piped_spreads"),
    ("", "book", "demo"), ("", "book", "add", case), ("", "book", "list"), ("", "book", "figures"),
    ("", "book", "export", work + "/book.jsonl"), ("", "book", "import", work + "/book.jsonl"), ("", "book", "check"),
    ("v 1 0 1 1 1 1", "practise", "choux", "--case", "3", "--level", "1", "--learner", "Kiwi"),
    ("", "practice-results"),
):
    sys.stdin = io.StringIO(typed.replace(" ", "\\n"))
    code = None
    with contextlib.redirect_stdout(io.StringIO()):
        try:
            code = cli.main(arguments)
        except SystemExit as end:
            code = end.code
    assert code == 0, (arguments, code)

from ui import app
application = app.application(["batchmend"])
window = app.make_window()
window.show()
application.processEvents()
window.close()
print("walked")
"""


def surroundings(tmp_path: Path, **changed: str | None) -> dict[str, str]:
    """An environment with folders of its own, changed as named; None takes a variable away."""
    env = {
        **os.environ,
        "BATCHMEND_DATA": str(tmp_path / "data"),
        "BATCHMEND_SETTINGS": str(tmp_path / "settings"),
        # Shared by the processes of one run of the tests, so that the shipped rules are parsed once.
        "BATCHMEND_CACHE": str(tmp_path.parent / "shared_cache"),
        "QT_QPA_PLATFORM": "offscreen",
        "PYTHONPATH": str(ROOT),
    }
    for name, value in changed.items():
        env.pop(name, None)
        if value is not None:
            env[name] = value
    return env


def run(arguments: list[str], env: dict[str, str], cwd: Path) -> subprocess.CompletedProcess[str]:
    """Run a Python process to its end."""
    command = [sys.executable, *arguments]
    return subprocess.run(command, env=env, cwd=cwd, capture_output=True, text=True, encoding="utf-8", check=False)


def controlled(monkeypatch: pytest.MonkeyPatch, **changed: str | None) -> None:
    """Change the surroundings of this very process until the test ends; None takes a variable away."""
    for name, value in changed.items():
        if value is None:
            monkeypatch.delenv(name, raising=False)
        else:
            monkeypatch.setenv(name, value)


def others_may(paths: list[Path]) -> list[str]:
    """The files that somebody else than their owner may read, write or run."""
    return [f"{stat.S_IMODE(path.stat().st_mode):o} {path.name}" for path in paths if path.stat().st_mode & 0o077]


def test_nothing_reaches_out(tmp_path: Path):
    """Through the commands and the opening of the window no internet socket is made, no name looked up."""
    arguments = ["-c", GUARD + WALK, str(CASE), str(SMALL), str(tmp_path)]
    ended = run(arguments, surroundings(tmp_path), tmp_path)
    assert "REACHED OUT" not in ended.stderr
    assert ended.stdout.strip().endswith("walked"), ended.stderr


@pytest.mark.parametrize(
    "attempt",
    [
        "socket.getaddrinfo('localhost', 9)",
        "socket.create_connection(('127.0.0.1', 9))",
        "socket.socket(socket.AF_INET6, socket.SOCK_DGRAM)",
        "__import__('urllib.request').request.urlopen('http://localhost:9')",
    ],
)
def test_reaching_out_would_be_seen(attempt: str, tmp_path: Path):
    """The guard of the test above ends a process that looks up a name, connects or makes an internet socket."""
    ended = run(["-S", "-c", f"{GUARD}\n{attempt}"], surroundings(tmp_path), tmp_path)
    assert ended.returncode == 99
    assert "REACHED OUT" in ended.stderr


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


def test_folders_that_cannot_be_made_are_said_or_passed_over(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
):
    """Where the folders for data, settings and the store are below a file, a diagnosis still comes."""
    blocked = tmp_path / "blocked"
    blocked.write_text("", encoding="utf-8")
    below = dict.fromkeys(("BATCHMEND_DATA", "BATCHMEND_SETTINGS", "BATCHMEND_CACHE"), str(blocked / "x"))
    controlled(monkeypatch, **below)
    assert cli.main(["diagnose", str(CASE)]) == 0
    assert "More egg went in" in capsys.readouterr().out


#: Takes up the language of the system, as the window does, and diagnoses.
IN_LANGUAGE = """
import contextlib, locale, sys
with contextlib.suppress(locale.Error):
    locale.setlocale(locale.LC_ALL, "")
from troubleshoot import cli
sys.exit(cli.main(sys.argv[1:]))
"""


@pytest.mark.parametrize(
    ("language", "source"), [("tr_TR.UTF-8", "tr_TR"), ("de_DE.UTF-8", "de_DE"), ("nonsense", None)]
)
def test_the_language_of_the_system_changes_no_figure(
    language: str, source: str | None, tmp_path: Path, capsys: pytest.CaptureFixture[str]
):
    """With a decimal comma and a dotless i, or a language there is none of, the verdict is the same bytes."""
    maker = shutil.which("localedef")
    if source is not None and maker is not None:
        made = [maker, "--no-archive", "-i", source, "-f", "UTF-8", str(tmp_path / language)]
        subprocess.run(made, capture_output=True, check=False)
    assert cli.main(["diagnose", str(CASE), "--json"]) == 0
    plain = capsys.readouterr().out
    env = surroundings(tmp_path, LC_ALL=language, LANG=language, LOCPATH=str(tmp_path), PYTHONUTF8="1")
    there = run(["-c", IN_LANGUAGE, "diagnose", str(CASE), "--json"], env, tmp_path)
    assert there.returncode == 0, there.stderr
    assert there.stdout == plain
    assert json.loads(there.stdout)


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
    """Run from a zip, where its rules are no folder, it names what is missing in one line."""
    packed = tmp_path / "packed.zip"
    with zipfile.ZipFile(packed, "w") as archive:
        for path in (ROOT / "troubleshoot").rglob("*.py"):
            archive.write(path, path.relative_to(ROOT))
    ended = run(["-m", "troubleshoot.cli", "--version"], surroundings(tmp_path, PYTHONPATH=str(packed)), tmp_path)
    assert ended.returncode == 2
    assert "the installation is incomplete" in ended.stderr
    assert "Traceback" not in ended.stderr


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


def test_what_the_program_keeps_is_read_by_its_owner_alone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    """Cases in hand, settings, the book and its export, a learner's record, the store and locks are closed to others."""
    monkeypatch.setenv("BATCHMEND_CACHE", str(tmp_path / "cache"))
    before = os.umask(0o000)
    try:
        store = CaseStore()
        assert store.claim("a" * 32)
        store.save("a" * 32, State(step=QUESTION, family="choux", fault=None, answers={"x": Given("y")}, asked=("x",)))
        settings.save(Settings(kitchen="Lakeside"))
        assert cli.main(["book", "add", str(CASE)]) == 0
        assert cli.main(["book", "export", str(tmp_path / "data" / "sent.jsonl")]) == 0
        answers = iter(["v", "1", "", "1", "1", "1", "1"])
        arguments = cli.parser().parse_args(["practise", "choux", "--case", "3", "--level", "1", "--learner", "Kiwi"])
        assert practise.run(arguments, ROOT / "rules", lambda _: next(answers)) == 0
        made = [path for name in ("data", "settings", "cache") for path in (tmp_path / name).rglob("*")]
        files = [path for path in made if path.is_file()]
        kinds = {path.suffix for path in files}
        assert {".json", ".db", ".jsonl", ".lock"} <= kinds
        assert {path.relative_to(tmp_path).parts[0] for path in files} == {"data", "settings", "cache"}
        assert others_may(files) == []
        store.release("a" * 32)
    finally:
        os.umask(before)


def test_a_file_written_anew_is_closed_to_others_even_when_the_old_one_was_not(tmp_path: Path):
    """A file that lay open is closed by the next writing of it."""
    path = tmp_path / "settings.json"
    path.write_text("{}", encoding="utf-8")
    path.chmod(0o666)
    atomic.write_text(path, "{}")
    assert others_may([path]) == []
