"""Shared by the tests of faults: the shipped rules are parsed once in a run, and a kitchen that is in full use."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from busy_kitchen import Kitchen, furnish
from surroundings import _read_once, kept_rules

__all__ = ["_read_once", "kept_rules"]


@pytest.fixture(scope="session")
def furnished(tmp_path_factory: pytest.TempPathFactory) -> Kitchen:
    """A kitchen in full use, made once; tests take a copy of it."""
    kitchen = Kitchen(tmp_path_factory.mktemp("furnished"))
    kitchen.out.mkdir()
    with pytest.MonkeyPatch.context() as patch:
        kitchen.live_in(patch)
        furnish(kitchen)
    return kitchen


@pytest.fixture
def kitchen(furnished: Kitchen, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Kitchen:
    """A kitchen in full use, lived in by this process."""
    own = Kitchen(Path(shutil.copytree(furnished.home, tmp_path / "kitchen")))
    own.live_in(monkeypatch)
    return own
