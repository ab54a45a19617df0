"""What a learner has practised, on disk: one file each, one line a finished round, only ever added to.

A learner is a nickname or a number; nothing else about them is kept.  A line is written
at once or, when the power fails, not read; what stands before it is never touched.
"""

from __future__ import annotations

import hashlib
import json
import os
import stat
import unicodedata
from collections.abc import Iterable, Mapping
from dataclasses import asdict, dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from filelock import FileLock

from troubleshoot import atomic, resources
from troubleshoot.errors import CaseError
from troubleshoot.practice.cases import key_of
from troubleshoot.practice.round import RoundState, state_of
from troubleshoot.problems import Place, Problem

FORMAT = 1

#: An exported record is at most so large: some twenty thousand rounds.
MOST_BYTES = 10_000_000

#: What reading raises that is no record.
_UNREADABLE = (ValueError, OverflowError, KeyError, TypeError, AttributeError, RecursionError, CaseError)

#: A nickname is at most this long.
MOST_LETTERS = 32


@dataclass(frozen=True, slots=True)
class Finished:
    """One finished round.

    ``at`` is aware and in UTC.  ``causes`` were at work, ``named`` is what the learner said, ``rival`` what the right
    cause was to be told from.  ``chain`` is the cause whose chain of why was chosen.  ``points`` are marks by id of
    the point.  Minutes and pieces are what looking cost, the program's on the same batch beside them.
    """

    id: str
    at: datetime
    code: str
    causes: tuple[str, ...]
    named: str
    rival: str
    chain: str
    total: int
    passed: bool
    points: Mapping[str, int]
    minutes: float
    pieces: float
    program_minutes: float
    program_pieces: float
    rules_version: str

    @property
    def family(self) -> str:
        """The family that the case was of."""
        return key_of(self.code).family

    @property
    def level(self) -> int:
        """The level of the case."""
        return key_of(self.code).level

    @property
    def right(self) -> bool:
        """Whether a cause at work was named."""
        return self.named in self.causes

    @property
    def cause(self) -> str:
        """The cause that this round was about: the one named when that was right, else the first at work."""
        return self.named if self.right else self.causes[0]


def learner_key(learner: str) -> str:
    """Return what makes a learner the same one however they type it.  Raises CaseError for no possible nickname."""
    name = unicodedata.normalize("NFC", learner).strip()
    if not name or len(name) > MOST_LETTERS or not name.isprintable():
        wrong = "this cannot be a nickname"
        advice = f"write 1 to {MOST_LETTERS} letters or figures"
        raise CaseError([Problem(Place("practice"), "learner", wrong, advice)])
    return name.casefold()


