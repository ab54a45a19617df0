"""Where the program runs, for the tests of faults and of security: other folders, other processes, kept rules."""

from __future__ import annotations

import contextlib
import io
import os
import resource
import stat
import subprocess
import sys
from collections.abc import Iterable, Iterator
from pathlib import Path

import pytest

from troubleshoot import cli

ROOT = Path(__file__).parents[2]
SMALL = ROOT / "tests" / "support" / "small_rules"
CASE = ROOT / "rules" / "choux" / "cases" / "flat-over-egged.yaml"


@pytest.fixture(scope="session")
def kept_rules(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A store of parsed rules for one run of the tests, so that the shipped rules are parsed once."""
    return tmp_path_factory.mktemp("kept_rules")


@pytest.fixture(autouse=True)
def _read_once(kept_rules: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("BATCHMEND_CACHE", str(kept_rules))


def surroundings(tmp_path: Path, **changed: str | None) -> dict[str, str]:
    """An environment with folders of its own, changed as named; None takes a variable away."""
    env = {
        **os.environ,
        "BATCHMEND_DATA": str(tmp_path / "data"),
        "BATCHMEND_SETTINGS": str(tmp_path / "settings"),
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


def command(arguments: Iterable[str], typed: Iterable[str] = ()) -> int:
    """Run one command in this very process, with lines that a person types, and return its exit code."""
    kept = sys.stdin
    sys.stdin = io.StringIO("".join(f"{line}\n" for line in typed))
    try:
        return cli.main([*arguments])
    except SystemExit as end:
        return int(end.code or 0)
    finally:
        sys.stdin = kept


def others_may(paths: Iterable[Path]) -> list[str]:
    """The files that somebody else than their owner may read, write or run."""
    return [f"{stat.S_IMODE(path.stat().st_mode):o} {path.name}" for path in paths if path.stat().st_mode & 0o077]


def contents(folder: Path) -> dict[str, bytes]:
    """Every file under a folder with its bytes; locks and a book's journals that hold nothing are left out."""
    found = {str(path.relative_to(folder)): path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file()}
    return {
        name: raw for name, raw in found.items() if not name.endswith((".lock", "-shm")) and (raw or "-wal" not in name)
    }


@contextlib.contextmanager
def full_disk(room_bytes: int = 0) -> Iterator[None]:
    """Let no file grow beyond so many bytes, as if the disk were full then; for root as well."""
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (room_bytes, hard))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))


@contextlib.contextmanager
def without_rights() -> Iterator[None]:
    """Be somebody whom the rights of files bind, also when the tests run as root."""
    if os.geteuid() != 0:
        yield
        return
    os.seteuid(65534)
    try:
        yield
    finally:
        os.seteuid(0)
