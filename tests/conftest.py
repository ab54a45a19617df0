"""Shared by all tests: the rule base read once, and settings and cases kept out of the person's own folders."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from troubleshoot.inference.reason import Reasoner
from troubleshoot.interview.shelf import Shelf

#: Nothing is kept between runs of the tests; those of the store name a folder of their own.
os.environ["BATCHMEND_CACHE"] = "off"


@pytest.fixture(autouse=True)
def own_folders(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Every test has data and settings folders of its own."""
    monkeypatch.setenv("BATCHMEND_DATA", str(tmp_path / "data"))
    monkeypatch.setenv("BATCHMEND_SETTINGS", str(tmp_path / "settings"))
    return tmp_path


@pytest.fixture(scope="session")
def shelf() -> Shelf:
    """The shipped rule base."""
    return Shelf()


@pytest.fixture(scope="session")
def choux(shelf: Shelf) -> Reasoner:
    """The reasoner of the choux family."""
    return shelf.reasoner("choux")
