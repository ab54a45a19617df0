"""What the pages for readers promise holds: commands exist, files lie where they say, and the case comes out as told."""

from __future__ import annotations

import argparse
import re
import textwrap
from pathlib import Path

import pytest

from troubleshoot import cli

ROOT = Path(__file__).parents[2]
PAGES = ("README.md", "DEVELOPERS.md", "docs/method.md", "docs/limits.md", "rules/README.md", "packaging/README.md")


def text(page: str) -> str:
    """The text of a page."""
    return (ROOT / page).read_text(encoding="utf-8")


def subcommands(of: argparse.ArgumentParser) -> dict[str, argparse.ArgumentParser]:
    """The commands of a parser by name."""
    return next((one.choices for one in of._actions if isinstance(one, argparse._SubParsersAction)), {})


def options(of: argparse.ArgumentParser) -> set[str]:
    """Every option of a command and of the words after it."""
    own = {word for one in of._actions for word in one.option_strings}
    return own.union(*(options(further) for further in subcommands(of).values()))


@pytest.mark.parametrize("page", PAGES)
def test_every_command_on_a_page_exists_with_its_options(page: str):
    """Each command in a span of code is one of the program's, and takes the options that stand beside it."""
    known = subcommands(cli.parser())
    for span in re.findall(r"`batchmend ([^`]+)`", text(page)):
        words = span.replace("\\|", " ").replace("[", " ").replace("]", " ").split()
        name = next((word for word in words if not word.startswith("-")), None)
        assert name in known, span
        named = {word for word in words if word.startswith("--")}
        assert named <= options(known[name]) | options(cli.parser()), span
        if name == "book" and len(words) > 1:
            assert words[words.index("book") + 1] in subcommands(known["book"]), span


@pytest.mark.parametrize("page", PAGES)
def test_every_file_on_a_page_lies_where_it_says(page: str):
    """Each path in a span of code that begins in a folder of the project is there."""
    tops = ("troubleshoot", "ui", "rules", "tests", "assets", "docs", "packaging", ".ci")
    for span in re.findall(r"`([^`\n]+)`", text(page)):
        for path in re.findall(rf"(?<![\w/.])(?:{'|'.join(map(re.escape, tops))})/[\w./*-]+", span):
            whole = path.replace("<", "").rstrip("/.")
            assert list(ROOT.glob(whole)), f"{page}: {path}"


def test_the_case_on_the_first_page_comes_out_as_it_says(tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    """The case file that the README shows can be copied, and its verdict is the one of the walk above it."""
    case = re.search(r"(?m)^    family: choux\n(?:    .+\n)+", text("README.md"))
    assert case is not None
    file = tmp_path / "case.yaml"
    file.write_text(textwrap.dedent(case[0]), encoding="utf-8")
    assert cli.main(["diagnose", str(file)]) == 0
    assert "More egg went in than the panade can hold" in capsys.readouterr().out
    assert "*More egg went in than the panade can hold*" in text("README.md")


def test_every_command_stands_on_the_first_page():
    """Whoever reads the README meets each command once."""
    assert [name for name in subcommands(cli.parser()) if f"`batchmend {name}" not in text("README.md")] == ["causes"]
    assert "`causes FAMILY" in text("README.md")
