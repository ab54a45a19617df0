"""A case as one line of JSON, and strictly back: the same case, the same bytes, in every database.

Keys stand in one order and all of them always.  Times are ISO 8601 in UTC, numbers as Python writes them.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import UTC, datetime
from typing import Any, TypeVar

from troubleshoot.casebook.record import GivenAnswer, Outcome, Record, Suspected
from troubleshoot.casebook.valid import Fault, FieldPath, faults
from troubleshoot.problems import choose_from

#: The form of a line.  A program refuses lines of a later form.
LINE_FORM = 1

#: A longer line is no case.
MOST_BYTES = 400_000

#: No whole number in a case has more digits.
MOST_DIGITS = 18

_T = TypeVar("_T")


class FaultyLineError(ValueError):
    """A line that is no case: what is wrong with it, each with its place."""

    def __init__(self, found: Sequence[Fault]) -> None:
        super().__init__("; ".join(f"{fault.wrong}; {fault.advice}" for fault in found))
        self.faults = tuple(found)


def to_data(record: Record) -> dict[str, Any]:
    """Return a case as plain data, its keys in the order of a line."""
    return {
        "form": LINE_FORM,
        "id": record.id,
        "family": record.family,
        "begun": _iso(record.begun),
        "finished": _iso(record.finished),
        "fault": record.fault,
        "stage": record.stage,
        "answers": [{"sign": a.sign, "answer": a.answer, "value": a.value, "at": _iso(a.at)} for a in record.answers],
        "suspects": [{"cause": s.cause, "probability": s.probability} for s in record.suspects],
        "settled": record.settled,
        "rules_version": record.rules_version,
        "batch": dict(record.batch),
        "kitchen": record.kitchen,
        "role": record.role,
        "done": list(record.done),
        "outcome": record.outcome.value,
        "true_cause": record.true_cause,
        "pieces": record.pieces,
        "pieces_saved": record.pieces_saved,
        "pieces_lost": record.pieces_lost,
        "minutes": record.minutes,
        "pictures": list(record.pictures),
        "note": record.note,
        "invented": record.invented,
    }


_KEYS = (
    *("form", "id", "family", "begun", "finished", "fault", "stage", "answers", "suspects", "settled"),
    *("rules_version", "batch", "kitchen", "role", "done", "outcome", "true_cause"),
    *("pieces", "pieces_saved", "pieces_lost", "minutes", "pictures", "note", "invented"),
)


def to_line(record: Record) -> str:
    """Return a case as a line of JSON, without its end."""
    return json.dumps(to_data(record), ensure_ascii=False, separators=(",", ":"), allow_nan=False)


def from_line(line: str) -> Record:
    """Return the case that a line holds.  Raises FaultyLineError; json.JSONDecodeError where it is no JSON."""
    try:
        data = json.loads(line, object_pairs_hook=_once, parse_constant=_no_constant, parse_int=_whole)
    except json.JSONDecodeError:
        raise
    except RecursionError:
        raise FaultyLineError([Fault((), "it is nested too deep", "write a case as the export does")]) from None
    except ValueError as error:
        raise FaultyLineError([Fault((), str(error), "write a case as the export does")]) from None
    return from_data(data)


def from_data(data: object) -> Record:
    """Return the case that plain data describes.  Raises FaultyLineError with everything that is wrong."""
    reader = _Reader()
    fields = reader.mapping((), data)
    reader.keys((), fields, _KEYS)
    if reader.faults:
        raise FaultyLineError(reader.faults)
    if fields["form"] != LINE_FORM or isinstance(fields["form"], bool):
        advice = f"this version reads form {LINE_FORM}; update Batchmend to read a later one"
        raise FaultyLineError([Fault(("form",), f"form {fields['form']!r} is not known", advice)])
    record = reader.record(fields)
    found = reader.faults or list(faults(record))
    if found:
        raise FaultyLineError(found)
    return record


class _Reader:
    """Reads plain data of any kind, noting what is wrong; where something is, a stand-in goes on being read."""

    def __init__(self) -> None:
        self.faults: list[Fault] = []

    def record(self, data: Mapping[str, Any]) -> Record:
        def field(name: str, read: Callable[[FieldPath, Any], _T]) -> _T:
            return read((name,), data[name])

        return Record(
            id=field("id", self.text),
            family=field("family", self.text),
            begun=field("begun", self.moment),
            finished=field("finished", self.moment),
            fault=field("fault", self.maybe(self.text)),
            stage=field("stage", self.maybe(self.text)),
            answers=tuple(self.answer(path, item) for path, item in self.items(("answers",), data["answers"])),
            suspects=tuple(self.suspect(path, item) for path, item in self.items(("suspects",), data["suspects"])),
            settled=field("settled", self.switch),
            rules_version=field("rules_version", self.text),
            batch=tuple(
                (name, self.number(("batch", name), value))
                for name, value in self.mapping(("batch",), data["batch"]).items()
            ),
            kitchen=field("kitchen", self.text),
            role=field("role", self.text),
            done=tuple(self.text(path, item) for path, item in self.items(("done",), data["done"])),
            outcome=field("outcome", self.outcome),
            true_cause=field("true_cause", self.maybe(self.text)),
            pieces=field("pieces", self.maybe(self.whole)),
            pieces_saved=field("pieces_saved", self.maybe(self.whole)),
            pieces_lost=field("pieces_lost", self.maybe(self.whole)),
            minutes=field("minutes", self.maybe(self.number)),
            pictures=tuple(self.text(path, item) for path, item in self.items(("pictures",), data["pictures"])),
            note=field("note", self.text),
            invented=field("invented", self.switch),
        )

    def answer(self, path: FieldPath, data: object) -> GivenAnswer:
        fields = self.whole_mapping(path, data, ("sign", "answer", "value", "at"))
        return GivenAnswer(
            self.text((*path, "sign"), fields["sign"]),
            self.maybe(self.text)((*path, "answer"), fields["answer"]),
            self.maybe(self.number)((*path, "value"), fields["value"]),
            self.moment((*path, "at"), fields["at"]),
        )

    def suspect(self, path: FieldPath, data: object) -> Suspected:
        fields = self.whole_mapping(path, data, ("cause", "probability"))
        return Suspected(
            self.text((*path, "cause"), fields["cause"]), self.number((*path, "probability"), fields["probability"])
        )

    def wrong(self, path: FieldPath, wrong: str, advice: str) -> None:
        self.faults.append(Fault(path, wrong, advice))

    def mapping(self, path: FieldPath, data: object) -> Mapping[str, Any]:
        if isinstance(data, dict):
            return data
        self.wrong(path, "this is no object", 'write {"name":value,…}')
        return {}

    def whole_mapping(self, path: FieldPath, data: object, known: Sequence[str]) -> Mapping[str, Any]:
        fields = self.mapping(path, data)
        if isinstance(data, dict):
            self.keys(path, fields, known)
        return {**dict.fromkeys(known), **fields}

    def keys(self, path: FieldPath, fields: Mapping[str, Any], known: Sequence[str]) -> None:
        if not fields and self.faults:
            return
        for name in fields:
            if name not in known:
                self.wrong((*path, name), f"there is no key '{name[:40]}'", choose_from(name[:40], known))
        for name in known:
            if name not in fields:
                self.wrong(path, f"the key '{name}' is missing", "write it, with null where nothing is known")

    def items(self, path: FieldPath, data: object) -> Iterator[tuple[FieldPath, Any]]:
        if not isinstance(data, list):
            self.wrong(path, "this is no list", "write [ … ]")
            return
        for number, item in enumerate(data):
            yield (*path, number), item

    def maybe(self, read: Callable[[FieldPath, Any], _T]) -> Callable[[FieldPath, Any], _T | None]:
        return lambda path, data: None if data is None else read(path, data)

    def text(self, path: FieldPath, data: object) -> str:
        if isinstance(data, str):
            return data
        self.wrong(path, "this is no text", "write it in double quotes")
        return ""

    def switch(self, path: FieldPath, data: object) -> bool:
        if not isinstance(data, bool):
            self.wrong(path, "this is neither true nor false", "write true or false")
        return data is True

    def number(self, path: FieldPath, data: object) -> float:
        if isinstance(data, int | float) and not isinstance(data, bool):
            return float(data)
        self.wrong(path, "this is no number", "write digits without quotes")
        return 0.0

    def whole(self, path: FieldPath, data: object) -> int:
        if isinstance(data, int) and not isinstance(data, bool):
            return data
        self.wrong(path, "this is no whole number", "write digits without quotes")
        return 0

    def moment(self, path: FieldPath, data: object) -> datetime:
        try:
            found = datetime.fromisoformat(self.text(path, data))
            if found.utcoffset() is None:
                raise ValueError
            return found.astimezone(UTC)
        except (ValueError, OverflowError):
            if isinstance(data, str):
                self.wrong(path, "this is no time", "write it as in 2026-03-01T14:30:00Z")
            return datetime(2000, 1, 1, tzinfo=UTC)

    def outcome(self, path: FieldPath, data: object) -> Outcome:
        try:
            return Outcome(self.text(path, data))
        except ValueError:
            if isinstance(data, str):
                self.wrong(path, f"there is no outcome '{data[:40]}'", choose_from(data[:40], list(Outcome)))
            return Outcome.NOT_KNOWN


def _iso(moment: datetime) -> str:
    return moment.astimezone(UTC).isoformat().replace("+00:00", "Z")


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) != len(pairs):
        names = [name for name, _ in pairs]
        twice = next(name for name in names if names.count(name) > 1)
        raise ValueError(f"the key '{twice[:40]}' stands twice")
    return found


def _whole(digits: str) -> int:
    if len(digits) > MOST_DIGITS:
        raise ValueError(f"a number has more than {MOST_DIGITS} digits")
    return int(digits)


def _no_constant(word: str) -> float:
    raise ValueError(f"{word} is no number")