class LearnerStore:
    """The folder of learners' records.  Several windows may add to it at once."""

    def __init__(self, folder: Path | None = None) -> None:
        self.folder = folder or resources.user_data() / "practice"

    def learners(self) -> tuple[str, ...]:
        """Return the learners that have a record, by name, as each was first written."""
        names = (self._name(path) for path in sorted(self.folder.glob("*.jsonl")))
        return tuple(sorted((name for name in names if name is not None), key=str.casefold))

    def rounds(self, learner: str) -> tuple[Finished, ...]:
        """Return a learner's finished rounds, the earliest first; none when there is no record."""
        return self._read(self._path(learner))

    def unread(self, learner: str) -> int:
        """Return how many lines of a record cannot be read; they stay in the file."""
        path = self._path(learner)
        return sum(bool(line.strip()) and _finished(line) is None for line in _lines(path)[1:])

    def add(self, learner: str, finished: Finished) -> None:
        """Add a finished round.  It is on the disk when this returns.  Raises OSError when it cannot be written."""
        self._add(learner, (finished,))

    def forget(self, learner: str) -> None:
        """Delete all that is kept of a learner."""
        with self._lock(learner):
            self._path(learner).unlink(missing_ok=True)
            self._open_path(learner).unlink(missing_ok=True)
        Path(self._lock(learner).lock_file).unlink(missing_ok=True)

    # -- a round in hand ---------------------------------------------------------------

    def keep_open(self, learner: str, state: RoundState | None) -> None:
        """Keep a round that is not finished, so that it can be taken up again; None when it is finished."""
        path = self._open_path(learner)
        if state is None:
            path.unlink(missing_ok=True)
        else:
            atomic.write_text(path, json.dumps(state.to_data(), ensure_ascii=False) + "\n")

    def open_round(self, learner: str) -> RoundState | None:
        """Return the round that was left unfinished, or None; one that cannot be read is kept aside."""
        path = self._open_path(learner)
        try:
            return state_of(json.loads(path.read_text(encoding="utf-8")))
        except FileNotFoundError:
            return None
        except _UNREADABLE:
            atomic.set_aside(path)
            return None

    # -- carrying it elsewhere ---------------------------------------------------------

    def export(self, learner: str, to: Path) -> int:
        """Write a learner's record to a file that ``take_in`` reads; return the number of rounds."""
        rounds = self.rounds(learner)
        data = {
            "format": FORMAT,
            "learner": self._name(self._path(learner)) or learner,
            "rounds": [_data(one) for one in rounds],
        }
        atomic.write_text(to, json.dumps(data, indent=1, ensure_ascii=False) + "\n")
        return len(rounds)

    def take_in(self, source: Path) -> tuple[str, int]:
        """Read an exported file into the learner's record; return the learner and how many rounds were new.

        A round that is there already is not added again.  Raises CaseError, changing nothing, when the file is none
        or larger than a record can be, OSError when it cannot be read.
        """
        raw = _bounded(source)
        try:
            data = json.loads(raw)
            learner = str(data["learner"])
            if data["format"] != FORMAT:
                raise ValueError(f"format {data['format']} is not known to this version")
            rounds = [_from_data(one) for one in data["rounds"]]
        except _UNREADABLE as error:
            wrong, advice = f"this is no learner's record ({error})", "choose a file that was exported here"
            raise CaseError([Problem(Place(str(source)), "record", wrong, advice)]) from None
        learner_key(learner)
        return learner, self._add(learner, rounds)

    # -- inside ------------------------------------------------------------------------

    def _add(self, learner: str, rounds: Iterable[Finished]) -> int:
        path = self._path(learner)
        atomic.own_folder(self.folder)
        with self._lock(learner):
            if not path.exists() or not path.stat().st_size:
                head = {"format": FORMAT, "learner": unicodedata.normalize("NFC", learner).strip()}
                atomic.write_text(path, json.dumps(head, ensure_ascii=False) + "\n")
            there = {one.id for one in self._read(path)}
            new = [one for one in rounds if one.id not in there]
            text = "".join(json.dumps(_data(one), ensure_ascii=False) + "\n" for one in new)
            with path.open("r+b") as stream:
                end = stream.seek(0, os.SEEK_END)
                stream.seek(max(0, end - 1))
                # A line cut off by a crash is closed, so that the next one is not spoilt with it.
                whole = stream.read(1) in (b"\n", b"")
                stream.write((text if whole else "\n" + text).encode())
                stream.flush()
                os.fsync(stream.fileno())
        return len(new)

    def _read(self, path: Path) -> tuple[Finished, ...]:
        rounds = [finished for line in _lines(path)[1:] if (finished := _finished(line)) is not None]
        return tuple(sorted(rounds, key=lambda one: (one.at, one.id)))

    def _name(self, path: Path) -> str | None:
        try:
            return str(json.loads(_lines(path)[0])["learner"])
        except (IndexError, ValueError, KeyError, TypeError, RecursionError):
            return None

    def _stem(self, learner: str) -> str:
        return hashlib.sha256(learner_key(learner).encode()).hexdigest()[:24]

    def _path(self, learner: str) -> Path:
        return self.folder / f"{self._stem(learner)}.jsonl"

    def _open_path(self, learner: str) -> Path:
        return self.folder / f"{self._stem(learner)}.open.json"

    def _lock(self, learner: str) -> FileLock:
        return FileLock(self.folder / f"{self._stem(learner)}.lock", mode=0o600)


def _lines(path: Path) -> list[str]:
    try:
        return path.read_text(encoding="utf-8", errors="replace").split("\n")
    except FileNotFoundError:
        return []


def _bounded(source: Path) -> bytes:
    """Return what a file holds.  Raises CaseError for what is no file, and for one too large to be a record."""
    # Without waiting: a pipe that nobody writes to would hold the program for ever.
    handle = os.open(source, os.O_RDONLY | getattr(os, "O_BINARY", 0) | getattr(os, "O_NONBLOCK", 0))
    try:
        about = os.fstat(handle)
        wrong = "" if stat.S_ISREG(about.st_mode) else "this is no file"
        if about.st_size > MOST_BYTES:
            wrong = f"this is larger than {MOST_BYTES // 1_000_000} MB"
        if wrong:
            raise CaseError([Problem(Place(str(source)), "record", wrong, "choose a file that was exported here")])
        # Opened by its number only now, for a folder cannot be, and would be told by that number.
        with os.fdopen(handle, "rb", closefd=False) as found:
            return found.read(MOST_BYTES)
    finally:
        os.close(handle)


def _finished(line: str) -> Finished | None:
    try:
        return _from_data(json.loads(line))
    except _UNREADABLE:
        return None


def _data(finished: Finished) -> dict[str, Any]:
    return {**asdict(finished), "at": finished.at.isoformat(), "causes": list(finished.causes)}


def _from_data(data: Any) -> Finished:
    """Return the round that plain data describes.  Raises ValueError, KeyError or TypeError when it is none."""
    at = datetime.fromisoformat(data["at"])
    if at.tzinfo is None:
        raise ValueError("a time without its zone")
    key_of(data["code"])
    causes = tuple(str(cause) for cause in data["causes"])
    if not causes:
        raise ValueError("no cause at work")
    return Finished(
        id=str(data["id"]),
        at=at.astimezone(UTC),
        code=str(data["code"]),
        causes=causes,
        named=str(data["named"]),
        rival=str(data["rival"]),
        chain=str(data["chain"]),
        total=int(data["total"]),
        passed=bool(data["passed"]),
        points={str(point): int(got) for point, got in data["points"].items()},
        minutes=float(data["minutes"]),
        pieces=float(data["pieces"]),
        program_minutes=float(data["program_minutes"]),
        program_pieces=float(data["program_pieces"]),
        rules_version=str(data["rules_version"]),
    )
