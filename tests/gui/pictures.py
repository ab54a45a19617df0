"""Make a picture of every page: python tests/gui/pictures.py OUT_FOLDER [WORD ...].

Every place, and a case of every family, in light and dark, with text at 100 and 200 %, on a small and a large screen,
in one go.  With words, only pictures whose name holds them all are made ("choux-verdict" "small-200-dark").
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
sys.path.insert(0, str(Path(__file__).parents[1] / "support"))

import book_pages
import case_pages
import practice_pages
import rules_pages
from PySide6.QtCore import QEvent
from PySide6.QtWidgets import QLineEdit

from ui.amounts_list import SCHEDULE, STORAGE
from ui.app import application, make_window
from ui.widgets.layouts import Sheet

SIZES = {"small": (1024, 600), "large": (1920, 1080)}


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
        for family in case_pages.FAMILIES:
            for name in case_pages.PAGES:
                title = f"{family}-{_plain(name)}-{suffix}"
                if self._wanted(title):
                    case_pages.reach(self.window, name, family)
                    self._take(title, whole=name.startswith("verdict"))
        self._case_over()
        for pages in (book_pages, practice_pages, rules_pages):
            if not any(self._wanted(f"{_plain(name)}-{suffix}") for name in pages.PAGES):
                continue
            for name, reach in pages.PAGES.items():  # some lead on from the one before
                reach(self.window)
                self._take(f"{_plain(name)}-{suffix}")
        self._case_over()
        if self._wanted(f"settings-{suffix}"):
            self.window.go("settings")
            self._take(f"settings-{suffix}", whole=True)
        if self._wanted(f"amounts-{suffix}"):
            self._amounts(suffix)

    def _case_over(self) -> None:
        self.desk.reading, self.desk.problems = None, ()
        self.window.go("case")
        self.desk.new_case()

    def _wanted(self, title: str) -> bool:
        return all(word in title for word in self.words)

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
        if not self._wanted(name):
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


def _plain(name: str) -> str:
    return name.replace(",", "").replace(" ", "-")


if __name__ == "__main__":
    if len(sys.argv) < 2 or sys.argv[1].startswith("-"):
        sys.exit(__doc__)
    made = main(Path(sys.argv[1]), sys.argv[2:])
    print(f"{made} pictures in {sys.argv[1]}")
