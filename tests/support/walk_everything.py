"""Every command and every place of the window once, with nothing let out: ``python walk_everything.py FOLDER``."""

from __future__ import annotations

import contextlib
import io
import itertools
import json
import os
import shutil
import sys
from pathlib import Path

from busy_kitchen import ROUND
from surroundings import CASE, SMALL, command

from troubleshoot.casebook import demo

#: What is typed, and the command.
COMMANDS: tuple[tuple[tuple[str, ...], list[str]], ...] = (
    ((), ["--version"]),
    ((), ["signs", "choux"]),
    ((), ["causes", "choux", "door_opened"]),
    ((), ["diagnose", str(CASE)]),
    ((), ["explain", str(CASE)]),
    ((), ["--rules", "rules", "check"]),
    ((), ["--rules", "rules", "measure", "toast"]),
    ((), ["--rules", "rules", "new", "sign", "toast", "crumb"]),
    ((), ["amounts"]),
    ((), ["amounts", "syrup_boiling_point", "sugar_percent=70", "--plot", "plot.svg"]),
    ((), ["profile", "altitude=600"]),
    (("1", "1", "1", "0", "q"), ["ask"]),
    ((), ["card", "choux", "piped_spreads", "--pdf", "card.pdf"]),
    ((), ["book", "demo"]),
    ((), ["book", "add", str(CASE)]),
    ((), ["book", "list"]),
    ((), ["book", "figures", "--chart", "cases", "--to", "cases.svg"]),
    ((), ["book", "seen", str(CASE)]),
    ((), ["book", "export", "book.jsonl"]),
    ((), ["book", "import", "book.jsonl"]),
    ((), ["book", "show", "{id}"]),
    ((), ["book", "outcome", "{id}", "right"]),
    ((), ["book", "backup", "copy.db"]),
    ((), ["book", "restore", "copy.db", "--over"]),
    ((), ["book", "check"]),
    (ROUND, ["practise", "choux", "--case", "3", "--level", "1", "--learner", "Kiwi"]),
    ((), ["practice-set", "set.yaml", "--make", "choux", "--numbers", "3"]),
    ((), ["practice-results"]),
)


def walk(work: Path) -> None:
    """Go through the commands, then through the window.  Of the invented season three cases are enough."""
    os.chdir(work)
    shutil.copytree(SMALL, "rules")
    season = demo.season
    demo.season = lambda shelf, seed: itertools.islice(season(shelf, seed), 3)
    for typed, words in COMMANDS:
        known = {"id": ""}
        if "{id}" in words:
            known["id"] = json.loads(Path("book.jsonl").read_text(encoding="utf-8").splitlines()[0])["id"]
        with contextlib.redirect_stdout(io.StringIO()):
            code = command([word.format(**known) for word in words], typed)
        assert code == 0, (words, code)
    walk_window()
    assert "PySide6.QtNetwork" not in sys.modules


def walk_window() -> None:
    """Open every place of the window, and go to a verdict that is saved as PDF."""
    from ui import app

    application = app.application()
    window = app.make_window()
    window.show()
    for place in window.places:
        window.go(place.id)
        application.processEvents()
    window.go("case")
    desk = window.desk
    desk.act(lambda: desk.interview.choose_family("choux"))
    desk.act(lambda: desk.interview.choose_fault("paste_runny"))
    desk.act(lambda: desk.interview.volunteer("paste_hang", "runs_off"))
    desk.act(desk.interview.to_verdict)
    application.processEvents()
    assert window.case.page.save_pdf_as(Path("verdict.pdf"))
    window.close()


if __name__ == "__main__":
    import no_network

    no_network.guard()
    walk(Path(sys.argv[1]))
    print("walked")
