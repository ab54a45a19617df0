"""Press and type at random: ``python tests/gui/walker.py --actions 5000 --family all [--seed 1] [--only-case]``.

After every action nothing may have raised, Qt may have warned of nothing, every answer must stand as it was given, and
the case on disk must be the case on show.  Prints what was done where, or the last actions before it went wrong.
"""

from __future__ import annotations

import argparse
import functools
import importlib
import json
import os
import pkgutil
import random
import sys
import tempfile
import traceback
from collections import Counter, deque
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from pathlib import Path

if not os.environ.get("DISPLAY"):
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
sys.path.insert(0, str(Path(__file__).parents[2]))

from PySide6.QtCore import QEvent, Qt, QtMsgType, qInstallMessageHandler
from PySide6.QtGui import QKeyEvent
from PySide6.QtPrintSupport import QPrintDialog
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication, QFileDialog, QLineEdit, QWidget

import ui
from troubleshoot import settings as kept_settings
from troubleshoot.interview.state import State
from troubleshoot.interview.store import from_data
from troubleshoot.settings import Settings
from ui.app import make_window
from ui.widgets.chain import ChainBox
from ui.widgets.layouts import Sheet
from ui.window import Window

#: What somebody, or a cat, may type.
TYPED = (
    "7",
    "7,5",
    "180",
    "-5",
    "0",
    "1e999",
    "nan",
    "",
    " ",
    "soggy",
    "run",
    "zzz",
    "<b>x</b>",
    "&",
    "٣",
    "½",
    "9" * 40,
)
KEYS = (
    *(Qt.Key(Qt.Key.Key_0 + digit) for digit in range(10)),
    Qt.Key.Key_Return,
    Qt.Key.Key_Enter,
    Qt.Key.Key_Backspace,
    Qt.Key.Key_Escape,
    Qt.Key.Key_Tab,
    Qt.Key.Key_Backtab,
    Qt.Key.Key_Down,
    Qt.Key.Key_Up,
    Qt.Key.Key_Left,
    Qt.Key.Key_PageDown,
    Qt.Key.Key_PageUp,
    Qt.Key.Key_Space,
)
#: Presses that end a case on purpose.
ENDS = ("New case", "Throw away")


