"""The book as lines and as a table: byte for byte out, in and out again; what is hostile or broken stays out."""

from __future__ import annotations

import csv
import io
import json
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from small_records import BARE, FULL, at_random, record

from troubleshoot.casebook import exchange, lines
from troubleshoot.casebook.exchange import ImportRefusedError, take_in
from troubleshoot.casebook.lines import FaultyLineError, from_line, to_line
from troubleshoot.casebook.store import Book

LINE = to_line(record(1))


def exported(book: Book) -> bytes:
    stream = io.StringIO(newline="")
    exchange.write_lines(book.each(), stream)
    return stream.getvalue().encode()


def test_a_line_is_what_it_is_promised_to_be():
    """One line of plain JSON, its keys in order, times in UTC, and everything said even when nothing is known."""
    assert to_line(BARE) == (
        '{"form":1,"id":"bare","family":"shortbread","begun":"2026-03-02T12:00:00Z","finished":"2026-03-02T12:00:00Z",'
        '"fault":null,"stage":null,"answers":[],"suspects":[],"settled":false,"rules_version":"","batch":{},'
        '"kitchen":"","role":"","done":[],"outcome":"not-known","true_cause":null,"pieces":null,"pieces_saved":null,'
        '"pieces_lost":null,"minutes":null,"pictures":[],"note":"","invented":false}'
    )
    assert "\n" not in to_line(FULL)


@pytest.mark.parametrize("case", [FULL, BARE, *at_random(20)], ids=lambda case: case.id)
def test_a_line_is_read_as_the_case_it_was(case):
    """Out and in again is the same case."""
    assert from_line(to_line(case)) == case


def test_a_book_goes_out_and_in_byte_for_byte(address: str, tmp_path: Path):
    """A new book that took in an export gives the same bytes, whatever it lies on."""
    with Book.open(address) as book:
        book.add_all([FULL, BARE, *at_random(150)])
        first = exported(book)
    with Book.open(tmp_path / "second.db") as second:
        assert take_in(second, io.BytesIO(first), "export") == (152, 0)
        assert exported(second) == first
        assert take_in(second, io.BytesIO(first), "export") == (0, 152)
        assert exported(second) == first


BROKEN = {
    "no JSON": (b"family: choux", "cases:2:1: line: this is not JSON"),
    "cut off": (LINE[:9].encode(), "cases:2:10: line: this is not JSON"),
    "empty": (b"", "cases:2:1: line: it is empty"),
    "not UTF-8": (b'{"form":1,"id":"\xff"}', "cases:2:17: line: this is not UTF-8 text"),
    "a list": (b"[]", "cases:2:1: case: this is no object"),
    "a later form": (LINE.replace('"form":1', '"form":2').encode(), "cases:2:2: form: form 2 is not known"),
    "a key twice": (LINE.replace('{"form":1', '{"form":1,"form":1').encode(), "the key 'form' stands twice"),
    "a key too many": (
        LINE.replace('"note":', '"nota":1,"note":').encode(),
        "there is no key 'nota'; did you mean 'note'?",
    ),
    "a key missing": (LINE.replace('"role":"",', "").encode(), "the key 'role' is missing"),
    "not a number": (LINE.replace('"minutes":null', '"minutes":NaN').encode(), "NaN is no number"),
    "a huge number": (LINE.replace('"minutes":null', '"minutes":1e999').encode(), "minutes: inf is out of range"),
    "a long number": (LINE.replace('"pieces":null', '"pieces":' + "9" * 5000).encode(), "more than 18 digits"),
    "a big integer": (LINE.replace('"pieces":null', '"pieces":' + "9" * 18).encode(), "pieces cannot be"),
    "true for a number": (LINE.replace('"pieces":null', '"pieces":true').encode(), "pieces: this is no whole number"),
    "a word of no rule base": (LINE.replace("short_of_butter", "=cmd|' /C calc'!A0").encode(), "suspects.0.cause"),
    "a path": (
        LINE.replace('"pictures":[]', '"pictures":["../../x"]').encode(),
        "pictures.0: this is no picture's name",
    ),
    "a lone surrogate": (LINE.replace('"note":""', '"note":"\\ud800"').encode(), "the hidden character U+D800"),
    "a null character": (LINE.replace('"note":""', '"note":"a\\u0000"').encode(), "the hidden character U+0000"),
    "text turned round": (
        LINE.replace('"kitchen":""', '"kitchen":"a\\u202eb"').encode(),
        "the hidden character U+202E",
    ),
    "deep": (b"[" * 100_000, "nested too deep"),
    "a line without end": (b"x" * (lines.MOST_BYTES + 10), "longer than 400000 bytes"),
    "a time without zone": (LINE.replace("13:00:00Z", "13:00:00").encode(), "this is no time"),
}


@pytest.mark.parametrize("kind", BROKEN)
def test_a_broken_line_keeps_the_whole_file_out(tmp_path: Path, kind: str):
    """The place is named, and the sound lines around it do not go in either."""
    raw, said = BROKEN[kind]
    file = to_line(record(5)).encode() + b"\n" + raw + b"\n" + to_line(record(6)).encode() + b"\n"
    with Book.open(tmp_path / "book.db") as book:
        book.add(record(7))
        before = exported(book)
        with pytest.raises(ImportRefusedError) as refused:
            take_in(book, io.BytesIO(file), "cases")
        assert said in str(refused.value)
        assert str(refused.value).startswith("cases:2:")
        assert exported(book) == before


