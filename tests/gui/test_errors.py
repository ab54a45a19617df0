"""What goes wrong is said: what happened, what was kept, what to do; and work goes on."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from PySide6.QtCore import Qt

from troubleshoot import settings as kept_settings
from ui.app import make_window

RULES = Path(__file__).parents[2] / "rules"


@pytest.fixture
def broken_rules(tmp_path) -> Path:
    """A rules folder with choux as it is, and a family whose files cannot be used."""
    folder = tmp_path / "rules"
    shutil.copytree(RULES, folder, ignore=lambda d, names: [n for n in names if Path(d) == RULES and n in OTHERS])
    header = (folder / "choux" / "family.yaml").read_text("utf-8")
    (folder / "shortbread").mkdir()
    other = header.replace("family: choux", "family: shortbread").replace("name: Choux", "name: Shortbread")
    (folder / "shortbread" / "family.yaml").write_text(other, "utf-8")
    (folder / "shortbread" / "faults.yaml").write_text("faults:\n  flat:\n    sya: It is flat\n", "utf-8")
    return folder


OTHERS = {"shortbread", "whipped-cream", "melted-chocolate", "candied-peel"}


def test_a_broken_family_leaves_the_others_usable(open_window, broken_rules):
    """The problems stand there by file and line, and choux can still be chosen."""
    person = open_window(rules=broken_rules)
    names = [tile.title for tile in person.page.tiles]
    person.click(person.page.tiles[names.index("Shortbread")])
    assert person.sees("The rule files cannot be used")
    assert any("shortbread" in text and ".yaml, line" in text for text in person.texts())
    person.click("To the families")
    person.click(person.page.tiles[names.index("Choux")])
    assert person.interview.step == "fault"


def test_mended_files_are_read_again(open_window, broken_rules):
    """Read again after mending the files goes on without a restart."""
    header = (broken_rules / "choux" / "family.yaml").read_text("utf-8")
    (broken_rules / "choux" / "family.yaml").write_text("family: [choux\n", "utf-8")
    person = open_window(rules=broken_rules)
    assert person.desk.session is None
    assert person.sees("The rule files cannot be used")
    assert any("family.yaml, line" in text for text in person.texts())
    (broken_rules / "choux" / "family.yaml").write_text(header, "utf-8")
    person.click("Read again")
    assert person.sees("What are you making?")


def test_no_rules_at_all(open_window, tmp_path):
    """A folder without rules says so, and nothing else breaks."""
    person = open_window(rules=tmp_path / "nothing")
    assert person.sees("The rule files cannot be used")
    assert person.sees("there is no such folder")
    person.press(Qt.Key.Key_Backspace)
    person.click(person.window.buttons["settings"])
    assert person.sees("Settings")


def test_a_number_out_of_bounds(person):
    """It is said with the bounds, the question stays, and a right number goes on."""
    person.to_question("paste_runny")
    person.desk.act(lambda: person.interview.show("panade_loss"))
    person.page.number.setFocus()
    person.type("99")
    person.press(Qt.Key.Key_Return)
    assert person.page.view.sign == "panade_loss"
    assert person.sees("That could not be taken.")
    assert person.sees("Give 0 to 40 %.")
    assert "panade_loss" not in person.interview.state.answers
    person.page.number.clear()
    person.page.number.setFocus()
    person.type("7,5")
    person.press(Qt.Key.Key_Return)
    assert person.interview.state.answers["panade_loss"].value == 7.5
    assert person.window.shown_strips() == []


def test_letters_where_a_number_is_wanted(person):
    """Words in a number field are refused with what to type."""
    person.to_question("paste_runny")
    person.desk.act(lambda: person.interview.show("panade_loss"))
    for typed in ("lots", "nan", "inf", "1e999"):
        person.page.number.setFocus()
        person.page.number.setText(typed)
        person.press(Qt.Key.Key_Return)
        assert person.page.view.sign == "panade_loss"
        assert person.window.shown_strips() != []
    assert "panade_loss" not in person.interview.state.answers


def test_a_strip_is_put_away(person):
    """The button on a strip puts it away."""
    person.to_question("paste_runny")
    person.press(Qt.Key.Key_Return)
    assert len(person.window.shown_strips()) == 1
    person.click("Put this message away")
    assert person.window.shown_strips() == []


def test_a_case_that_cannot_be_saved_goes_on(person, monkeypatch):
    """A full disk is said once, the interview works, and the strip goes when saving works again."""

    def full(*_):
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patch:
        patch.setattr("troubleshoot.atomic.write_text", full)
        person.to_question("paste_runny")
        person.press("1")
        person.press("1")
        assert person.interview.state.answers
        assert person.window.shown_strips() == ["Not saved, carrying on (No space left on device)."]
    person.press("1")
    person.press("1")
    assert person.window.shown_strips() == []


def test_a_folder_that_cannot_be_written(open_window, tmp_path):
    """A data folder that cannot be written in is said, and the interview works."""
    (tmp_path / "data").write_text("a file where the folder should be", "utf-8")
    person = open_window()
    person.to_question("paste_runny")
    assert any("Not saved" in said for said in person.window.shown_strips())
    assert person.interview.step == "question"


def test_settings_that_cannot_be_read(qtbot):
    """Broken settings are kept aside, said, and the usual ones hold."""
    kept_settings.path().parent.mkdir(parents=True)
    kept_settings.path().write_text("{", "utf-8")
    window = make_window(RULES)
    qtbot.addWidget(window)
    assert len(window.shown_strips()) == 1
    assert "could not be read" in window.shown_strips()[0]
    assert list(kept_settings.path().parent.glob("*.unreadable1"))


def test_settings_that_cannot_be_saved(person, monkeypatch):
    """They hold in this window, and it is said that they will not last."""

    def refused(*_):
        raise OSError(13, "Permission denied")

    monkeypatch.setattr("troubleshoot.atomic.write_text", refused)
    person.window.go("settings")
    option = next(o for o in person.window.findChildren(_option()) if o.accessibleName().endswith("°F"))
    person.click(option)
    assert person.desk.settings.fahrenheit
    assert person.sees("They hold until you close the window.")


def _option():
    from ui.widgets.basic import Option

    return Option


def test_a_pdf_that_cannot_be_written(person, tmp_path):
    """The verdict stays, and it is said why there is no PDF."""
    person.to_question("paste_runny")
    person.click("Verdict as it stands")
    assert not person.page.save_pdf_as(tmp_path)
    person.settle()
    assert person.sees("The verdict is kept.")


def test_a_wrong_weight_in_a_remedy(person):
    """A weight out of its bounds is refused with the bounds, and the one before is kept."""
    person.to_question("paste_runny")
    assert not person.desk.set_batch("flour_g", 1)
    person.settle()
    assert person.sees("Give 10 to 20000 g.")
    assert "flour_g" not in person.interview.state.batch


def test_nonsense_in_the_optional_facts(person):
    """Minutes and pieces that are no numbers are refused and leave what was there."""
    person.desk.act(lambda: person.interview.choose_family("choux"))
    for letter, typed in ((Qt.Key.Key_M, "soon"), (Qt.Key.Key_I, "many"), (Qt.Key.Key_M, "-5"), (Qt.Key.Key_I, "0")):
        person.press(letter, Qt.KeyboardModifier.AltModifier)
        person.type(typed)
        person.press(Qt.Key.Key_Tab)
        assert person.window.shown_strips() != [], typed
        person.window.put_away("action")
    assert person.interview.state.service_in_min is None
    assert "pieces" not in person.interview.state.batch
