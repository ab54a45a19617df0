"""How long a person waits for the window: ``python tests/bench/window_times.py [--starts 7] [--answers 40]``.

Prints, in one run on this machine: from the start of the program to the first paint, against a window that PySide6
shows with one label in it; from there to the families, which is the reading of the rules; from pressing a family to
its complaints; and from an answer to the next question painted, for every family on the shipped rules: by somebody
who reads the question first, and by somebody who presses as soon as it is there.
"""

from __future__ import annotations

import argparse
import os
import random
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

ROOT = Path(__file__).parents[2]
if not os.environ.get("DISPLAY"):
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
sys.path.insert(0, str(ROOT))

if TYPE_CHECKING:
    from ui.window import Window

#: One frame of a screen that shows sixty a second, in milliseconds.
FRAME_MS = 1000 / 60

PROBE = """
import sys, time
from PySide6.QtCore import QEvent, QObject, QTimer
from PySide6.QtWidgets import QApplication
class Probe(QObject):
    seen = set()
    def eventFilter(self, target, event):
        if event.type() == QEvent.Type.Paint:
            for name in ("QLabel", "Heading", "Card"):
                if name not in self.seen and any(kind.__name__ == name for kind in type(target).__mro__):
                    self.seen.add(name)
                    QTimer.singleShot(0, lambda name=name: self.say(name))
        return False
    def say(self, name):
        print(name, time.monotonic_ns(), flush=True)
        if name == LAST:
            QApplication.quit()
"""

BARE = (
    PROBE.replace("LAST", "'QLabel'")
    + """
from PySide6.QtWidgets import QLabel, QMainWindow
app = QApplication(["bare"])
probe = Probe()
app.installEventFilter(probe)
window = QMainWindow()
window.setCentralWidget(QLabel("A bare window"))
window.resize(1180, 760)
window.show()
app.exec()
"""
)

WHOLE = (
    PROBE.replace("LAST", "'Card'")
    + """
from pathlib import Path
from ui import app as program
app = program.application()
probe = Probe()
app.installEventFilter(probe)
program.main(Path("rules"))
"""
)


