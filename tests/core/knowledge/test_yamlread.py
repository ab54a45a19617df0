"""Strict YAML: each trap is refused with its line, and what is sound is read with its places."""

from __future__ import annotations

import pytest

from troubleshoot.knowledge.yamlread import MAX_BYTES, read_bytes, read_text


def problems(text: str) -> list[str]:
    return [str(problem) for problem in read_text(text, "a.yaml").problems]


def test_places_of_keys_and_list_entries_count_from_one():
    """A key's place is where the key stands, and a list entry's where the entry stands."""
    document = read_text("one: 1\nmany:\n  - a\n  - b\n", "a.yaml")
    assert document.problems == []
    assert document.data == {"one": 1, "many": ["a", "b"]}
    assert str(document.place(("many",))) == "a.yaml:2:1"
    assert str(document.place(("many", 1))) == "a.yaml:4:5"
    assert document.place(("many", 1, "deeper")) == document.place(("many", 1))


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("a: 1\nb: 2\na: 3\n", "a.yaml:3:1: a: the key 'a' stands twice (first on line 1); keep one"),
        (
            "milk: no\n",
            'a.yaml:1:7: milk: YAML reads the bare word no as false; write "no" in quotes, or true or false',
        ),
        ("a:\n  yes: 1\n", 'a.yaml:2:3: a: YAML reads the bare word yes as true or false; write "yes" in quotes'),
        (
            "time: 12:30\n",
            'a.yaml:1:7: time: YAML reads 12:30 as a number in base sixty; write "12:30" in quotes, or minutes',
        ),
        ("day: 2026-01-02\n", 'a.yaml:1:6: day: YAML reads 2026-01-02 as a date; write "2026-01-02" in quotes'),
        ("id: 0123\n", 'a.yaml:1:5: id: 0123 is not a plain whole number; write decimal digits, or "0123" in quotes'),
        ("a:\n", "a.yaml:1:3: a: nothing is written here; write a value or remove the key"),
        ("a: &x 1\nb: *x\n", "a.yaml:2:4: yaml: an alias (*name) repeats a part; write the part out again"),
        (
            "a: !!python/name:os.system x\n",
            "the tag tag:yaml.org,2002:python/name:os.system is not allowed; remove the tag",
        ),
    ],
)
def test_each_trap_is_refused_with_its_place(text: str, expected: str):
    """Duplicate keys, bare words, base sixty, dates, octal, nothing, aliases and tags are all refused."""
    assert any(expected in line for line in problems(text)), problems(text)


def test_broken_syntax_gives_one_located_problem():
    """A file that is not YAML names the line where it stops being YAML."""
    assert problems("a: [1, 2\nb: 3\n")[0].startswith("a.yaml:2:")


def test_an_empty_file_is_refused():
    """A file with nothing in it says so."""
    assert "the file is empty" in problems("# only a comment\n")[0]


def test_text_that_is_not_utf8_names_the_line():
    """Bytes that are not UTF-8 are refused with the line they stand on."""
    assert str(read_bytes(b"a: 1\nb: \xff\n", "a.yaml").problems[0]).startswith("a.yaml:2:1")


def test_huge_and_deep_files_are_refused():
    """A file past the size limit or the depth limit is refused, not read."""
    assert "larger than" in str(read_bytes(b"a" * (MAX_BYTES + 1), "a.yaml").problems[0])
    assert any("nested more than" in line for line in problems("[" * 60 + "]" * 60))
