"""The core stands without Qt: every module of it imports and diagnoses where Qt cannot be had."""

from __future__ import annotations

import subprocess
import sys

from troubleshoot import resources

WITHOUT_QT = """
import importlib, pkgutil, sys

class NoQt:
    def find_spec(self, name, path=None, target=None):
        if name.split(".")[0] in ("PySide6", "shiboken6", "ui"):
            raise ImportError(f"{name} is blocked")

sys.meta_path.insert(0, NoQt())
import troubleshoot
for module in pkgutil.walk_packages(troubleshoot.__path__, "troubleshoot."):
    importlib.import_module(module.name)
from troubleshoot.cli import main
raise SystemExit(main(["diagnose", sys.argv[1]]))
"""


def test_the_core_imports_and_diagnoses_with_qt_blocked():
    """Nothing of the core needs Qt, not even to give a whole verdict."""
    case = resources.folder("rules") / "choux" / "cases" / "flat-over-egged.yaml"
    done = subprocess.run([sys.executable, "-c", WITHOUT_QT, str(case)], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    assert "More egg went in" in done.stdout
