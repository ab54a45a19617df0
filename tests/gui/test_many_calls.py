"""The window outlives any number of calls to Qt."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]

MANY_CALLS = """
import ui
from PySide6.QtCore import QObject
thing = QObject()
for _ in range(200_000):
    thing.setObjectName("x")
print("alive")
"""


def test_two_hundred_thousand_calls(tmp_path):
    """Calls that return nothing use nothing up."""
    env = {**os.environ, "QT_QPA_PLATFORM": "offscreen", "PYTHONPATH": str(ROOT)}
    ended = subprocess.run(
        [sys.executable, "-c", MANY_CALLS], cwd=tmp_path, env=env, capture_output=True, text=True, check=False
    )
    assert (ended.returncode, ended.stdout) == (0, "alive\n"), ended.stderr
