"""Rule files as last read, kept by their content: after a save only what changed is parsed and checked again."""

from __future__ import annotations

import errno
import os
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TypeVar, cast

from troubleshoot.knowledge.parsed import ParsedFiles, store_folder
from troubleshoot.knowledge.schema import check_form
from troubleshoot.knowledge.yamlread import MAX_BYTES, Document, read_bytes, unreadable
from troubleshoot.problems import Problem

T = TypeVar("T")

#: What tells one state of a file on disk from another without opening it: changed at, renamed at, size, number.
Mark = tuple[int, int, int, int]
Stamp = tuple[str, Mark]


@dataclass(frozen=True, slots=True)
class KeptFile:
    """One file as it was read: its bytes, what they mean, and what is wrong with their form."""

    mark: Mark | None
    raw: bytes
    document: Document
    problems: tuple[Problem, ...]


class KeptFiles:
    """The files of a rules folder that were read before.

    Reading a family takes about half a second, nearly all of it spent on files that have not changed.
    """

    def __init__(self, parsed: ParsedFiles | None = None) -> None:
        """``parsed`` holds what earlier runs of the program parsed; without it nothing is looked up or kept on disk."""
        self._parsed = parsed
        self._files: dict[tuple[Path, str], KeptFile] = {}
        self._built: dict[tuple[Path, str], tuple[KeptFile, object, object]] = {}

    def read(self, path: Path, kind: str) -> KeptFile:
        """Return a file read strictly and checked as ``kind``; the same bytes are parsed and checked only once."""
        known = self._files.get((path, kind))
        # The mark is taken before the bytes are read: a file saved in between is read once more, never once too few.
        mark = _mark(path)
        if known is not None and mark is not None and known.mark == mark:
            return known
        try:
            # A pipe or a device in the folder would be waited for, or read without end.
            if mark is not None and not path.is_file():
                raise OSError(errno.EINVAL, "it is not a plain file")
            with path.open("rb") as stream:
                raw = stream.read(MAX_BYTES + 1)
        except OSError as error:
            self._files.pop((path, kind), None)
            missing = unreadable(str(path), error)
            return KeptFile(None, b"", missing, tuple(missing.problems))
        if known is not None and known.raw == raw:
            found = replace(known, mark=mark)
        else:
            found = self._parse(path, kind, mark, raw)
        self._files[path, kind] = found
        return found

    def _parse(self, path: Path, kind: str, mark: Mark | None, raw: bytes) -> KeptFile:
        document = self._parsed.get(path, kind, raw) if self._parsed is not None else None
        if document is not None:
            return KeptFile(mark, raw, document, ())
        document = read_bytes(raw, str(path))
        problems = tuple(document.problems or check_form(document, kind))
        if self._parsed is not None and not problems:
            self._parsed.put(path, kind, raw, document)
        return KeptFile(mark, raw, document, problems)

    def paths(self) -> tuple[Path, ...]:
        """Return the files that were read."""
        return tuple(path for path, _ in self._files)

    def save(self) -> None:
        """Keep what was parsed for the next run of the program."""
        if self._parsed is not None:
            self._parsed.save()

    def build(self, path: Path, kind: str, file: KeptFile, scale: object, make: Callable[[Document], T]) -> T:
        """Return what ``make`` builds from a file; built before from the same bytes on the same scale, it is shared."""
        known = self._built.get((path, kind))
        if known is not None and known[0] is file and known[1] is scale:
            return cast(T, known[2])
        made = make(file.document)
        self._built[path, kind] = (file, scale, made)
        return made


def of_folder(folder: Path) -> KeptFiles:
    """Return the files of a rules folder as the program keeps them, with what earlier runs parsed."""
    return KeptFiles(ParsedFiles(folder, store_folder()))


def stamp(folder: Path, family: str | None) -> frozenset[Stamp]:
    """Return what changes whenever a file changes that ``family`` is read from; of all headers without a family."""
    paths: list[Path | os.DirEntry[str]] = [*folder.glob("*.yaml"), *folder.glob("*/family.yaml")]
    if family is not None:
        paths += [*_rule_files(folder / family), *_rule_files(folder / "common")]
    marks = ((os.fspath(path), _mark(path)) for path in paths)
    return frozenset((path, mark) for path, mark in marks if mark is not None)


def _rule_files(folder: str | Path) -> Iterator[os.DirEntry[str]]:
    """Yield the rule files in a folder and below it; a third of the time that ``Path.glob`` takes over a family."""
    try:
        with os.scandir(folder) as entries:
            for entry in entries:
                if entry.is_dir(follow_symlinks=False):
                    yield from _rule_files(entry.path)
                elif entry.name.endswith(".yaml"):
                    yield entry
    except OSError:
        return


def _mark(path: Path | os.DirEntry[str]) -> Mark | None:
    try:
        about = path.stat()
    except OSError:
        return None
    return (about.st_mtime_ns, about.st_ctime_ns, about.st_size, about.st_ino)
