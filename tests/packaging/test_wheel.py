"""The built wheel is whole: unpacked far from the checkout it finds its rules and drawings and diagnoses."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A wheel built from the checkout, without touching the network."""
    out = tmp_path_factory.mktemp("dist")
    command = [sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", str(out), str(ROOT)]
    subprocess.run(command, check=True, capture_output=True)
    (built,) = out.glob("*.whl")
    return built


def test_the_wheel_diagnoses_from_another_folder(wheel: Path, tmp_path: Path):
    """The command works from the wheel alone, and its data comes from inside it."""
    site = tmp_path / "site"
    zipfile.ZipFile(wheel).extractall(site)
    code = (
        "import sys; sys.path.insert(0, sys.argv[1])\n"
        "from troubleshoot import cli, resources\n"
        "assert str(resources.folder('rules')).startswith(sys.argv[1]), resources.folder('rules')\n"
        "assert resources.drawing('choux/tile').is_file()\n"
        "raise SystemExit(cli.main(['diagnose', str(resources.folder('rules') / 'choux/cases/flat-over-egged.yaml')]))\n"
    )
    done = subprocess.run(
        [sys.executable, "-I", "-c", code, str(site)], cwd=tmp_path, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    assert "More egg went in" in done.stdout


def test_the_wheel_holds_no_code_among_its_data_and_no_tests(wheel: Path):
    """Rules and drawings are data only, and tests stay at home."""
    names = zipfile.ZipFile(wheel).namelist()
    assert not [
        name
        for name in names
        if name.startswith(("troubleshoot/rules", "troubleshoot/assets")) and name.endswith(".py")
    ]
    assert not [name for name in names if name.startswith("tests/")]
    assert any(name.startswith("ui/") for name in names)


def test_two_builds_give_the_same_bytes(tmp_path: Path):
    """Built twice from the same files, at different times and with other permissions, the wheel is the same."""
    made = []
    for number, mask in enumerate((0o022, 0o077)):
        source = tmp_path / f"source{number}"
        for name in ("troubleshoot", "ui", "rules", "assets"):
            shutil.copytree(ROOT / name, source / name, ignore=shutil.ignore_patterns("__pycache__"))
        for name in ("pyproject.toml", "README.md", "LICENSE"):
            shutil.copy(ROOT / name, source)
        for path in source.rglob("*"):
            os.utime(path, (1_600_000_000 + number * 86_400, 1_600_000_000 + number * 86_400))
            path.chmod((0o777 if path.is_dir() else 0o666) & ~mask)
        out = tmp_path / f"out{number}"
        command = [sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", str(out), str(source)]
        subprocess.run(command, check=True, capture_output=True)
        (built,) = out.glob("*.whl")
        made.append(built.read_bytes())
    assert made[0] == made[1]
