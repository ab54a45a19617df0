"""What ships beside the wheel for Linux names the program as it is: desktop entry, icon, metainfo and completion."""

from __future__ import annotations

import argparse
import configparser
import subprocess
import tomllib
import xml.etree.ElementTree as ET
from pathlib import Path

from troubleshoot.cli import parser

ROOT = Path(__file__).parents[2]
LINUX = ROOT / "packaging" / "linux"
COMPLETION = ROOT / "packaging" / "completion" / "batchmend.bash"


def completed(*words: str) -> set[str]:
    """What bash offers for the last of these words."""
    line = " ".join(f"'{word}'" for word in words)
    script = f"source '{COMPLETION}'; COMP_WORDS=({line}); COMP_CWORD={len(words) - 1}; _batchmend; printf '%s\\n' \"${{COMPREPLY[@]}}\""
    ended = subprocess.run(["bash", "-c", script], cwd=ROOT / "tests", capture_output=True, text=True, check=True)
    return set(ended.stdout.split())


def commands() -> dict[str, argparse.ArgumentParser]:
    """Every command with its parser."""
    return next(one for one in parser()._actions if isinstance(one, argparse._SubParsersAction)).choices


def test_the_desktop_entry_starts_the_command_and_shows_the_icon():
    """It has the keys a desktop needs, and its icon is there under its name."""
    entry = configparser.ConfigParser(interpolation=None)
    entry.optionxform = str  # type: ignore[assignment, method-assign]
    entry.read(LINUX / "batchmend.desktop", encoding="utf-8")
    keys = entry["Desktop Entry"]
    scripts = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]["scripts"]
    assert (keys["Type"], keys["Exec"], keys["Terminal"]) == ("Application", next(iter(scripts)), "false")
    assert (LINUX / f"{keys['Icon']}.svg").is_file()


def test_the_icon_is_a_drawing_with_nothing_to_run_or_fetch():
    """It is square SVG without scripts, links or pictures from elsewhere."""
    root = ET.parse(LINUX / "batchmend.svg").getroot()
    assert root.get("viewBox") == "0 0 128 128"
    for part in root.iter():
        assert part.tag.rpartition("}")[2] in {"svg", "title", "rect", "path"}
        assert not [name for name in part.attrib if "href" in name or name.startswith("on")]


def test_the_metainfo_tells_of_this_version():
    """It names the desktop entry, the licence and the version of the package."""
    root = ET.parse(LINUX / "org.batchmend.Batchmend.metainfo.xml").getroot()
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    assert root.findtext("launchable") == "batchmend.desktop"
    assert root.findtext("project_license") == project["license"]
    assert next(one.get("version") for one in root.iter("release")) == project["version"]


def test_completion_knows_every_command_and_option():
    """Each command, and each long option of each command, is offered."""
    assert set(commands()) <= completed("batchmend", "")
    for name, command in commands().items():
        options = {word for one in command._actions for word in one.option_strings if word.startswith("--")} - {
            "--help"
        }
        assert options <= completed("batchmend", name, "--"), name


def test_completion_knows_the_families_and_what_a_book_takes():
    """The families of the shipped rules follow a command that wants one; the words of the book follow it."""
    families = {path.parent.name for path in (ROOT / "rules").glob("*/family.yaml")}
    for name in ("ask", "signs", "causes", "measure", "card", "practise"):
        assert families <= completed("batchmend", name, "")
    book = next(one for one in commands()["book"]._actions if isinstance(one, argparse._SubParsersAction)).choices
    assert set(book) <= completed("batchmend", "--rules", "x", "book", "")


def test_completion_narrows_to_what_was_begun():
    """After the first letters only what begins so is offered."""
    assert completed("batchmend", "dia") == {"diagnose"}
