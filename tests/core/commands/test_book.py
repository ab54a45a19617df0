"""``batchmend book``: what is put in is listed, shown, corrected, carried out and in, copied and checked."""

from __future__ import annotations

import json
import shutil
import sqlite3
from pathlib import Path

import pytest
from small_records import FULL, record

from troubleshoot import cli, resources
from troubleshoot.casebook import entry
from troubleshoot.casebook.lines import to_data, to_line
from troubleshoot.casebook.store import Book
from troubleshoot.interview.pictures import PictureStore

CASE = resources.folder("rules") / "choux" / "cases" / "flat-over-egged.yaml"


@pytest.fixture
def book(run) -> Path:
    """The usual book, with three cases of two families and kitchens."""
    where = resources.user_data() / "book.db"
    with Book.open(where) as opened:
        opened.add_all([FULL, record(1, kitchen="boathouse"), record(2)])
    return where


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]):
    def runs(*words: str) -> tuple[int, str, str]:
        code = cli.main(["book", *words])
        out, err = capsys.readouterr()
        return code, out, err

    return runs


def test_an_empty_book_says_so(run):
    """A book that was never used is made, and lists nothing."""
    assert run("list") == (0, "No case fits.\n", "")


def test_cases_are_listed_newest_first_and_by_page(run, book: Path):
    """A page says which cases it shows and how to see more."""
    code, out, _ = run("list", "--limit", "2")
    lines = out.splitlines()
    assert code == 0
    assert [line.split()[0] for line in lines[:2]] == ["case2", "case1"]
    assert lines[-1] == "1 to 2 of 3. More: --offset 2"
    assert run("list", "--offset", "2")[1].startswith("full-1")


@pytest.mark.parametrize(
    ("words", "ids"),
    [
        (("--family", "choux"), ["full-1"]),
        (("--cause", "panade_undried"), ["full-1"]),
        (("--kitchen", "boathouse"), ["case1"]),
        (("--outcome", "not-known"), ["case2", "case1"]),
        (("--since", "2026-03-02T13:30:00+00:00"), ["case2"]),
        (("--until", "2026-03-02T12:30:00+00:00"), ["full-1"]),
        (("--until", "2026-03-01"), []),
        (("--since", "0d"), []),
    ],
)
def test_filters_are_typed_as_words(run, book: Path, words: tuple[str, ...], ids: list[str]):
    """The JSON holds the number of cases and each shown case as a line of the export would."""
    found = json.loads(run("list", *words, "--json")[1])
    assert [case["id"] for case in found["shown"]] == ids
    assert found["cases"] == len(ids)


def test_a_case_is_shown_in_full(run, book: Path):
    """Answers with times, the verdict, and what came of it; the beginning of an id will do."""
    code, out, _ = run("show", "fu")
    assert code == 0
    for words in ("Role on shift: pastry commis", "panade_loss: 2.3", "egg_measure: can't tell", "egg_overdose: 87.5%"):
        assert words in out
    assert "wrong: it was panade_undried" in out
    assert json.loads(run("show", "full-1", "--json")[1]) == to_data(FULL)


def test_a_case_file_goes_in_with_its_verdict(run):
    """The case is reasoned about, stands in the book with what was typed beside it, and tells its id."""
    words = ("--kitchen", "lakeside", "--role", "commis", "--pieces", "20", "--lost", "4", "--done", "remake_choux")
    code, out, _ = run("add", str(CASE), *words, "--json")
    case = json.loads(out)
    assert code == 0
    assert case["suspects"][0]["cause"] == "egg_overdose"
    assert (case["kitchen"], case["role"], case["pieces_lost"], case["done"]) == (
        "lakeside",
        "commis",
        4,
        ["remake_choux"],
    )
    assert run("list")[1].startswith(case["id"])