def main() -> int:
    """Measure and print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--starts", type=int, default=7, help="starts of each program (7)")
    parser.add_argument("--answers", type=int, default=40, help="answers measured in each family (40)")
    parser.add_argument("--seed", type=int, default=1)
    arguments = parser.parse_args()
    with tempfile.TemporaryDirectory() as place:
        os.environ["BATCHMEND_DATA"], os.environ["BATCHMEND_SETTINGS"] = f"{place}/data", f"{place}/settings"
        if arguments.starts:
            starts(arguments.starts)
        if arguments.answers:
            answers(arguments.answers, random.Random(arguments.seed))
    return 0


def starts(times: int) -> None:
    """Start the bare window and the program in turn, and print the medians and their ratio."""
    bare, first, families = [], [], []
    for _ in range(times):
        bare.append(start(BARE)["QLabel"])
        shown = start(WHOLE)
        first.append(shown["QLabel"])
        families.append(shown["Card"])
    middle = statistics.median(bare)
    print(f"start, median of {times}")
    print(f"  a bare PySide6 window painted        {middle:6.0f} ms    1.00")
    print(f"  the window painted                   {statistics.median(first):6.0f} ms  {_ratio(first, middle)}")
    print(f"  the families painted, rules read     {statistics.median(families):6.0f} ms  {_ratio(families, middle)}")


def _ratio(taken: list[float], bare: float) -> str:
    return f"{statistics.median(taken) / bare:6.2f} times the bare window"


def start(program: str) -> dict[str, float]:
    """Start a program and return when each kind of part was first painted, in milliseconds from its start."""
    begun = time.monotonic_ns()
    ended = subprocess.run(
        [sys.executable, "-c", program], cwd=ROOT, capture_output=True, text=True, check=True, timeout=60
    )
    lines = (line.split() for line in ended.stdout.splitlines())
    return {name: (int(at) - begun) / 1e6 for name, at in lines}


def answers(wanted: int, rng: random.Random) -> None:
    """Answer at random in every family and print how long each next page took to be painted."""
    from ui.app import application, make_window
    from ui.sweep import Sweeper, set_aside

    Sweeper(application())
    window = make_window(ROOT / "rules")
    window.resize(1180, 760)
    window.show()
    _until()
    print("press to painted, milliseconds                     median    95th   worst")
    read: list[float] = []
    hurried: list[float] = []
    for tile in window.desk.interview.tiles():
        first, again = (_complaints(window, tile.family) for _ in range(2))
        set_aside()  # as the program does when it has read all families ahead
        print(f"  {tile.family:<16} its complaints, first time  {first:8.1f}, again {again:.1f}")
        taken = _answers(window, tile.family, wanted, rng, hurry=False)
        print(f"  {tile.family:<16} the next question          {_spread(taken)}")
        read += taken
        hurried += _answers(window, tile.family, wanted // 4, rng, hurry=True)
    print(f"  {len(read)} answers after reading the question        {_spread(read)}")
    print(f"  {len(hurried)} answers pressed at once                  {_spread(hurried)}")
    within = sum(one <= FRAME_MS for one in read) / len(read)
    print(f"  within one frame of {FRAME_MS:.1f} ms: {within:.0%}; 95th at {_at(read, 0.95) / FRAME_MS:.2f} frames")


def _spread(taken: list[float]) -> str:
    return f"{statistics.median(taken):7.1f} {_at(taken, 0.95):7.1f} {max(taken):7.1f}"


def _at(taken: list[float], share: float) -> float:
    return sorted(taken)[min(len(taken) - 1, int(share * len(taken)))]


def _complaints(window: Window, family: str) -> float:
    """Press the tile of a family and return how long its complaints took to be painted."""
    interview = window.desk.interview
    window.desk.new_case()
    _until()
    families = [tile.family for tile in interview.tiles()]
    tile = window.case.page.tiles[families.index(family)]
    return _timed(tile.click, lambda: interview.step == "fault")


def _answers(window: Window, family: str, wanted: int, rng: random.Random, hurry: bool) -> list[float]:
    """Answer questions of a family; return how long each question after an answer took to be painted."""
    interview = window.desk.interview
    taken: list[float] = []
    while len(taken) < wanted:
        if interview.step == "question":
            page, before = window.case.page, interview.state
            if not hurry:
                _until(lambda: not window.desk.thinking)
            card = rng.choice([*page.cards.values(), page.cant])
            took = _timed(card.click, lambda before=before: interview.state is not before)
            if interview.step == "question":
                taken.append(took)
            continue
        fault = rng.choice([line.fault for line in interview.faults()])
        window.desk.new_case()
        window.desk.choose_family(family)
        window.desk.act(lambda fault=fault: interview.choose_fault(fault))
        _until()
    return taken


def _timed(press: Callable[[], object], done: Callable[[], bool]) -> float:
    """Press, and return the milliseconds until what follows is painted and the window is at rest."""
    from PySide6.QtCore import QElapsedTimer

    clock = QElapsedTimer()
    clock.start()
    press()
    _until(done, rounds=1)
    taken = clock.nsecsElapsed() / 1e6
    _until()
    return taken


def _until(done: Callable[[], bool] = lambda: True, rounds: int = 3) -> None:
    """Let the window work until ``done``, then for some rounds more so that all is painted."""
    from PySide6.QtCore import QEvent
    from PySide6.QtWidgets import QApplication

    end = time.monotonic() + 20
    while rounds > 0:
        if done():
            rounds -= 1
        elif time.monotonic() > end:
            raise TimeoutError("the window did not come to where it was led")
        QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
        QApplication.processEvents()


if __name__ == "__main__":
    sys.exit(main())
