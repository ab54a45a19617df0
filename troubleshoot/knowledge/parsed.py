"""Rule files that were read strictly before, kept on disk by their content, so that the next start need not parse them.

What is kept is plain JSON: the data of a file and where each part of it stands.  An entry is found by the digest of
the file's bytes, of its schema and of the code that reads it, so a changed file or program never meets an old entry.
Only files without a problem are kept.  The store is readable by its owner only, and is ignored, and later rebuilt,
when it is missing, damaged, of another owner or open to others.  ``BATCHMEND_CACHE`` names another folder for it, or is
``off``.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
import re
import stat
from functools import cache
from pathlib import Path
from typing import Any

from troubleshoot import atomic, resources
from troubleshoot.knowledge.places import PathKey
from troubleshoot.knowledge.yamlread import Document
from troubleshoot.problems import Place

#: Raised when the form of the store changes.
FORM = 1

_NAME = re.compile(r"[0-9a-f]{16}")

#: A store larger than this is not read; the whole rule base takes a few megabytes.
MAX_BYTES = 30_000_000

#: Stores are kept for so many rules folders; those written longest ago go first.
MOST_FOLDERS = 8

Entry = tuple[Any, list[int]]


class ParsedFiles:
    """The files of one rules folder that were parsed before, in one store for each of its subfolders."""

    def __init__(self, rules: Path, store: Path | None) -> None:
        """``store`` is the folder to keep them in; None keeps nothing."""
        self._rules = rules
        self._store = store
        self._groups: dict[str, dict[str, Entry]] = {}
        self._used: dict[str, dict[str, Entry]] = {}
        self._new: set[str] = set()

    def get(self, path: Path, kind: str, raw: bytes) -> Document | None:
        """Return the document these bytes gave before, or None."""
        if self._store is None:
            return None
        group, key = self._group(path), _key(kind, raw)
        entry = self._groups.get(group, {}).get(key) if group in self._groups else self._read(group).get(key)
        if entry is None:
            return None
        document = _document(str(path), *entry)
        if document is not None:
            self._used.setdefault(group, {})[key] = entry
        return document

    def put(self, path: Path, kind: str, raw: bytes, document: Document) -> None:
        """Keep what these bytes gave, for ``save``."""
        if self._store is None or not isinstance(document.data, dict | list):
            return
        group = self._group(path)
        places = [document.places.get(where) for where in _paths(document.data)]
        if len(places) != len(document.places) or None in places:
            return
        flat = [number for place in places if place is not None for number in (place.line, place.column)]
        self._used.setdefault(group, {})[_key(kind, raw)] = (document.data, flat)
        self._new.add(group)

    def save(self) -> None:
        """Write the stores that have something new; a folder that cannot be written is left alone."""
        if self._store is None:
            return
        for group in self._new:
            kept = self._used.get(group, {})
            if group == "common":
                # Families take different common files, so what this one did not take is kept as well.
                kept = {**self._groups.get(group, {}), **kept}
            body = json.dumps(kept, separators=(",", ":"), ensure_ascii=False)
            head = json.dumps({"form": FORM, "digest": hashlib.sha256(body.encode("utf-8")).hexdigest()})
            with contextlib.suppress(OSError):
                atomic.write_text(self._file(group), f"{head}\n{body}")
            self._groups[group] = kept
        if self._new:
            with contextlib.suppress(OSError):
                _thin_out(self._store)
        self._new.clear()

    def _group(self, path: Path) -> str:
        try:
            parts = path.relative_to(self._rules).parts
        except ValueError:
            return "head"
        return parts[0] if len(parts) > 1 and path.name != "family.yaml" else "head"

    def _file(self, group: str) -> Path:
        assert self._store is not None
        name = hashlib.sha256(str(self._rules.absolute()).encode("utf-8", "surrogateescape")).hexdigest()[:16]
        return self._store / name / f"{hashlib.sha256(group.encode('utf-8', 'surrogateescape')).hexdigest()[:16]}.json"

    def _read(self, group: str) -> dict[str, Entry]:
        found: dict[str, Entry] = {}
        with contextlib.suppress(OSError, ValueError, RecursionError):
            raw = _owned_bytes(self._file(group))
            head, _, body = raw.partition(b"\n")
            about = json.loads(head)
            if about == {"form": FORM, "digest": hashlib.sha256(body).hexdigest()}:
                found = {key: (entry[0], entry[1]) for key, entry in json.loads(body).items()}
        self._groups[group] = found
        return found


def store_folder() -> Path | None:
    """Return the folder of the store, or None when ``BATCHMEND_CACHE`` is ``off``."""
    return resources.user_cache()


def _owned_bytes(path: Path) -> bytes:
    """Read a file that belongs to this user and that nobody else can write.  Raises OSError for any other."""
    handle = os.open(path, os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_BINARY", 0))
    with os.fdopen(handle, "rb") as stream:
        about = os.fstat(stream.fileno())
        if not stat.S_ISREG(about.st_mode) or about.st_size > MAX_BYTES:
            raise OSError("not a store")
        if hasattr(os, "getuid") and (about.st_uid != os.getuid() or about.st_mode & 0o022):
            raise OSError("not ours alone")
        return stream.read(MAX_BYTES)


def _thin_out(store: Path) -> None:
    """Delete the stores of the rules folders that were written longest ago, and nothing that is not a store."""
    folders = [
        path for path in store.iterdir() if _NAME.fullmatch(path.name) and path.is_dir() and not path.is_symlink()
    ]
    folders.sort(key=lambda path: path.stat().st_mtime, reverse=True)
    for folder in folders[MOST_FOLDERS:]:
        for path in folder.glob("*.json"):
            path.unlink()
        folder.rmdir()


@cache
def _reader() -> bytes:
    """Return the digest of everything beside a file's bytes that decides what it is read as."""
    digest = hashlib.sha256()
    here = Path(__file__).parent
    for path in (here / "yamlread.py", here / "schema.py"):
        with contextlib.suppress(OSError):
            digest.update(path.read_bytes())
    for path in sorted((resources.folder("rules") / "schema").glob("*.json")):
        digest.update(path.name.encode() + b"\0" + path.read_bytes())
    return digest.digest()


def _key(kind: str, raw: bytes) -> str:
    return hashlib.sha256(_reader() + kind.encode() + b"\0" + raw).hexdigest()


def _paths(data: Any) -> list[PathKey]:
    """Return the path of every part in the order in which reading notes their places."""
    found: list[PathKey] = [()]
    _inside(data, (), found)
    return found


def _inside(data: dict[str, Any] | list[Any], path: PathKey, found: list[PathKey]) -> None:
    for key, inner in data.items() if isinstance(data, dict) else enumerate(data):
        where = (*path, key)
        found.append(where)
        if isinstance(inner, dict | list):
            _inside(inner, where, found)


def _document(name: str, data: Any, flat: list[int]) -> Document | None:
    paths = _paths(data)
    if 2 * len(paths) != len(flat):
        return None
    numbers = iter(flat)
    places = {where: Place(name, line, column) for where, line, column in zip(paths, numbers, numbers, strict=False)}
    return Document(name, data, places)
