"""What several families share: written once under ``rules/common``, taken by name, extended where a family must.

Stages differ between families, so common files may write ``first`` and ``last``
for the first and last stage of whichever family takes them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from typing import Any, Protocol, TypeVar

from troubleshoot.knowledge import build
from troubleshoot.knowledge.model import Cause, FamilyHeader, Remedy, Rival, Sign
from troubleshoot.knowledge.yamlread import Document

T = TypeVar("T")


class ReadOne(Protocol):
    """Reads one file of the rules folder by its name, as the kind given, and builds something from it."""

    def __call__(self, name: str, kind: str, make: Callable[[Document], T]) -> T | None:
        """Return what was built, or None when the file has problems (they are kept by the reader)."""
        ...


class Shelf:
    """The common files that one family takes."""

    def __init__(self, read: ReadOne, header: FamilyHeader, frequency: Mapping[str, float]) -> None:
        self._read = read
        self._header = header
        self._frequency = frequency

    def signs(self) -> Iterator[Sign]:
        """Yield the common signs the family takes, with its own stages."""
        for name in self._header.uses.get("signs", ()):
            sign = self._read(f"common/signs/{name}.yaml", "sign", lambda d: build.sign(d, self._frequency))
            if sign is not None:
                yield replace(sign, first_stage=self._stage(sign.first_stage), last_stage=self._stage(sign.last_stage))

    def remedies(self) -> Iterator[Remedy]:
        """Yield the common remedies the family takes, with its own stages."""
        for name in self._header.uses.get("remedies", ()):
            remedy = self._read(f"common/remedies/{name}.yaml", "remedy", build.remedy)
            if remedy is not None:
                first, last = self._stage(remedy.first_stage), self._stage(remedy.last_stage)
                yield replace(remedy, first_stage=first, last_stage=last)

    def causes(self, also: str | None) -> Iterator[Cause]:
        """Yield the common causes the family takes, with what its file ``also`` adds."""
        added = self._read(also, "also", lambda d: self._additions(d)) if also is not None else None
        for name in self._header.uses.get("causes", ()):
            cause = self._read(f"common/causes/{name}.yaml", "cause", lambda d: build.cause(d, self._frequency))
            if cause is not None:
                cause = replace(cause, stage=self._stage(cause.stage))
                yield (added or {}).get(name, _unchanged)(cause)

    def _additions(self, document: Document) -> dict[str, Callable[[Cause], Cause]]:
        return {name: self._adding(document, name, data) for name, data in document.data["causes"].items()}

    def _adding(self, document: Document, name: str, data: Mapping[str, Any]) -> Callable[[Cause], Cause]:
        shows = {
            s: {a: self._frequency[w] for a, w in levels.items()} for s, levels in data.get("shows_as", {}).items()
        }
        ruled_out = {sign: tuple(answers) for sign, answers in data.get("ruled_out_by", {}).items()}
        rivals = tuple(Rival(key, r["by"], r["because"]) for key, r in data.get("told_apart_from", {}).items())
        examples = tuple(
            build.example(document, ("causes", name, "examples", index), entry)
            for index, entry in enumerate(data.get("examples", ()))
        )

        def add(cause: Cause) -> Cause:
            return replace(
                cause,
                how_common=data.get("how_common", cause.how_common),
                links=(*cause.links, *(build.link(entry) for entry in data.get("why", ()))),
                shows_as={**cause.shows_as, **shows},
                ruled_out_by={**cause.ruled_out_by, **ruled_out},
                told_apart_from=(*cause.told_apart_from, *rivals),
                remedies=(*cause.remedies, *data.get("remedies", ())),
                examples=(*cause.examples, *examples),
            )

        return add

    def _stage(self, stage: str) -> str:
        if stage == "first":
            return self._header.stages[0].id
        return self._header.stages[-1].id if stage == "last" else stage


def _unchanged(cause: Cause) -> Cause:
    return cause
