"""Cases in hand on disk: saved at every answer, taken up again after any kind of end.

Each window writes a file of its own, so two windows never overwrite one another.
A case that is open somewhere is locked for as long as its process lives.
"""

from __future__ import annotations

import contextlib
import json
import uuid
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from types import MappingProxyType
from typing import Any

from filelock import BaseFileLock, FileLock, Timeout

from troubleshoot import atomic, resources
from troubleshoot.inference.facts import Given
from troubleshoot.interview.pictures import PictureStore, is_name
from troubleshoot.interview.state import QUESTION, STEPS, State

FORMAT = 1

#: What reading a file raises that is no case.
_UNREADABLE = (OSError, ValueError, OverflowError, KeyError, TypeError, AttributeError, RecursionError)


@dataclass(frozen=True, slots=True)
class SavedCase:
    """An unfinished case that can be taken up again, newest first in a list of them."""

    id: str
    state: State
    changed_at: float


class CaseStore:
    """The folder of cases in hand."""

    def __init__(self, folder: Path | None = None) -> None:
        self.folder = folder or resources.user_data() / "cases"
        self.pictures = PictureStore(self.folder.parent / "pictures")
        self.messages: list[str] = []
        self._held: dict[str, BaseFileLock] = {}

    def new_id(self) -> str:
        """Return an id that no other window uses."""
        return uuid.uuid4().hex

    def save(self, case_id: str, state: State) -> None:
        """Write a case at once.  Raises OSError when the folder cannot be written."""
        if state.family is None:
            return
        atomic.write_text(self._path(case_id), json.dumps(to_data(state), indent=1, ensure_ascii=False))

    def discard(self, case_id: str, keep_pictures: bool = False) -> None:
        """Forget a case that is finished or no longer wanted, and its pictures unless something else keeps them."""
        pictures = set() if keep_pictures else self._pictures_of([self._path(case_id)])
        self._path(case_id).unlink(missing_ok=True)
        if pictures:
            self.pictures.remove(pictures, self._pictures_of(self.folder.glob("*.json")))
        self.release(case_id)

    def forget_picture(self, name: str) -> None:
        """Remove a picture that was taken out of a case, unless another case names it.  Raises OSError if it cannot."""
        self.pictures.remove([name], self._pictures_of(self.folder.glob("*.json")))

    def _pictures_of(self, paths: Iterable[Path]) -> set[str]:
        """Return the pictures that case files name; a file that cannot be read is passed over."""
        found: set[str] = set()
        for path in paths:
            with contextlib.suppress(*_UNREADABLE):
                found.update(from_data(json.loads(path.read_text(encoding="utf-8"))).pictures)
        return found

    def claim(self, case_id: str) -> bool:
        """Take a case for this window; False when another one has it.  The lock ends with the process."""
        if case_id in self._held:
            return True
        atomic.own_folder(self.folder)
        lock = FileLock(self.folder / f"{case_id}.lock", mode=0o600)
        try:
            lock.acquire(timeout=0)
        except Timeout:
            return False
        self._held[case_id] = lock
        return True

    def release(self, case_id: str) -> None:
        """Let a case go, so that another window may take it up."""
        lock = self._held.pop(case_id, None)
        if lock is not None:
            lock.release()
            Path(lock.lock_file).unlink(missing_ok=True)

    def unfinished(self) -> tuple[SavedCase, ...]:
        """Return the cases that can be taken up, newest first; unreadable ones are kept aside, see ``messages``."""
        found = []
        for path in sorted(self.folder.glob("*.json")) if self.folder.is_dir() else ():
            if not self._free(path.stem):
                continue
            try:
                state = from_data(json.loads(path.read_text(encoding="utf-8")))
                found.append(SavedCase(path.stem, state, path.stat().st_mtime))
            except _UNREADABLE:
                self._keep_aside(path)
        return tuple(sorted(found, key=lambda case: -case.changed_at))

    def _keep_aside(self, path: Path) -> None:
        try:
            self.messages.append(f"A case could not be read. It was kept as {atomic.set_aside(path)}.")
        except OSError as error:
            self.messages.append(f"A case at {path} could not be read ({error.strerror}).")

    def _path(self, case_id: str) -> Path:
        return self.folder / f"{case_id}.json"

    def _free(self, case_id: str) -> bool:
        """Return whether no other window holds the case."""
        if case_id in self._held:
            return True
        if not self.claim(case_id):
            return False
        self.release(case_id)
        return True


def to_data(state: State) -> dict[str, Any]:
    """Return a state as plain data."""
    return {
        "format": FORMAT,
        "step": state.step,
        "family": state.family,
        "fault": state.fault,
        "answers": [[sign, given.answer, given.value] for sign, given in state.answers.items()],
        "asked": list(state.asked),
        "at": state.at,
        "more": state.more,
        "batch": dict(state.batch),
        "service_in_min": state.service_in_min,
        "stage": state.stage,
        "pictures": list(state.pictures),
        "begun": None if state.begun is None else state.begun.isoformat(),
        "times": {sign: at.isoformat() for sign, at in state.times.items()},
    }


def from_data(data: Any) -> State:
    """Return the state that plain data describes.  Raises ValueError, KeyError or TypeError when it is none."""
    if data["format"] != FORMAT:
        raise ValueError(f"format {data['format']} is not known to this version")
    if data["step"] not in STEPS:
        raise ValueError("unknown step")
    asked = tuple(str(sign) for sign in data["asked"])
    at = int(data["at"])
    if data["step"] == QUESTION and not 0 <= at < len(asked):
        raise ValueError("no question at this place")
    return State(
        step=data["step"],
        family=data["family"],
        fault=data["fault"],
        answers=MappingProxyType({str(s): Given(a, None if v is None else float(v)) for s, a, v in data["answers"]}),
        asked=asked,
        at=at,
        more=int(data["more"]),
        batch=MappingProxyType({str(k): float(v) for k, v in data["batch"].items()}),
        service_in_min=None if data["service_in_min"] is None else float(data["service_in_min"]),
        stage=data["stage"],
        pictures=_pictures(data.get("pictures", [])),
        begun=_moment(data["begun"]) if data.get("begun") is not None else None,
        times=MappingProxyType({str(sign): _moment(at) for sign, at in data.get("times", {}).items()}),
    )


def _moment(text: str) -> datetime:
    """Return a time as it was saved.  A case saved before times were kept has none."""
    moment = datetime.fromisoformat(text)
    if moment.tzinfo is None:
        raise ValueError("a time without its zone")
    return moment.astimezone(UTC)


def _pictures(names: Any) -> tuple[str, ...]:
    """Return the names of pictures.  A case saved before there were pictures has none."""
    if not all(isinstance(name, str) and is_name(name) for name in names):
        raise ValueError("no picture has such a name")
    return tuple(names)
