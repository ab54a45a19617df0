"""Rules read again after a save: only what changed is read, what is broken keeps the rules it had."""

from __future__ import annotations

import os
import shutil
from pathlib import Path

import pytest

from troubleshoot.errors import CaseError
from troubleshoot.interview.session import Session
from troubleshoot.interview.shelf import Shelf
from troubleshoot.knowledge import kept

SMALL = Path(__file__).parents[2] / "support" / "small_rules"


@pytest.fixture
def rules(tmp_path) -> Path:
    folder = tmp_path / "rules"
    shutil.copytree(SMALL, folder)
    return folder


@pytest.fixture
def parsed(monkeypatch) -> list[str]:
    """The names of the files that are parsed from now on."""
    names: list[str] = []
    read = kept.read_bytes

    def noting(raw: bytes, name: str):
        names.append(Path(name).name)
        return read(raw, name)

    monkeypatch.setattr(kept, "read_bytes", noting)
    return names


def save(path: Path, old: str, new: str) -> None:
    text = path.read_text("utf-8")
    assert old in text
    path.write_text(text.replace(old, new), "utf-8")


def test_only_the_file_that_changed_is_parsed(rules, parsed):
    """One saved file costs one file."""
    shelf = Shelf(rules)
    shelf.rulebase("toast")
    parsed.clear()
    save(rules / "toast/causes/dial_high.yaml", "too high", "far too high")
    reading = shelf.look_again()
    assert parsed == ["dial_high.yaml"]
    assert reading.bases["toast"].families["toast"].causes["dial_high"].name == "The dial stood far too high"


def test_nothing_is_read_when_nothing_changed(rules, parsed):
    """Another look at unchanged files opens none of them."""
    shelf = Shelf(rules)
    shelf.rulebase("toast")
    parsed.clear()
    assert shelf.look_again().empty
    assert parsed == []


def test_a_file_saved_unchanged_is_not_parsed(rules, parsed):
    """A save that changes no byte costs no parsing."""
    shelf = Shelf(rules)
    shelf.rulebase("toast")
    parsed.clear()
    path = rules / "toast/causes/dial_high.yaml"
    path.write_bytes(path.read_bytes())
    os.utime(path, ns=(1, 1))
    assert not shelf.look_again().problems
    assert parsed == []


def test_looking_changes_nothing_until_it_is_taken(rules):
    """What was read again is in force only once it is taken."""
    shelf = Shelf(rules)
    before = shelf.reasoner("toast")
    save(rules / "toast/causes/dial_high.yaml", "too high", "far too high")
    reading = shelf.look_again()
    assert shelf.reasoner("toast") is before
    shelf.take(reading)
    assert shelf.reasoner("toast").family.causes["dial_high"].name == "The dial stood far too high"


def test_broken_files_keep_the_last_good_rules(rules):
    """A slip is told with its line, the rules before stay, and mended files are read."""
    shelf = Shelf(rules)
    good = shelf.rulebase("toast")
    path = rules / "toast/causes/dial_high.yaml"
    text = path.read_text("utf-8")
    path.write_text(text.replace("how_common: 4", "how_common: 9"), "utf-8")
    reading = shelf.look_again()
    shelf.take(reading)
    line = text.splitlines().index("how_common: 4") + 1
    assert [(Path(p.place.file).name, p.place.line) for p in reading.problems] == [("dial_high.yaml", line)]
    assert shelf.rulebase("toast") is good
    assert shelf.look_again().problems == reading.problems
    path.write_text(text.replace("how_common: 4", "how_common: 5"), "utf-8")
    reading = shelf.look_again()
    shelf.take(reading)
    assert reading.problems == ()
    assert shelf.rulebase("toast").families["toast"].causes["dial_high"].how_common == 5


def test_a_file_that_is_gone_is_noticed(rules):
    """What was deleted is no longer in the rules, or is missed by name where something leads to it."""
    shelf = Shelf(rules)
    shelf.rulebase("toast")
    (rules / "toast/remedies/buy_fresh.yaml").unlink()
    problems = shelf.look_again().problems
    assert [problem.wrong for problem in problems] == ["unknown remedy 'buy_fresh'"]


def test_strengths_follow_the_vocabulary(rules):
    """A changed scale changes every cause, though their files did not change."""
    shelf = Shelf(rules)
    shelf.rulebase("toast")
    save(rules / "vocabulary.yaml", "usually: 0.80", "usually: 0.70")
    shelf.take(shelf.look_again())
    assert shelf.rulebase("toast").families["toast"].causes["dial_high"].shows_as["edge"]["darker"] == 0.7


def test_an_interview_goes_on_under_new_rules(rules):
    """An open interview keeps its rules until it is renewed, and then its answers count under the new ones."""
    session = Session(Shelf(rules))
    session.choose_family("toast")
    session.choose_fault("burnt")
    session.volunteer("heat", "hot")
    save(rules / "toast/causes/dial_high.yaml", "too high", "far too high")
    assert session.take_rules(session.shelf.look_again())
    assert session.suspects()[0].name == "The dial stood too high"
    assert session.renew()
    assert session.suspects()[0].name == "The dial stood far too high"
    assert session.state.answers["heat"].answer == "hot"


def test_an_interview_of_other_words_keeps_its_rules(rules):
    """When the new rules no longer hold an answer that was given, the interview goes on with the old ones."""
    session = Session(Shelf(rules))
    session.choose_family("toast")
    session.choose_fault("hard")
    save(rules / "toast/faults.yaml", "  hard:\n", "  tough:\n")
    save(rules / "common/causes/old_bread.yaml", "fault: hard", "fault: tough")
    session.take_rules(session.shelf.look_again())
    assert not session.renew()
    assert session.verdict().cause == "old_bread"
    session.restart()
    session.choose_family("toast")
    with pytest.raises(CaseError):
        session.choose_fault("hard")