def test_an_outcome_is_typed(run, book: Path):
    """Right, wrong with its cause, and not known again; what is typed beside it is kept."""
    case = json.loads(run("add", str(CASE), "--json")[1])["id"]
    assert run("outcome", case, "right", "--minutes", "12")[1] == f"Case {case}: right.\n"
    assert run("outcome", case[:6], "wrong", "--cause", "oven_cool")[1] == f"Case {case}: wrong, it was oven_cool.\n"
    found = json.loads(run("show", case, "--json")[1])
    assert (found["outcome"], found["true_cause"], found["minutes"]) == ("wrong", "oven_cool", 12.0)
    assert run("outcome", case, "not-known")[0] == 0
    assert json.loads(run("show", case, "--json")[1])["true_cause"] is None


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("show", "nothing"), "there is no case 'nothing'"),
        (("show", "case"), "several cases begin with 'case'; write one of: case1, case2"),
        (("outcome", "full-1", "wrong", "--cause", "oven_cold"), "did you mean 'oven_cool'?"),
        (("outcome", "full-1", "right", "--cause", "oven_cool"), "--cause is for a verdict that was wrong"),
        (("outcome", "full-1", "wrong", "--cause", "egg_overdose"), "is what the verdict said"),
        (("outcome", "full-1", "right", "--lost", "25"), "43 pieces saved and lost, of 24"),
        (("outcome", "full-1", "right", "--done", "remake_chou"), "did you mean 'remake_choux'?"),
        (("list", "--since", "yesterday"), "'yesterday' is no day; write it as in 2026-03-01"),
        (("import", "nowhere.jsonl"), "nowhere.jsonl: it cannot be read"),
        (("restore", "nowhere.db"), "the copy cannot be read"),
        (("list", "--book", "ftp://host/x"), "The case book cannot lie in 'ftp'"),
    ],
)
def test_what_cannot_be_is_one_plain_line(run, book: Path, words: tuple[str, ...], said: str):
    """One line on the error output says what to write, and the book is as it was."""
    before = run("export")[1]
    code, out, err = run(*words)
    assert (code, out) == (2, "")
    assert said in err
    assert len(err.strip().splitlines()) == 1
    assert run("export")[1] == before


def test_a_book_goes_out_and_into_another(run, book: Path, tmp_path: Path):
    """Export and import by file give the same bytes; a file that is there is not written over."""
    file = str(tmp_path / "all.jsonl")
    code, out, _ = run("export", file)
    assert (code, out.splitlines()[0]) == (0, f"3 cases written to {file}.")
    other = str(tmp_path / "other.db")
    assert run("import", file, "--book", other)[1].startswith("3 cases put into the book.\n")
    assert run("import", file, "--book", other)[1].startswith("0 cases put into the book; 3 were")
    assert run("export", "--book", other)[1] == Path(file).read_text(encoding="utf-8") == run("export")[1]
    code, _, err = run("export", file)
    assert code == 2
    assert "left as it is" in err
    assert run("export", "--family", "choux")[1] == to_line(FULL) + "\n"


def test_a_table_for_a_spreadsheet(run, book: Path):
    """CSV has a head and a row for each case."""
    assert len(run("export", "--csv", "--kitchen", "boathouse")[1].splitlines()) == 2


def test_a_copy_is_made_and_brought_back(run, book: Path, tmp_path: Path):
    """A copy is a whole book; bringing it back over cases needs a word, and keeps them beside it."""
    copy = str(tmp_path / "copy.db")
    assert run("backup", copy)[1].startswith(f"3 cases copied to {copy}.")
    assert "left as it is" in run("backup", copy)[2]
    run("add", str(CASE))
    code, _, err = run("restore", copy)
    assert code == 2
    assert "the book holds 4 cases" in err
    code, out, _ = run("restore", copy, "--over")
    assert code == 0
    assert out.startswith("3 cases brought back.")
    assert " What was there is kept as " in out
    with Book.open(Path(out.split(" kept as ")[1].strip().removesuffix("."))) as kept:
        assert kept.count() == 4


def test_what_becomes_of_pictures_is_said(run, tmp_path: Path):
    """Export and import say that they name pictures alone; backup and restore carry them, and say what is missing."""
    name = PictureStore().keep(b"a tray")
    lost = f"{'0' * 64}.jpg"
    with Book.open() as opened:
        entry.put(opened, record(1, pictures=(name, lost)))
    lines, copy, other = (str(tmp_path / file) for file in ("all.jsonl", "copy.db", "other.db"))
    assert "Pictures named in it, not held: 2. 'batchmend book backup' copies" in run("export", lines)[1]
    missing = "Pictures missing: 1; they may still lie on the machine they were attached on."
    assert run("backup", copy)[1] == f"1 cases with 1 pictures copied to {copy}. {missing}\n"
    shutil.rmtree(PictureStore().folder)
    assert "Pictures named but not in the book: 2." in run("import", lines, "--book", other)[1]
    assert f"{lost}(notinthebook)" in "".join(run("show", "case1")[1].split())
    assert run("restore", copy, "--book", str(tmp_path / "new.db"))[1] == (
        f"1 cases with 1 pictures brought back. {missing}\n"
    )
    assert run("export", "--book", str(tmp_path / "new.db"))[1] == Path(lines).read_text(encoding="utf-8")


def test_a_whole_book_is_told_to_be_so_and_a_faulty_one_not(run, book: Path):
    """The check ends with 0 when all is whole, and with 1 and the place when a case makes no sense."""
    assert run("check")[:2] == (0, f"{book}: 3 cases, all whole.\n")
    with sqlite3.connect(book) as connection:
        connection.execute("UPDATE cases SET pieces_lost = 9000 WHERE id = 'full-1'")
    connection.close()
    code, out, _ = run("check", "--json")
    assert code == 1
    assert json.loads(out)["findings"] == ["case 'full-1': pieces: 9018 pieces saved and lost, of 24"]
