"""On screens of odd scales every page of a case keeps its names, its targets and its room."""

from __future__ import annotations

from pathlib import Path

import pytest
from surroundings import ROOT, run, surroundings

#: The walk through every page of a case, in a process of its own: Qt asks for its scale once, at its start.
WALK = "tests/gui/test_walk.py::test_every_page_of_a_case[choux-light-100]"


@pytest.mark.parametrize(
    ("name", "value", "ratio"),
    [
        ("QT_SCALE_FACTOR", "0.75", "0.75"),
        ("QT_SCALE_FACTOR", "1.5", "1.5"),
        ("QT_FONT_DPI", "120", "1.25"),
    ],
    ids=lambda part: part,
)
def test_no_page_is_cut_off_on_a_screen_of_another_scale(name: str, value: str, ratio: str, tmp_path: Path):
    """Nothing sticks out, is too small to press or scrolls sideways, and Qt warns of nothing."""
    env = surroundings(tmp_path, **{name: value}, DISPLAY=None)
    asked = "from ui.app import application; print(application().primaryScreen().devicePixelRatio())"
    assert run(["-c", asked], env, tmp_path).stdout.strip() == ratio
    options = ["-q", "-p", "no:xdist", "-p", "no:cacheprovider", f"--basetemp={tmp_path / 'walk'}"]
    ended = run(["-m", "pytest", *options, WALK], env, ROOT)
    assert ended.returncode == 0, ended.stdout