@dataclass
class Walk:
    """Somebody at a window who presses and types at random."""

    window: Window
    rng: random.Random
    scratch: Path
    family: str | None = None
    only_case: bool = True
    said: list[str] = field(default_factory=list)
    done: Counter[str] = field(default_factory=Counter)
    last: deque[str] = field(default_factory=lambda: deque(maxlen=12))

    def go(self, actions: int) -> None:
        """Do so many actions.  Raises AssertionError at the first that went wrong."""
        hook, handler = sys.excepthook, qInstallMessageHandler(self._hear)
        sys.excepthook = lambda kind, error, trace: self.said.append("".join(traceback.format_exception(error)))
        answers = {
            "getSaveFileName": lambda *_, **__: (self._file(), ""),
            "getOpenFileName": lambda *_, **__: (self._file(), ""),
            "getOpenFileNames": lambda *_, **__: ([self._file()] * self.rng.randint(0, 2), ""),
            "getExistingDirectory": lambda *_, **__: self._file(),
        }
        dialogs = {name: getattr(QFileDialog, name) for name in answers}
        printing = QPrintDialog.exec
        for name, answer in answers.items():
            setattr(QFileDialog, name, answer)
        QPrintDialog.exec = lambda *_: QPrintDialog.DialogCode.Rejected
        try:
            for _ in range(actions):
                self._act()
        finally:
            sys.excepthook, QPrintDialog.exec = hook, printing
            for name, dialog in dialogs.items():
                setattr(QFileDialog, name, dialog)
            qInstallMessageHandler(handler)

    # -- acting ------------------------------------------------------------------------

    def _act(self) -> None:
        if self.only_case and self.window.at != "case":  # Tab and the space bar led out of it
            self.window.go("case")
        before, case_id = self._state(), self.window.desk.case_id
        choices = {"press": 10, "key": 5, "type": 3, "letter": 2}
        (kind,) = self.rng.choices(list(choices), list(choices.values()))
        what = getattr(self, f"_{kind}")()
        self.last.append(f"{kind} {what}")
        self.done[f"{self.window.at} {before.step} {kind}"] += 1
        self._settle()
        self._check(before, case_id, kind, what)

    def _press(self) -> str:
        buttons = [b for b in self._shown(QAbstractButton) if b.isEnabled()] + self._shown(ChainBox)
        if self.only_case:
            buttons = [b for b in buttons if self.window.case.isAncestorOf(b) or b.accessibleName().startswith("Put")]
        page = self.window.case.page
        tiles = getattr(page, "tiles", []) if self.window.at == "case" else []
        if self.family is not None and tiles and self.rng.random() < 0.7:
            families = [tile.family for tile in self.window.desk.interview.tiles()]
            buttons = [tiles[families.index(self.family)]]
        if not buttons:
            return "nothing"
        button = self.rng.choice(buttons)
        name = button.accessibleName()
        self._bring_into_view(button)
        press = QTest.mouseDClick if self.rng.random() < 0.05 else QTest.mouseClick
        press(button, Qt.MouseButton.LeftButton)
        return name

    def _key(self) -> str:
        key = self.rng.choice(KEYS)
        back = key == Qt.Key.Key_Left
        modifier = Qt.KeyboardModifier.AltModifier if back else Qt.KeyboardModifier.NoModifier
        QTest.keyClick(self._focus(), key, modifier)
        return f"{key.name} at {self._focus().accessibleName()}"

    def _letter(self) -> str:
        letter = self.rng.choice("abcdefghijklmnopqrstuvwxyz?")
        alt = Qt.KeyboardModifier.AltModifier if self.rng.random() < 0.7 else Qt.KeyboardModifier.NoModifier
        if self.only_case and alt and letter in self._letters_of_places():
            alt = Qt.KeyboardModifier.NoModifier
        QTest.keyClick(self._focus(), letter, alt)
        return letter

    def _type(self) -> str:
        fields = self._shown(QLineEdit)
        if self.only_case:
            fields = [one for one in fields if self.window.case.isAncestorOf(one)]
        words = self.rng.choice(TYPED)
        if fields:
            one = self.rng.choice(fields)
            self._bring_into_view(one)
            QTest.mouseClick(one, Qt.MouseButton.LeftButton)
            if self.rng.random() < 0.6:
                one.selectAll()
        for letter in words:  # QTest types plain letters alone
            QApplication.sendEvent(
                self._focus(), QKeyEvent(QEvent.Type.KeyPress, 0, Qt.KeyboardModifier.NoModifier, letter)
            )
        if self.rng.random() < 0.5:
            QTest.keyClick(self._focus(), Qt.Key.Key_Return)
        return words

    def _focus(self) -> QWidget:
        return QApplication.focusWidget() or self.window

    def _shown(self, kind: type) -> list[QWidget]:
        return [one for one in self.window.findChildren(kind) if one.isVisible()]

    def _letters_of_places(self) -> str:
        texts = [button.text() for button in self.window.buttons.values()]
        return "".join(text[text.index("&") + 1].lower() for text in texts if "&" in text)

    @staticmethod
    def _bring_into_view(widget: QWidget) -> None:
        holder = widget.parentWidget()
        while holder is not None and not isinstance(holder, Sheet):
            holder = holder.parentWidget()
        if holder is not None:
            holder.show_from_top(widget)

    def _file(self) -> str:
        places = ("", str(self.scratch / "out.pdf"), str(self.scratch), str(self.scratch / "none" / "out"))
        return self.rng.choice(places)

    @staticmethod
    def _settle() -> None:
        for _ in range(2):
            QApplication.processEvents()
            QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)

    # -- checking ----------------------------------------------------------------------

    def _hear(self, kind: QtMsgType, _context: object, message: str) -> None:
        if kind is not QtMsgType.QtDebugMsg:
            self.said.append(message)

    def _state(self) -> State:
        return self.window.desk.interview.state

    def _check(self, before: State, case_id: str, kind: str, what: str) -> None:
        self._demand(not self.said, "something was said: " + " | ".join(self.said))
        desk, now = self.window.desk, self._state()
        self._demand(self.window.case.page.step == now.step or bool(desk.problems), f"{now.step} is not on show")
        if self.window.isActiveWindow():
            self._demand(QApplication.focusWidget() is not None, "nothing has the focus")
        if desk.case_id == case_id:
            if now.family == before.family:
                self._kept(before, now, len(TYPED[-1]) if kind == "type" else 1)
        elif before.answers and not what.startswith(ENDS) and what != "n":
            self._demand(self._on_disk(case_id).answers == before.answers, "the case let go is not on disk")
        if now.family is not None and (now.answers or now.fault):
            self._demand(self._on_disk(desk.case_id) == now, "the case on disk is not the one on show")

    def _kept(self, before: State, now: State, most: int) -> None:
        lost = [sign for sign in before.answers if sign not in now.answers]
        self._demand(not lost, f"answers were lost: {lost}")
        other = [sign for sign, given in before.answers.items() if now.answers[sign] != given]
        self._demand(len(other) <= most, f"more answers changed than were given: {other}")

    def _on_disk(self, case_id: str) -> State:
        path = self.window.desk.store.folder / f"{case_id}.json"
        self._demand(path.is_file(), f"there is no case on disk at {path.name}")
        return from_data(json.loads(path.read_text("utf-8")))

    def _demand(self, holds: bool, what: str) -> None:
        if not holds:
            done = "\n  ".join(self.last)
            raise AssertionError(f"{what}\nafter, the last one last:\n  {done}")


