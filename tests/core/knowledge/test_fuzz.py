"""Rule files spoilt at random: each is read or refused with a line, quickly, in little memory, and never raises.

``python tests/bench/fuzz.py --mutants 20000`` does the same at length.
"""

from __future__ import annotations

import random
import shutil
from collections import Counter
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from rule_mutants import NASTY, Target, mutant, targets, withstand, withstand_in_folder

from troubleshoot.knowledge.schema import check_form
from troubleshoot.knowledge.yamlread import MAX_BYTES, MAX_ENTRIES, MAX_PARTS, read_bytes, read_file

TARGETS = targets()
SMALL = Path(__file__).parents[2] / "support" / "small_rules"

#: What may come of a file; anything else, or an error, is a defect.
ENDS = ("read", "refused")


def test_mutants_of_the_shipped_files_are_read_or_refused():
    """Four hundred files with wrong bytes, lines and pieces are each read or refused; most are refused."""
    rng = random.Random(20261125)
    came: Counter[str] = Counter()
    for _ in range(400):
        target, other = rng.choice(TARGETS), rng.choice(TARGETS)
        came[withstand(target, mutant(rng, target.raw, other.raw))] += 1
    assert came["refused"] > came["read"] > 0


def test_mutants_within_a_folder_are_read_or_refused(tmp_path: Path):
    """A spoilt file among sound ones leaves a rule base that is read, or problems, and never an exception."""
    folder = Path(shutil.copytree(SMALL, tmp_path / "rules"))
    names = [path.relative_to(folder).as_posix() for path in sorted(folder.rglob("*.yaml"))]
    rng = random.Random(7)
    came: Counter[str] = Counter()
    for _ in range(150):
        name = rng.choice(names)
        raw = (folder / name).read_bytes()
        came[withstand_in_folder(folder, name, mutant(rng, raw, (folder / rng.choice(names)).read_bytes()))] += 1
    assert came["refused"]
    assert came["read"]


@pytest.mark.parametrize("piece", NASTY, ids=range(len(NASTY)))
def test_each_nasty_piece_is_withstood_as_a_value(piece: bytes):
    """Each piece that hurts readers of YAML, put in place of a value, is read or refused."""
    target = next(target for target in TARGETS if target.name == "choux/signs/paste_hang.yaml")
    placed = target.raw.replace(b"kind: felt", b"kind: " + piece).replace(b"kind: seen", b"kind: " + piece)
    assert withstand(target, placed) in ENDS
    assert withstand(target, piece) in ENDS


VALUES = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=30),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=8), inner, max_size=4),
    max_leaves=12,
)


@settings(max_examples=120, deadline=None, suppress_health_check=list(HealthCheck))
@given(st.sampled_from(TARGETS), st.binary(max_size=200))
def test_any_bytes_are_withstood(target: Target, raw: bytes):
    """Whatever bytes a file holds, it is read or refused."""
    assert withstand(target, raw) in ENDS


@settings(max_examples=150, deadline=None, suppress_health_check=list(HealthCheck))
@given(st.sampled_from(sorted({target.kind for target in TARGETS})), VALUES)
def test_any_data_under_known_keys_is_withstood_by_the_schema(kind: str, value: object):
    """Whatever shape of data stands under the keys of a form, each breach is told in words."""
    target = next(target for target in TARGETS if target.kind == kind)
    document = read_bytes(target.raw, target.name)
    for key in list(document.data):
        document.data[key] = value
        for problem in check_form(document, kind):
            assert str(problem)


@pytest.mark.parametrize(
    ("raw", "line", "says"),
    [
        (b"a: 1\nb: &x [1]\nc: *x\n", 2, "an anchor (&x)"),
        (b"a: &a [&b [x], *b, *b]\n", 1, "an anchor (&a)"),
        (b"a: 1\nb: !!python/name:os.system x\n", 2, "python/name:os.system is not allowed"),
        (b"a: 1\n\nb: " + b"[" * 100 + b"]" * 100, 3, "nested more than"),
        (b"a: 1\n\nb: " + b"[" * 100_000, 3, "nesting depth"),
        (b"x: 1\na: {" + b"b: {" * 100_000, 2, "nested more than"),
        (b"- 1\n" * (MAX_PARTS + 10), MAX_PARTS - 1, "more than"),
        (b"".join(b"k%d: 1\n" % n for n in range(MAX_ENTRIES + 1)), 1, "entries"),
        (b"#" * (MAX_BYTES + 1), 1, "larger than"),
        (b"a: 1\nb: \xff\n", 2, "not UTF-8"),
        ("a: 1\nb: 2\n".encode("utf-16"), 1, "not UTF-8"),
        ("a: 1\nb: x\u2028y\n".encode(), 2, "U+2028"),
        (b"a: 1\nb: \x00\n", 2, "U+0000"),
        (b"a: 1\nb: \x1b[2J\n", 2, "U+001B"),
        (b"a: 1\nb: " + b"9" * 5000 + b"\n", 2, "too many digits"),
        (b"a: 1\nb: 1.0e+999\n", 2, "not a plain number"),
        (b"a: 1\nb: .nan\n", 2, "not a plain number"),
        (b"a: &a {b: *a}\n", 1, "an anchor (&a)"),
    ],
    ids=range(18),
)
def test_each_attack_is_refused_with_its_line(raw: bytes, line: int, says: str):
    """Anchors, tags, depth, size, encodings, hidden characters, endless numbers and circles name their line."""
    problem = read_bytes(raw, "a.yaml").problems[0]
    assert says in problem.wrong
    assert problem.place.line == line


def test_a_byte_order_mark_and_windows_line_ends_are_read():
    """What editors on other systems write is no attack."""
    document = read_bytes(b"\xef\xbb\xbfa: 1\r\nb: two\r\n", "a.yaml")
    assert document.problems == []
    assert document.data == {"a": 1, "b": "two"}


def test_a_huge_file_is_not_read_whole(tmp_path: Path):
    """A file of a gigabyte is refused after its first megabyte."""
    path = tmp_path / "huge.yaml"
    with path.open("wb") as stream:
        stream.truncate(1 << 30)
    assert "larger than" in read_file(path).problems[0].wrong


def test_a_bomb_of_problems_is_cut_short():
    """A file with thousands of wrong keys tells of the first hundred."""
    document = read_bytes(b"".join(b"key_%d: x\n" % n for n in range(900)), "a.yaml")
    assert 0 < len(check_form(document, "sign")) <= 100
