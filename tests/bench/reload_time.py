"""Measure a save until it is seen: python tests/bench/reload_time.py [SAVES].

A copy of the real rules is opened in the Rule base place and one cause file of each family is saved again and again,
written in place and put in place of the old file by turns.  Printed is the time from the start of the save until the
new words are painted, the time this process computed in it (what is left is waiting for others), and the ratio to
reading that family from nothing.
"""

from __future__ import annotations

import os
import shutil
import statistics
import sys
import tempfile
import time
from pathlib import Path

if not os.environ.get("DISPLAY"):
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))

from PySide6.QtCore import QEvent, QObject  # noqa: E402

from troubleshoot.knowledge.load import family_ids, load  # noqa: E402
from ui.app import application, make_window  # noqa: E402
from ui.rules_place import RulesPlace, Shown  # noqa: E402
from ui.sweep import Sweeper  # noqa: E402

#: A save that is not seen within this many seconds is an error.
PATIENCE_S = 30.0


class _Painted(QObject):
    """Notes when anything is painted."""

    def __init__(self) -> None:
        super().__init__()
        self.at = 0.0

    def eventFilter(self, _watched: QObject, event: QEvent) -> bool:  # noqa: N802
        if event.type() == QEvent.Type.Paint:
            self.at = time.perf_counter()
        return False


def main(saves: int) -> None:
    """Measure every family and print a line for each."""
    with tempfile.TemporaryDirectory() as place:
        os.environ["BATCHMEND_DATA"], os.environ["BATCHMEND_SETTINGS"] = f"{place}/data", f"{place}/settings"
        rules = Path(place) / "rules"
        shutil.copytree(ROOT / "rules", rules)
        app = application()
        Sweeper(app)
        window = make_window(rules, wait=False)
        window.resize(1180, 760)
        window.show()
        families = family_ids(rules)
        _until(app, lambda: _read(window, families))
        window.go("rules")
        shown = window.stack.currentWidget()
        assert isinstance(shown, RulesPlace)
        everything: list[float] = []
        for family in families:
            began = time.perf_counter()
            load(rules, (family,))
            whole_ms = (time.perf_counter() - began) * 1000
            times, computed = _family(app, shown, rules, family, saves)
            everything += times
            ratio = whole_ms / statistics.median(times)
            more = f", {statistics.median(computed):.0f} ms of it computing; reading it from nothing {whole_ms:.0f} ms"
            _print(family, times, f"{more}, {ratio:.1f} times as long")
        _print("all", everything, "")


def _read(window, families: tuple[str, ...]) -> bool:
    """Whether every family was read ahead, as it is a few seconds after the window has opened."""
    session = window.desk.session
    return session is not None and all(session.shelf.holds(family) for family in families)


def _family(app, shown: RulesPlace, rules: Path, family: str, saves: int) -> tuple[list[float], list[float]]:
    cause = sorted((rules / family / "causes").glob("*.yaml"))[0]
    shown.open(Shown(family, "cause", cause.stem))
    _until(app, lambda: not shown.busy and any(cause.stem == hit.id for hit in shown.library.hits))
    text = cause.read_text("utf-8")
    name = next(line for line in text.splitlines() if line.startswith("name: "))
    times, computed = [], []
    for number in range(saves):
        words = f"Saved again, time {number}"
        made = text.replace(name, f"name: {words}")
        painted = _Painted()
        began, worked = time.perf_counter(), time.process_time()
        if number % 2:
            fresh = cause.with_suffix(".part")
            fresh.write_text(made, "utf-8")
            fresh.replace(cause)
        else:
            cause.write_text(made, "utf-8")
        _until(app, lambda words=words: _title(shown) == words)
        _heading(shown).installEventFilter(painted)
        _until(app, lambda painted=painted: painted.at > 0.0)
        times.append((painted.at - began) * 1000)
        computed.append((time.process_time() - worked) * 1000)
        _until(app, lambda: not shown.busy)
    return times, computed


def _heading(shown: RulesPlace):
    return shown._first


def _title(shown: RulesPlace) -> str:
    heading = _heading(shown)
    return heading.text() if heading is not None and hasattr(heading, "text") else ""


def _until(app, done) -> None:
    end = time.perf_counter() + PATIENCE_S
    while not done():
        if time.perf_counter() > end:
            raise SystemExit("a save was not seen")
        app.processEvents()
        time.sleep(0.001)


def _print(name: str, times: list[float], more: str) -> None:
    print(
        f"{name}: median {statistics.median(times):.0f} ms, slowest {max(times):.0f} ms of {len(times)} saves "
        f"(aim 300 ms){more}"
    )


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 10)
