"""No published row is lost: each is compared with a calculation, or the README says why it cannot be."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from published_rows import FOLDER, topic, topics

README = (FOLDER.parent / "README.md").read_text(encoding="utf-8")
TESTS = [path.read_text(encoding="utf-8") for path in Path(__file__).parent.glob("test_rows_of_*.py")]
ROWS = [row for name in topics() for row in topic(name)["rows"]]


def sections() -> dict[str, str]:
    """Return the parts of the README on each reason."""
    parts = re.split(r"^### .*\(`(\w+)`\)$", README, flags=re.MULTILINE)
    return dict(zip(parts[1::2], parts[2::2], strict=True))


@pytest.mark.parametrize("name", topics())
def test_every_row_is_compared_or_says_why_not(name):
    """A row has a source of its file and either a comparison with its tolerance or a reason, never both."""
    for row in topic(name)["rows"]:
        assert row["source"] in topic(name)["sources"], row["id"]
        assert ("by" in row and "within" in row) != ("why" in row), row["id"]


@pytest.mark.parametrize("name", topics())
def test_every_file_of_rows_is_read_by_one_test(name):
    """No file is left out, and none is compared twice."""
    assert sum(f'"{name}"' in "".join(re.findall(r"compared\(.*?\)\)", text)) for text in TESTS) == 1


def test_no_two_rows_share_an_id():
    """Each row is found by its id."""
    ids = [row["id"] for row in ROWS]
    assert len(set(ids)) == len(ids)


@pytest.mark.parametrize("reason", sorted({row["why"] for row in ROWS if "why" in row}))
def test_the_readme_lists_what_is_not_compared(reason):
    """The rows under a reason are those that give it, no more and no fewer."""
    listed = set(re.findall(r"`([\w.]+)`", sections()[reason]))
    assert listed == {row["id"] for row in ROWS if row.get("why") == reason}


def test_the_readme_counts_right():
    """The number of rows and of those compared is the true one."""
    assert f"{len(ROWS)} rows, {sum('by' in row for row in ROWS)} of them compared." in README
