"""A case is taken up again at the same question, however the window ended."""

from __future__ import annotations

import dataclasses
import json
import os
import re
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from troubleshoot.interview.state import State

ROOT = Path(__file__).parents[2]

KILLED = """
import os, signal, sys
from pathlib import Path
from ui.app import application, make_window
app = application()
window = make_window(Path("rules"))
window.show()
page = lambda: window.case.page
desk = window.desk
desk.act(lambda: desk.interview.choose_family("choux"))
desk.act(lambda: desk.interview.choose_fault("paste_runny"))
app.processEvents()
next(iter(page().cards.values())).click()
app.processEvents()
page().cant.click()
app.processEvents()
print(desk.interview.state.current, flush=True)
os.kill(os.getpid(), signal.SIGKILL)
"""


@pytest.mark.skipif(os.name == "nt", reason="there is no SIGKILL")
def test_killed_and_taken_up_at_the_same_question(open_window):
    """A window that is killed outright leaves its case, with every answer, at its question."""
    env = {**os.environ, "QT_QPA_PLATFORM": "offscreen", "PYTHONPATH": str(ROOT)}
    ended = subprocess.run(
        [sys.executable, "-c", KILLED], cwd=ROOT, env=env, capture_output=True, text=True, check=False
    )
    assert ended.returncode == -signal.SIGKILL, ended.stderr
    person = open_window()
    assert person.sees("Left unfinished")
    assert any(re.search(r", left \d\d [A-Z][a-z]{2} \d{4}, \d\d:\d\d$", text) for text in person.texts())
    assert person.sees("Choux, 2 answers")
    button = next(b for b in _buttons(person) if b.accessibleName().startswith("Take up again"))
    person.click(button)
    assert person.page.view.sign == ended.stdout.strip()
    assert len(person.interview.state.answers) == 2
    assert person.interview.state.fault == "paste_runny"


def test_closed_and_taken_up(open_window):
    """Closing lets the case go; taken up, it goes on under the same id."""
    first = open_window()
    first.to_question("paste_runny")
    first.press("1")
    first.press("1")
    sign, case_id = first.page.view.sign, first.desk.case_id
    first.window.close()
    second = open_window()
    (case,) = second.desk.unfinished()
    assert case.id == case_id
    second.desk.take_up(case)
    assert second.page.view.sign == sign
    assert second.desk.case_id == case_id


def test_open_case_is_not_offered_to_another_window(open_window):
    """Two windows never work on one case."""
    first = open_window()
    first.to_question("paste_runny")
    second = open_window()
    assert second.desk.unfinished() == ()


def test_a_case_that_holds_nothing_is_not_offered(open_window):
    """Choosing a family alone leaves nothing to take up."""
    first = open_window()
    first.desk.act(lambda: first.interview.choose_family("choux"))
    first.window.close()
    second = open_window()
    assert second.desk.unfinished() == ()
    assert list(second.desk.store.folder.glob("*.json")) == []


def test_another_family_keeps_the_case(open_window, monkeypatch):
    """Going back to the tiles and choosing another family leaves the case to be taken up again."""
    person = open_window()
    person.to_question("paste_runny")
    person.click("Can't tell")
    case_id, state = person.desk.case_id, person.interview.state
    person.desk.act(lambda: person.interview.resume(dataclasses.replace(state, step="family")))
    monkeypatch.setattr(
        type(person.interview), "choose_family", lambda self, family: self._go(State(step="family", family=family))
    )
    person.desk.choose_family("shortbread")
    assert person.desk.case_id != case_id
    (kept,) = [case for case in person.desk.unfinished() if case.id == case_id]
    assert kept.state.answers == state.answers


def test_thrown_away(open_window):
    """An unfinished case can be thrown away."""
    first = open_window()
    first.to_question("paste_runny")
    first.window.close()
    second = open_window()
    button = next(b for b in _buttons(second) if b.accessibleName().startswith("Throw away"))
    second.click(button)
    assert not second.sees("Left unfinished")
    assert second.desk.unfinished() == ()


def test_a_case_of_other_rules(open_window):
    """A case that names what the rules no longer hold is refused in words, and kept."""
    first = open_window()
    first.to_question("paste_runny")
    first.window.close()
    path = next(first.desk.store.folder.glob("*.json"))
    data = json.loads(path.read_text("utf-8"))
    data["asked"] = ["no_such_sign"]
    path.write_text(json.dumps(data), "utf-8")
    second = open_window()
    second.desk.take_up(second.desk.unfinished()[0])
    second.settle()
    assert second.interview.step == "family"
    assert second.sees("no_such_sign")
    assert path.is_file()


def test_an_unreadable_case_is_kept_aside_and_said(open_window):
    """A damaged file does not stop the window."""
    first = open_window()
    first.to_question("paste_runny")
    first.window.close()
    path = next(first.desk.store.folder.glob("*.json"))
    path.write_text("{", "utf-8")
    second = open_window()
    assert any("could not be read" in said for said in second.window.shown_strips())
    assert list(path.parent.glob("*.unreadable1"))


def _buttons(person):
    from ui.widgets.basic import Button

    return [button for button in person.window.findChildren(Button) if button.isVisible()]
