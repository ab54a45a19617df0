"""Cases drawn once for all tests of practice."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from troubleshoot.inference.reason import Reasoner
from troubleshoot.interview.shelf import Shelf
from troubleshoot.practice.cases import LEVELS, CaseKey, PracticeCase, draw_case
from troubleshoot.practice.record import Finished


@pytest.fixture(scope="session")
def drawn(shelf: Shelf) -> dict[str, list[PracticeCase]]:
    """One case of each level for every family, and four more of choux."""
    found = {}
    for header in shelf.headers:
        numbers = (1, 2) if header.id == "choux" else (1,)
        keys = [CaseKey(header.id, level, number) for level in LEVELS for number in numbers]
        found[header.id] = [draw_case(shelf.reasoner(header.id), key) for key in keys]
    return found


@pytest.fixture(scope="session")
def clear(choux: Reasoner) -> PracticeCase:
    """A choux case whose panade was left too wet, asked about by the program with two questions."""
    return draw_case(choux, CaseKey("choux", 1, 3))


def finished_round(number: int = 1, **changes: object) -> Finished:
    """A finished round as a record keeps it, made by hand."""
    values: dict[str, object] = {
        "id": f"round-{number}",
        "at": datetime(2026, 3, 2, 9, number % 60, tzinfo=UTC),
        "code": "choux-1-3",
        "causes": ("door_opened",),
        "named": "door_opened",
        "rival": "underbaked",
        "chain": "door_opened",
        "total": 90,
        "passed": True,
        "points": {"cause": 40, "reason": 20, "rescue": 20, "thrift": 10},
        "minutes": 12.5,
        "pieces": 1.0,
        "program_minutes": 8.0,
        "program_pieces": 0.0,
        "rules_version": "0123456789ab",
    }
    return Finished(**{**values, **changes})  # type: ignore[arg-type]


@pytest.fixture
def made() -> object:
    """How to make a finished round by hand."""
    return finished_round
