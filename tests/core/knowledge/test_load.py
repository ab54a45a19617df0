"""A rules folder with mistakes: all are said at once, each at its line, with what to write."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from troubleshoot import resources
from troubleshoot.errors import RuleBaseError
from troubleshoot.knowledge.load import load

Edit = Callable[[Path], None]


@pytest.fixture
def rules(tmp_path: Path) -> Path:
    """A copy of the shipped rules with only the choux family."""
    folder = tmp_path / "rules"
    folder.mkdir()
    for name in ("choux", "common"):
        shutil.copytree(resources.folder("rules") / name, folder / name)
    for path in resources.folder("rules").glob("*.yaml"):
        shutil.copy(path, folder)
    return folder


def replaced(path: Path, old: str, new: str) -> int:
    """Replace one piece of text in a file and return the line it stood on."""
    text = path.read_text(encoding="utf-8")
    assert old in text, f"{old!r} is not in {path}"
    path.write_text(text.replace(old, new, 1), encoding="utf-8")
    return text[: text.index(old)].count("\n") + 1


def messages(rules: Path) -> list[str]:
    with pytest.raises(RuleBaseError) as caught:
        load(rules, ["choux"])
    return [str(problem).removeprefix(str(rules) + "/") for problem in caught.value.problems]


def test_the_shipped_copy_loads(rules: Path):
    """The copy the other tests break is sound to begin with."""
    assert set(load(rules, ["choux"]).families) == {"choux"}


@pytest.mark.parametrize(
    ("file", "old", "new", "expected"),
    [
        (
            "choux/causes/egg_overdose.yaml",
            "shows_as:",
            "shows_at:",
            "shows_at: this key is not known here; did you mean 'shows_as'?",
        ),
        (
            "choux/causes/egg_overdose.yaml",
            "paste_hang: {runs_off: nearly-always",
            "paste_hang: {runs_of: nearly-always",
            "unknown answer to paste_hang 'runs_of'; did you mean 'runs_off'?",
        ),
        (
            "choux/causes/egg_overdose.yaml",
            "runs_off: nearly-always",
            "runs_off: nearly-allways",
            "is not one of the words that can stand here; did you mean 'nearly-always'?",
        ),
        (
            "choux/causes/egg_overdose.yaml",
            "how_common: 5",
            "how_common: 9",
            "how_common: '9' is out of range; write a number at least 1 and at most 5",
        ),
        ("choux/causes/egg_overdose.yaml", "stage: egg", "stage: eg", "unknown stage 'eg'"),
        (
            "choux/causes/egg_overdose.yaml",
            "stiffen_with_panade,",
            "stiffen_with_panad,",
            "unknown remedy 'stiffen_with_panad'; did you mean 'stiffen_with_panade'?",
        ),
        (
            "choux/causes/egg_overdose.yaml",
            "cause: egg_overdose",
            "cause: egg_overdoze",
            "the cause is not called like its file 'egg_overdose'; write 'egg_overdose' or rename the file",
        ),
        (
            "choux/signs/panade_loss.yaml",
            "at_least: 4, below: 12",
            "at_least: 5, below: 12",
            "the bands leave a gap or overlap before '4_to_12pct'; let it begin at 4.0",
        ),
        (
            "choux/signs/panade_loss.yaml",
            "by: weight_loss_percent",
            "by: weight_los_percent",
            "the kitchen has no calculation 'weight_los_percent'; did you mean 'weight_loss_percent'?",
        ),
        (
            "choux/signs/panade_loss.yaml",
            "batch.panade_before_g",
            "batch.panade_befor_g",
            "unknown batch figure 'panade_befor_g'; did you mean 'panade_before_g'?",
        ),
        ("choux/signs/paste_hang.yaml", "minutes: 1", "minutes: one", "minutes: 'one' is not a number; write a number"),
        (
            "choux/remedies/stiffen_with_panade.yaml",
            "because:",
            "becuase:",
            "the key 'because' is missing; add 'because:'",
        ),
        (
            "choux/family.yaml",
            "remake: remake_choux",
            "remake: remake_shoux",
            "unknown remedy 'remake_shoux'; did you mean 'remake_choux'?",
        ),
    ],
)
def test_each_mistake_is_found_and_advised(rules: Path, file: str, old: str, new: str, expected: str):
    """A misspelt key, word, id, stage, calculation or number is named in its file with what to write."""
    replaced(rules / file, old, new)
    found = messages(rules)
    assert any(line.startswith(file) and expected in line for line in found), found


def test_a_misspelt_key_is_reported_on_its_own_line(rules: Path):
    """The line of the message is the line of the mistake."""
    line = replaced(rules / "choux/causes/egg_overdose.yaml", "shows_as:", "shows_at:")
    assert any(m.startswith(f"choux/causes/egg_overdose.yaml:{line}:1: shows_at:") for m in messages(rules))


def test_each_missing_key_is_told_once(rules: Path):
    """Two keys that are missing from one file are two problems, not four."""
    file = rules / "choux/signs/paste_hang.yaml"
    lines = file.read_text(encoding="utf-8").splitlines(keepends=True)
    file.write_text("".join(one for one in lines if not one.startswith(("kind:", "minutes:"))), encoding="utf-8")
    with pytest.raises(RuleBaseError) as caught:
        load(rules)
    missing = [str(problem) for problem in caught.value.problems if "is missing" in problem.wrong]
    assert len(missing) == 2


def test_mistakes_in_several_files_are_all_reported_at_once(rules: Path):
    """One bad file hides no other."""
    replaced(rules / "choux/causes/egg_overdose.yaml", "how_common: 5", "how_common: 9")
    replaced(rules / "choux/signs/paste_hang.yaml", "minutes: 1", "minutes: one")
    found = " ".join(messages(rules))
    assert "egg_overdose.yaml" in found
    assert "paste_hang.yaml" in found


def test_a_renamed_id_says_what_it_is_called_now(rules: Path):
    """An id that was renamed is answered with its new name."""
    (rules / "renamed.yaml").write_text("renamed: {tips_of_spatula: paste_hang}\n", encoding="utf-8")
    replaced(rules / "choux/causes/egg_overdose.yaml", "  paste_hang: {", "  tips_of_spatula: {")
    assert any("it is now called 'paste_hang'" in line for line in messages(rules))


def test_a_folder_without_families_is_refused(tmp_path: Path):
    """A folder that is no rules folder says so."""
    with pytest.raises(RuleBaseError, match="no family"):
        load(tmp_path)
    with pytest.raises(RuleBaseError, match="there is no such folder"):
        load(tmp_path / "nowhere")
