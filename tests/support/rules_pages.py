"""The pages of the Rule base place, each reached in a window: for the test of every page and for the album."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from tempfile import TemporaryDirectory

from PySide6.QtGui import QColor, QImage
from PySide6.QtWidgets import QApplication

from troubleshoot.problems import Place, Problem
from ui.rules_place import RulesPlace
from ui.rules_shown import CARD, Shown
from ui.window import Window


def settle(window: Window) -> None:
    """Wait until everything that was begun off the event loop is done and shown."""
    shown = window.stack.currentWidget()
    page = shown if isinstance(shown, RulesPlace) else window.case.page
    while page.busy if isinstance(page, RulesPlace) else page.attaching.busy:
        QApplication.processEvents()
    for _ in range(3):
        QApplication.processEvents()


def _open(what: Shown) -> Callable[[Window], None]:
    def reach(window: Window) -> None:
        window.go_to("rules", what)
        settle(window)

    return reach


def _search(typed: str) -> Callable[[Window], None]:
    def reach(window: Window) -> None:
        _open(Shown("choux"))(window)
        window.stack.currentWidget().list.search.setText(typed)
        settle(window)

    return reach


def _mistake(window: Window) -> None:
    """A slip in a file, with the last good rules below it."""
    _open(Shown("choux", "cause", "oven_cool"))(window)
    place = window.stack.currentWidget()
    place._found = (Problem(Place("rules/choux/causes/oven_cool.yaml", 4, 1), "stage", "unknown stage", "write bake"),)
    place.enter(stay=True)
    place._found = ()


def _pictures(window: Window) -> None:
    """A question with two pictures attached."""
    desk = window.desk
    window.go("case")
    desk.act(lambda: desk.interview.choose_family("choux"))
    desk.act(lambda: desk.interview.choose_fault("paste_runny"))
    with TemporaryDirectory() as folder:
        paths = [Path(folder) / f"{colour}.png" for colour in ("tan", "brown")]
        for path in paths:
            image = QImage(320, 200, QImage.Format.Format_RGB32)
            image.fill(QColor(path.stem))
            image.save(str(path))
        window.case.page.attaching.attach(paths)
        settle(window)


#: Every page, by its name.
PAGES: dict[str, Callable[[Window], None]] = {
    "rules, list": _open(Shown("choux")),
    "rules, found": _search("egg"),
    "rules, nothing found": _search("zabaglione"),
    "rules, cause": _open(Shown("choux", "cause", "oven_cool")),
    "rules, sign": _open(Shown("choux", "sign", "paste_hang")),
    "rules, complaint": _open(Shown("choux", "fault", "paste_runny")),
    "rules, remedy": _open(Shown("choux", "remedy", "use_flat")),
    "rules, rule": _open(Shown("choux", "rule", "pale_was_said")),
    "rules, rule with near misses": _open(Shown("choux", "rule", "low_dial_is_usual_with_fan")),
    "rules, source": _open(Shown("choux", "source", "memory_trade")),
    "rules, caution": _open(Shown("choux", "caution", "raw_paste")),
    "rules, card": _open(Shown("choux", CARD, "paste_runny")),
    "rules, mistake": _mistake,
    "question with pictures": _pictures,
}
