"""Nothing reaches out: not through any command or place of the window, not from Python and not from a library in C."""

from __future__ import annotations

import argparse
import signal
from pathlib import Path

import pytest
from surroundings import ROOT, run, surroundings
from walk_everything import COMMANDS

from troubleshoot.cli import parser

SUPPORT = ROOT / "tests" / "support"


def subcommands(of: argparse.ArgumentParser) -> dict[str, argparse.ArgumentParser]:
    """The commands of a parser by name."""
    return next(one.choices for one in of._actions if isinstance(one, argparse._SubParsersAction))


def guarded(code: list[str], tmp_path: Path) -> tuple[int, str, str]:
    """Run a process that can import the guards, away from any session of the desktop."""
    env = surroundings(tmp_path, PYTHONPATH=f"{ROOT}:{SUPPORT}", DBUS_SESSION_BUS_ADDRESS=None, DISPLAY=None)
    ended = run(code, env, tmp_path)
    return ended.returncode, ended.stdout.strip(), ended.stderr


def test_nothing_reaches_out(tmp_path: Path):
    """With both guards up, every command and every place of the window does its work."""
    code, shown, said = guarded([str(SUPPORT / "walk_everything.py"), str(tmp_path)], tmp_path)
    assert (code, shown.splitlines()[-1:]) == (0, ["walked"]), said


def test_the_walk_leaves_no_command_out():
    """Each command, and each word of the book, is on the way."""
    walked = {word for _, words in COMMANDS for word in words}
    top = parser()
    names = {*subcommands(top), *subcommands(subcommands(top)["book"])}
    assert names <= walked


@pytest.mark.parametrize(
    "attempt",
    [
        "socket.getaddrinfo('localhost', 9)",
        "socket.create_connection(('127.0.0.1', 9))",
        "socket.socket(socket.AF_INET6, socket.SOCK_DGRAM)",
        "__import__('urllib.request').request.urlopen('http://localhost:9')",
    ],
)
def test_python_code_that_reached_out_would_be_named(attempt: str, tmp_path: Path):
    """The first guard ends a process that looks up a name, connects or makes an internet socket."""
    code, _, said = guarded(["-c", f"import socket, no_network; no_network.guard_python(); {attempt}"], tmp_path)
    assert code == 99
    assert "REACHED OUT" in said


@pytest.mark.parametrize(
    "attempt",
    [
        "ctypes.CDLL(None).socket(2, 1, 0)",
        "ctypes.CDLL(None).socket(10, 2, 0)",
        "ctypes.CDLL(None).syscall(425, 1, 0)",
        "ctypes.CDLL(None).getaddrinfo(b'example.org', None, None, ctypes.byref(ctypes.c_void_p()))",
    ],
    ids=["internet", "the newer internet", "another way in", "a name"],
)
def test_code_in_c_that_reached_out_would_be_killed(attempt: str, tmp_path: Path):
    """The second guard ends a process whose C code, which Python's guard does not see, makes an internet socket."""
    code, shown, _ = guarded(
        ["-c", f"import ctypes, no_network; no_network.guard(); {attempt}; print('out')"], tmp_path
    )
    assert (code, shown) == (-signal.SIGSYS, "")


def test_a_child_that_reached_out_would_be_killed_too(tmp_path: Path):
    """The second guard holds for whatever the process starts."""
    child = "import ctypes; ctypes.CDLL(None).socket(2, 1, 0)"
    start = f"import subprocess, sys; sys.exit(-subprocess.run([sys.executable, '-S', '-c', {child!r}]).returncode)"
    code, _, _ = guarded(["-c", f"import no_network; no_network.guard(); {start}"], tmp_path)
    assert code == signal.SIGSYS


def test_sockets_inside_the_machine_are_let_through(tmp_path: Path):
    """What a window on a desktop needs, a local socket, is no reaching out."""
    attempt = "socket.socket(socket.AF_UNIX).close(); print('local')"
    code, shown, said = guarded(["-c", f"import socket, no_network; no_network.guard(); {attempt}"], tmp_path)
    assert (code, shown) == (0, "local"), said
