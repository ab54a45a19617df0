"""Published rows as they stand in tests/published/rows, each with its source and what it is compared with."""

from __future__ import annotations

import importlib
from collections.abc import Callable, Mapping
from functools import cache
from pathlib import Path
from typing import Any

import pytest
import yaml

FOLDER = Path(__file__).parents[1] / "published" / "rows"

Row = Mapping[str, Any]


@cache
def topic(name: str) -> dict[str, Any]:
    """Return a file of rows: its sources and its rows."""
    return yaml.safe_load((FOLDER / f"{name}.yaml").read_text(encoding="utf-8"))


def topics() -> list[str]:
    """Return the names of the files."""
    return sorted(path.stem for path in FOLDER.glob("*.yaml"))


def compared(*names: str) -> list[Any]:
    """Return the rows of some files that are compared, as parameters of a test."""
    return [pytest.param(row, id=row["id"]) for name in names for row in topic(name)["rows"] if "by" in row]


def near(row: Row, found: float, value: float | None = None) -> None:
    """Assert that a figure is the row's, within what its source supports."""
    wanted = row["value"] if value is None else value
    assert found == pytest.approx(wanted, rel=1e-12, abs=row["within"]), f"{row['id']}: {found} against {wanted}"


def kept(where: str) -> Any:
    """Return a figure that the kitchen keeps, by module and name: ``eggs.US_LARGE_WHITE_G``."""
    module, name = where.split(".")
    return getattr(importlib.import_module(f"troubleshoot.kitchen.{module}"), name)


def by_name(row: Row, comparisons: Mapping[str, Callable[[Row, dict[str, Any]], None]]) -> None:
    """Make the comparison that a row names."""
    comparisons[row["by"]](row, dict(row.get("at", {})))