@pytest.mark.parametrize(
    ("old", "new", "column_of"),
    [
        ('"settled":false', '"settled":"no"', '"settled"'),
        ('"sign":"dough_feel"', '"sign":7', '"sign"'),
        ('"probability":0.75', '"probability":7.5', '"probability"'),
    ],
)
def test_a_fault_inside_a_line_is_told_with_its_column(tmp_path: Path, old: str, new: str, column_of: str):
    """The column is where the key stands, in lists too."""
    line = LINE.replace(old, new)
    with Book.open(tmp_path / "book.db") as book, pytest.raises(ImportRefusedError) as refused:
        take_in(book, io.BytesIO(line.encode()), "cases")
    assert str(refused.value).startswith(f"cases:1:{line.index(column_of) + 1}: ")


def test_an_id_that_stands_for_two_cases_is_refused(tmp_path: Path):
    """Two lines with one id, or a line with the id of another case in the book: none goes in."""
    twice = (to_line(record(1)) + "\n" + to_line(record(1, note="other")) + "\n").encode()
    with Book.open(tmp_path / "book.db") as book:
        with pytest.raises(ImportRefusedError, match="cases:2:1: id: the case 'case1' stands in line 1 already"):
            take_in(book, io.BytesIO(twice), "cases")
        book.add(record(1))
        other = (to_line(record(2)) + "\n" + to_line(record(1, note="other")) + "\n").encode()
        with pytest.raises(ImportRefusedError, match="cases:2:1: id: another case 'case1' is in the book"):
            take_in(book, io.BytesIO(other), "cases")
        assert list(book.each()) == [record(1)]


def test_problems_are_told_up_to_a_number(tmp_path: Path):
    """A file of nothing but nonsense is told in twenty lines, not in thousands."""
    with Book.open(tmp_path / "book.db") as book, pytest.raises(ImportRefusedError) as refused:
        take_in(book, io.BytesIO(b"nonsense\n" * 5000), "cases")
    assert len(str(refused.value).splitlines()) == 20


def test_a_file_from_another_system_is_read(tmp_path: Path):
    """A byte order mark and line ends of two characters do not matter."""
    file = b"\xef\xbb\xbf" + LINE.encode() + b"\r\n" + to_line(record(2)).encode() + b"\r\n"
    with Book.open(tmp_path / "book.db") as book:
        assert take_in(book, io.BytesIO(file), "cases") == (2, 0)


_JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False) | st.text(max_size=20),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=8), inner, max_size=4),
    max_leaves=8,
)


@settings(max_examples=150, deadline=None)
@given(st.sampled_from(sorted(json.loads(LINE))), _JSON)
def test_any_value_under_any_key_is_a_case_or_a_plain_refusal(key: str, value: object):
    """Whatever stands under a key, the line is read as a case that goes out as it came, or refused with its place."""
    data = json.loads(LINE) | {key: value}
    faults: tuple[object, ...] = ()
    try:
        found = from_line(json.dumps(data))
    except FaultyLineError as error:
        faults = error.faults
    assert faults or from_line(to_line(found)) == found


# -- a table ---------------------------------------------------------------------------


def table(*cases) -> list[list[str]]:
    stream = io.StringIO(newline="")
    exchange.write_table(cases, stream)
    return list(csv.reader(io.StringIO(stream.getvalue(), newline="")))


def test_a_table_has_a_row_for_each_case():
    """The columns are named, and hold what the case says."""
    head, row = table(FULL)
    found = dict(zip(head, row, strict=True))
    assert found["id"] == "full-1"
    assert found["finished_utc"] == "2026-03-02 12:04:00"
    assert (found["cause"], found["probability"], found["true_cause"]) == ("egg_overdose", "0.875", "panade_undried")
    assert found["answers"] == "paste_hang: runs_off; panade_loss: 2.3; egg_measure: can't tell"
    assert found["note"] == FULL.note


@pytest.mark.parametrize("start", ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "  =1", "\n=1", "＝1", "|calc"])
def test_no_cell_can_become_a_formula(start: str):
    """Text that a spreadsheet would work out is marked as text, and can still be read."""
    for row in table(replace(BARE, note=start), replace(BARE, note="x", kitchen=start.strip()))[1:]:
        assert not [cell for cell in row if cell.lstrip()[:1] in ("=", "+", "-", "@", "＝", "|")]
        assert [cell for cell in row if cell.startswith("'") and cell[1:].strip() == start.strip()]


def test_a_file_that_is_there_is_not_written_over(tmp_path: Path):
    """A name that is taken is refused; a file that could not be finished leaves nothing behind."""
    there = tmp_path / "there.jsonl"
    there.write_text("mine", encoding="utf-8")
    with pytest.raises(FileExistsError), exchange.new_file(there):
        pass
    with pytest.raises(ZeroDivisionError), exchange.new_file(tmp_path / "half.jsonl") as stream:
        stream.write(f"half {1 / 0}")
    assert [file.name for file in tmp_path.iterdir()] == ["there.jsonl"]
    assert there.read_text(encoding="utf-8") == "mine"
