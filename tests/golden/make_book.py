"""Write the book of an older form as a program of that time left it: ``python tests/golden/make_book.py FORM FILE``.

The rows are written with plain SQL, because the code of that time is gone; the tables are made by the form's own
migration, which never changes.  Run it once for each released form and keep the file.
"""

from __future__ import annotations

import json
import sqlite3
import sys
from pathlib import Path

from troubleshoot.casebook import opening
from troubleshoot.casebook.migrate import upgrade

NOON_US = 1_772_452_800_000_000  # 2026-03-02 12:00 UTC
MINUTE_US = 60_000_000

CASES = (
    # no, id, family, begun, finished, fault, stage, cause, probability, settled, rules, kitchen, role, outcome,
    # true cause, pieces, saved, lost, minutes, invented
    (1, "old-right", "choux", 0, 4, "flat", "bake", "oven_cool", 0.9, 1, "r1", "lakeside", "commis", "right",
     "oven_cool", 24, 18, 6, 12.5, 0),
    (2, "old-wrong", "choux", 60, 65, None, None, "oven_cool", 0.5, 0, "r1", "lakeside", "", "wrong",
     "panade_undried", None, None, None, None, 0),
    (4, "old-open", "shortbread", 120, 125, "crumbles", "bake", None, None, 0, "r2", "", "", "not-known",
     None, None, None, None, None, 1),
)  # fmt: skip
DETAILS = (
    (1, [["oven_cool", 0.9], ["panade_undried", 0.05]], [["flour_g", 150.5]], "Door was opened.\nTwice."),
    (2, [["oven_cool", 0.5]], [], ""),
    (4, [], [], ""),
)
WORDS = ((1, "door_opened", "yes"), (2, "oven_true", "=163.25"), (3, "profile", ""))
ANSWERS = ((1, 0, 1, 1), (1, 1, 2, 2), (2, 0, 3, 61))
DONE = ((1, 0, "measure_the_oven"), (1, 1, "remake_choux"))
PICTURES = ((1, 0, "tray.jpg"),)
# From form 3 on: complaints as words, and the words of a case as four characters each, counted up from "0".
COMPLAINTS = ((4, "", "flat"), (5, "", "crumbles"))
SHAPES = (("choux", 1, "000100020004"), ("choux", 2, "0003"), ("shortbread", 4, "0005"))


def make(form: str, file: Path) -> None:
    """Write the book."""
    sqlite3.connect(file).close()
    engine = opening.file_engine(file, 5.0)
    with engine.begin() as connection:
        upgrade(connection, form)
    engine.dispose()
    with sqlite3.connect(file) as connection:
        connection.execute("PRAGMA journal_mode = WAL")
        connection.execute(f"PRAGMA application_id = {opening.APPLICATION_ID}")
        rows = [(*c[:3], NOON_US + c[3] * MINUTE_US, NOON_US + c[4] * MINUTE_US, *c[5:]) for c in CASES]
        columns = "no, id, family, begun_us, finished_us, fault, stage, cause, probability, settled, rules_version, "
        columns += "kitchen, role, outcome, true_cause, pieces, pieces_saved, pieces_lost, minutes, invented"
        connection.executemany(f"INSERT INTO cases ({columns}) VALUES ({', '.join('?' * 20)})", rows)
        connection.executemany(
            "INSERT INTO details VALUES (?, ?, ?, ?)", [(n, json.dumps(s), json.dumps(b), t) for n, s, b, t in DETAILS]
        )
        connection.executemany("INSERT INTO words VALUES (?, ?, ?)", WORDS)
        connection.executemany(
            "INSERT INTO answers VALUES (?, ?, ?, ?)", [(*a[:3], NOON_US + a[3] * MINUTE_US) for a in ANSWERS]
        )
        connection.executemany("INSERT INTO done VALUES (?, ?, ?)", DONE)
        if form != "1":
            connection.executemany("INSERT INTO pictures VALUES (?, ?, ?)", PICTURES)
        if form not in ("1", "2"):
            connection.execute("UPDATE cases SET blamed = CASE outcome WHEN 'wrong' THEN true_cause ELSE cause END")
            connection.executemany("INSERT INTO words VALUES (?, ?, ?)", COMPLAINTS)
            connection.executemany("INSERT INTO shapes VALUES (?, ?, ?)", SHAPES)
    connection.close()


if __name__ == "__main__":
    make(sys.argv[1], Path(sys.argv[2]).absolute())