def tell_of_handlers(said: list[str]) -> None:
    """Add to ``said`` what is raised in an event handler of the window.

    QTest sends events from Python, and PySide ends the process on what is raised in a handler then.
    """

    def told(handler: Callable[..., object]) -> Callable[..., object]:
        @functools.wraps(handler)
        def handle(*arguments: object) -> object:
            try:
                return handler(*arguments)
            except Exception as error:
                said.append("".join(traceback.format_exception(error)))
                return None

        return handle

    for module in pkgutil.walk_packages(ui.__path__, "ui."):  # places are made when they are first gone to
        importlib.import_module(module.name)
    kinds = [QWidget]
    for kind in kinds:
        kinds += kind.__subclasses__()
        if kind.__module__.startswith("ui."):
            for name, handler in list(vars(kind).items()):
                if name.endswith("Event"):
                    setattr(kind, name, told(handler))


def walk(family: str | None, actions: int, seed: int, only_case: bool, scratch: Path, said: list[str]) -> Counter[str]:
    """Open a window, walk in it, and return how often each kind of thing was done where."""
    kept_settings.save(replace(Settings(theme="light", welcomed=True)))
    window = make_window()
    window.show()
    window.activateWindow()
    QTest.qWaitForWindowActive(window)
    window.case.take_focus()
    one = Walk(window, random.Random(f"{seed} {family}"), scratch, family, only_case, said)
    try:
        one.go(actions)
    finally:
        window.close()
        window.deleteLater()
    return one.done


def main() -> int:
    """Walk in one family or in each in turn: 0 when nothing went wrong."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--actions", type=int, default=5000, help="actions in each family (5000)")
    parser.add_argument("--family", default="all")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--only-case", action="store_true", help="stay in the place of the case")
    arguments = parser.parse_args()
    with tempfile.TemporaryDirectory() as place:
        os.environ["BATCHMEND_DATA"], os.environ["BATCHMEND_SETTINGS"] = f"{place}/data", f"{place}/settings"
        application = QApplication.instance() or QApplication(["walker"])
        window = make_window()
        families = [tile.family for tile in window.desk.interview.tiles()]
        wanted = families if arguments.family == "all" else [arguments.family]
        said: list[str] = []
        tell_of_handlers(said)
        for family in wanted:
            try:
                done = walk(family, arguments.actions, arguments.seed, arguments.only_case, Path(place), said)
            except AssertionError as error:
                print(f"{family}, seed {arguments.seed}: {error}")
                return 1
            steps = Counter[str]()
            for what, count in done.items():
                steps[" ".join(what.split()[:-1])] += count
            print(f"{family}: {sum(done.values())} actions, nothing lost; {dict(steps.most_common())}", flush=True)
        application.processEvents()
    return 0


if __name__ == "__main__":
    sys.exit(main())
