"""Strict YAML: plain data with the place of every value, or a list of problems.

PyYAML alone keeps the last of two equal keys, reads ``no`` as False and
``12:30`` as 750, and forgets where things stood.  Rule files are written by
people who bake; each of these traps is refused here, with its line.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import yaml

from troubleshoot.knowledge.places import PathKey
from troubleshoot.problems import Place, Problem

_Loader: type[Any] = getattr(yaml, "CSafeLoader", yaml.SafeLoader)

#: No file of a rule base comes near these; a file beyond them is refused before it can cost time or memory.
MAX_BYTES = 1_000_000
MAX_DEPTH = 24
MAX_PARTS = 20_000
MAX_ENTRIES = 1_000
MAX_DIGITS = 18

#: Problems told of one file at once.
MAX_PROBLEMS = 100

#: Characters that hide or reorder text, or that break a line for YAML and not for an editor.
_HIDDEN = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u200b-\u200f\u2028-\u202e\u2066-\u2069\ufeff\ud800-\udfff]")

#: Written as an escape in a quoted text it would move the cursor back to the start of the line.
_RETURN = re.compile(r"\r")

_TAG = "tag:yaml.org,2002:"


@dataclass(slots=True)
class Document:
    """A YAML file as plain data, with the place of each key and value by its path."""

    file: str
    data: Any = None
    places: dict[PathKey, Place] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)

    def place(self, path: PathKey = ()) -> Place:
        """Return where ``path`` stands, or the nearest parent that has a place."""
        while path and path not in self.places:
            path = path[:-1]
        return self.places.get(path, Place(self.file))

    def texts(self) -> Iterator[tuple[Place, str]]:
        """Yield every text that stands as a value, with its place."""
        open_parts: list[tuple[PathKey, Any]] = [((), self.data)]
        while open_parts:
            path, value = open_parts.pop()
            if isinstance(value, dict):
                open_parts.extend(((*path, key), inner) for key, inner in value.items())
            elif isinstance(value, list):
                open_parts.extend(((*path, index), inner) for index, inner in enumerate(value))
            elif isinstance(value, str):
                yield self.place(path), value


def read_file(path: Path, shown_as: str | None = None) -> Document:
    """Read one YAML file strictly.  Never raises for what is in the file."""
    name = shown_as or str(path)
    try:
        with path.open("rb") as stream:
            raw = stream.read(MAX_BYTES + 1)
    except OSError as error:
        return unreadable(name, error)
    return read_bytes(raw, name)


def unreadable(name: str, error: OSError) -> Document:
    """Return what stands for a file that could not be read: the problem alone."""
    if isinstance(error, FileNotFoundError):
        return _failed(name, "there is no such file", "check the name and the folder")
    reason = error.strerror or str(error)
    return _failed(name, f"the file cannot be read ({reason})", "check the file and its permissions")


def read_bytes(raw: bytes, name: str) -> Document:
    """Read YAML from bytes strictly; ``name`` stands for the file in messages."""
    if len(raw) > MAX_BYTES:
        return _failed(name, f"the file is larger than {MAX_BYTES} bytes", "split it into smaller files")
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        return _failed(name, "the file is not UTF-8 text", "save it as UTF-8", line)
    return read_text(text, name)


def read_text(text: str, name: str) -> Document:
    """Read YAML from text strictly; ``name`` stands for the file in messages."""
    document = Document(name)
    hidden = _HIDDEN.search(text)
    if hidden is not None:
        before = text[: hidden.start()]
        place = Place(name, before.count("\n") + 1, len(before) - before.rfind("\n"))
        document.problems.append(Problem(place, "yaml", _hidden(hidden[0]), "delete it"))
        return document
    try:
        _scan(text, document)
        node = None if document.problems else yaml.compose(text, Loader=_Loader)
    except yaml.MarkedYAMLError as error:
        mark = error.problem_mark or error.context_mark
        place = Place(name, mark.line + 1, mark.column + 1) if mark else Place(name)
        wrong = " ".join(str(error.problem or error.context or "this is not YAML").split())
        document.problems.append(
            Problem(place, "yaml", wrong, "look at the indentation, quotes and colons on this line and the one before")
        )
        return document
    except yaml.YAMLError as error:
        document.problems.append(
            Problem(Place(name), "yaml", " ".join(str(error).split()), "remove characters that are not plain text")
        )
        return document
    if document.problems:
        return document
    if node is None:
        document.problems.append(Problem(Place(name), "yaml", "the file is empty", "write its keys or delete it"))
        return document
    document.data = _Reader(document).value(node, ())
    return document


def _scan(text: str, document: Document) -> None:
    """Refuse what a rule file may not hold while it is still a stream of events, before anything is built of it."""

    def refuse(event: Any, wrong: str, advice: str) -> None:
        place = Place(document.file, event.start_mark.line + 1, event.start_mark.column + 1)
        document.problems.append(Problem(place, "yaml", wrong, advice))

    depth = 0
    events: Iterator[Any] = yaml.parse(text, Loader=_Loader)
    for number, event in enumerate(events):
        if number > MAX_PARTS:
            return refuse(event, f"the file has more than {MAX_PARTS} parts", "split it into smaller files")
        if isinstance(event, yaml.AliasEvent):
            refuse(event, "an alias (*name) repeats a part", "write the part out again")
        elif getattr(event, "anchor", None) is not None:
            refuse(event, f"an anchor (&{str(event.anchor)[:40]}) names a part", "remove it and write each part out")
        if getattr(event, "tag", None) is not None:
            refuse(event, f"the tag {str(event.tag)[:80]} is not allowed", "remove the tag")
        if isinstance(event, yaml.CollectionStartEvent):
            depth += 1
            if depth > MAX_DEPTH:
                return refuse(event, f"nested more than {MAX_DEPTH} deep", "flatten it")
        elif isinstance(event, yaml.CollectionEndEvent):
            depth -= 1
        if len(document.problems) >= MAX_PROBLEMS:
            return None
    return None


def _hidden(character: str) -> str:
    return f"the hidden character U+{ord(character):04X} stands here"


def _failed(name: str, wrong: str, advice: str, line: int = 1) -> Document:
    document = Document(name)
    document.problems.append(Problem(Place(name, line), "file", wrong, advice))
    return document


class _Reader:
    """Turns one node tree into plain data, noting places and problems."""

    def __init__(self, document: Document) -> None:
        self.document = document

    def value(self, node: Any, path: PathKey) -> Any:
        place = Place(self.document.file, node.start_mark.line + 1, node.start_mark.column + 1)
        self.document.places.setdefault(path, place)
        if len(self.document.problems) >= MAX_PROBLEMS:
            return None
        if not isinstance(node, yaml.ScalarNode) and len(node.value) > MAX_ENTRIES:
            return self._refuse(place, path, f"there are more than {MAX_ENTRIES} entries", "split it")
        if isinstance(node, yaml.MappingNode):
            return self._mapping(node, path)
        if isinstance(node, yaml.SequenceNode):
            return [self.value(item, (*path, i)) for i, item in enumerate(node.value)]
        return self._scalar(node, place, path)

    def _mapping(self, node: Any, path: PathKey) -> dict[str, Any]:
        result: dict[str, Any] = {}
        for key_node, value_node in node.value:
            place = Place(self.document.file, key_node.start_mark.line + 1, key_node.start_mark.column + 1)
            if not isinstance(key_node, yaml.ScalarNode):
                self._refuse(place, path, "a key must be a plain word", "write a word before the colon")
                continue
            if key_node.tag == _TAG + "merge":
                self._refuse(place, path, "the merge key << is not allowed", "write the keys out")
                continue
            if key_node.tag == _TAG + "bool" and key_node.value not in ("true", "false"):
                word = key_node.value
                self._refuse(
                    place, path, f"YAML reads the bare word {word} as true or false", f'write "{word}" in quotes'
                )
            key = str(key_node.value)
            hidden = _HIDDEN.search(key) or _RETURN.search(key)
            if hidden is not None:
                self._refuse(place, path, _hidden(hidden[0]), "delete it")
                continue
            if key in result:
                first = self.document.places[(*path, key)]
                self._refuse(
                    place, (*path, key), f"the key '{key}' stands twice (first on line {first.line})", "keep one"
                )
                continue
            self.document.places[(*path, key)] = place
            result[key] = self.value(value_node, (*path, key))
        return result

    def _scalar(self, node: Any, place: Place, path: PathKey) -> Any:
        text, tag = str(node.value), str(node.tag).removeprefix(_TAG)
        if tag == "str":
            hidden = _HIDDEN.search(text) or _RETURN.search(text)
            if hidden is not None:
                return self._refuse(place, path, _hidden(hidden[0]), "delete it")
            return text
        if tag == "bool":
            if text in ("true", "false"):
                return text == "true"
            return self._refuse(
                place,
                path,
                f"YAML reads the bare word {text} as {'true' if text.lower() in ('yes', 'on', 'y') else 'false'}",
                f'write "{text}" in quotes, or true or false',
            )
        if tag == "null":
            return self._refuse(place, path, "nothing is written here", "write a value or remove the key")
        if tag == "int":
            if ":" in text:
                return self._refuse(
                    place, path, f"YAML reads {text} as a number in base sixty", f'write "{text}" in quotes, or minutes'
                )
            if not text.lstrip("+-").isdigit() or (len(text.lstrip("+-")) > 1 and text.lstrip("+-").startswith("0")):
                return self._refuse(
                    place, path, f"{text} is not a plain whole number", f'write decimal digits, or "{text}" in quotes'
                )
            if len(text) > MAX_DIGITS:
                return self._refuse(place, path, "the number has too many digits", f"write at most {MAX_DIGITS}")
            return int(text)
        if tag == "float":
            try:
                number = float(text.replace("_", "x"))
            except ValueError:
                number = math.nan
            if not math.isfinite(number):
                return self._refuse(place, path, f"{text[:40]} is not a plain number", "write it as 1.5")
            return number
        if tag == "timestamp":
            return self._refuse(place, path, f"YAML reads {text} as a date", f'write "{text}" in quotes')
        return self._refuse(place, path, f"'{text[:40]}' cannot stand here", "write it in quotes")

    def _refuse(self, place: Place, path: PathKey, wrong: str, advice: str) -> None:
        subject = str(path[-1]) if path else "yaml"
        self.document.problems.append(Problem(place, subject, wrong, advice))
