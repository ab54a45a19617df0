"""Make a picture of every page: python tests/gui/pictures.py OUT_FOLDER [WORD ...].

Light and dark, text at 100 and 200 %, on a small and a large screen, in one go.  With words, only
pictures whose name holds one of them are made.
"""

from __future__ import annotations

import os
import sys
import tempfile
from dataclasses import replace
from pathlib import Path

if not os.environ.get("DISPLAY"):
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
sys.path.insert(0, str(Path(__file__).parents[2]))

from PySide6.QtCore import QEvent
from PySide6.QtWidgets import QLineEdit

from troubleshoot.problems import Place, Problem
from ui.amounts_list import SCHEDULE, STORAGE
from ui.app import application, make_window
from ui.widgets.layouts import Sheet

SIZES = {"small": (1024, 600), "large": (1920, 1080)}
#: A choux case with a complaint, and the answers given to it; anything else asked is answered "can't tell".
FAULT = "paste_runny"
ANSWERS = {"paste_hang": "runs_off", "panade_look": "smooth_ball", "egg_measure": "all_in_weighed", "panade_loss": 7.0}


def main(out: Path, words: list[str]) -> int:
    """Make the pictures in ``out`` and return how many there are."""
    with tempfile.TemporaryDirectory() as place:
        os.environ["BATCHMEND_DATA"] = f"{place}/data"
        os.environ["BATCHMEND_SETTINGS"] = f"{place}/settings"
        return _Album(out, words).make()


class _Album:
    def __init__(self, out: Path, words: list[str]) -> None:
        self.out, self.words, self.count = out, words, 0
        out.mkdir(parents=True, exist_ok=True)
        self.app = application()
        self.window = make_window()
        self.desk = self.window.desk
        self.window.show()

    def make(self) -> int:
        for theme in ("light", "dark"):
            for percent in (100, 200):
                for size, (width, height) in SIZES.items():
                    self.window.resize(width, height)
                    settings = replace(self.desk.settings, theme=theme, text_size=percent, welcomed=False)
                    self.desk.set_settings(settings)
                    self._walk(f"{size}-{percent}-{theme}")
        return self.count

    def _walk(self, suffix: str) -> None:
        interview, page = self.desk.interview, lambda: self.window.case.page
        self.window.go("settings")
        self._take(f"settings-{suffix}", whole=True)
        self._amounts(suffix)
        self.window.go("case")
        self.desk.act(interview.restart)
        self._take(f"family-{suffix}")
        self.desk.act(lambda: interview.choose_family("choux"))
        self._take(f"fault-{suffix}")
        page().search.setText("sogg")
        self._take(f"fault-search-{suffix}")
        page().search.setText("xyz")
        self._take(f"fault-nothing-{suffix}")
        self.desk.act(lambda: interview.choose_fault(FAULT))
        seen: set[str] = set()
        for _ in range(30):
            if interview.step != "question":
                break
            view = interview.question()
            kind = "number" if view.number else "drawn" if any(a.drawing for a in view.answers) else "words"
            if kind not in seen:
                seen.add(kind)
                self._take(f"question-{kind}-{suffix}", whole=False)
                if kind == "drawn":
                    page().toggle_why()
                    self._take(f"question-why-{suffix}")
            answer = ANSWERS.get(view.sign, "cant-tell")
            self.desk.act(lambda answer=answer: interview.answer(answer))
        self.desk.act(lambda: interview.show("panade_loss"))
        self._take(f"question-number-{suffix}")
        self.desk.act(interview.to_verdict)
        self._take(f"verdict-{suffix}", whole=True)
        self.desk.say("That could not be taken.", "Everything said before is kept.", "Give 0 to 40 %.")
        for section in page().sections:
            section.head.setChecked(True)
        self._take(f"verdict-open-{suffix}", whole=True)
        self.window.put_away("action")
        self.desk.act(interview.restart)
        self.desk.problems = (
            Problem(Place("rules/choux/signs/steam.yaml", 12, 3), "steam", "unknown key 'aks'", "did you mean 'ask'?"),
        )
        self.desk.changed.emit()
        self._take(f"problems-{suffix}")
        self.desk.leave_problems()
        self.desk.act(lambda: interview.choose_family("choux"))
        self.desk.act(lambda: interview.choose_fault(None))
        self.desk.act(interview.to_verdict)
        self._take(f"verdict-unsure-{suffix}", whole=True)

    def _amounts(self, suffix: str) -> None:
        self.window.go("amounts")
        place = self.window.stack.currentWidget()
        place.open(None)
        self._take(f"amounts-list-{suffix}")
        for name in ("stiffen_with_panade", "syrup_boiling_point", "off_working_heat", "cooling_forecast"):
            place.open(name)
            self._take(f"amounts-{name}-{suffix}", whole=True)
        place.open("blend_up")
        place.findChildren(QLineEdit)[3].setText("60")
        self._take(f"amounts-refused-{suffix}")
        for name in (STORAGE, SCHEDULE):
            place.open(name)
            self._take(f"amounts-{name}-{suffix}", whole=True)
        place.open(None)

    def _take(self, name: str, whole: bool = False) -> None:
        """Take the window as it is seen; with ``whole`` also the scrolled part from top to bottom."""
        if self.words and not any(word in name for word in self.words):
            return
        self._settle()
        self.window.grab().save(str(self.out / f"{name}.png"))
        self.count += 1
        if whole:
            self._sheet().widget().grab().save(str(self.out / f"{name}-whole.png"))
            self.count += 1

    def _sheet(self) -> Sheet:
        shown = self.window.stack.currentWidget()
        return shown.page.sheet if shown is self.window.case else shown.sheet

    def _settle(self) -> None:
        for _ in range(4):
            self.app.processEvents()
        self.app.sendPostedEvents(None, QEvent.Type.DeferredDelete)


if __name__ == "__main__":
    if len(sys.argv) < 2:
        sys.exit(__doc__)
    made = main(Path(sys.argv[1]), sys.argv[2:])
    print(f"{made} pictures in {sys.argv[1]}")
