"""The built wheel is whole: unpacked far from the checkout it finds its rules and drawings and diagnoses."""

from __future__ import annotations

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
