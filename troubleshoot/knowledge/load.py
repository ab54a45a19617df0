"""Read a rules folder: every file strictly, every problem at once, frozen at the end."""

from __future__ import annotations

import hashlib
import itertools
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import TypeVar

from troubleshoot.errors import RuleBaseError
from troubleshoot.knowledge import build, common, links
from troubleshoot.knowledge.differential import Differential
from troubleshoot.knowledge.kept import KeptFiles, of_folder
from troubleshoot.knowledge.model import (
    Cause,
    Caution,
    Family,
    FamilyHeader,
    Fault,
    Remedy,
    RuleBase,
    Sign,
    Source,
    Vocabulary,
)
from troubleshoot.knowledge.places import Places
from troubleshoot.knowledge.rule import Rule
from troubleshoot.knowledge.yamlread import Document
from troubleshoot.problems import Place, Problem, choose_from

T = TypeVar("T")

#: Folders of the rules folder that are not families.
NOT_FAMILIES = frozenset({"schema", "common"})


def load(folder: Path, families: Iterable[str] | None = None, kept: KeptFiles | None = None) -> RuleBase:
    """Read the rule base in ``folder``; only the families named, or all.

    Headers of all families are always read.  ``kept`` holds files read before, which are not parsed again; whoever
    passes it says when it is saved, since that takes about as long as reading one changed file.
    Raises RuleBaseError with every problem found in the files that were read.
    """
    reader = _Reader(folder, kept or of_folder(folder))
    rulebase = reader.read(None if families is None else tuple(families))
    if kept is None:
        reader.kept.save()
    if reader.problems:
        raise RuleBaseError(sorted(reader.problems))
    assert rulebase is not None
    return rulebase


def family_ids(folder: Path) -> tuple[str, ...]:
    """Return the ids of the families that a rules folder holds."""
    if not folder.is_dir():
        return ()
    return tuple(
        sorted(path.parent.name for path in folder.glob("*/family.yaml") if path.parent.name not in NOT_FAMILIES)
    )


class _Reader:
    """Collects problems while it reads, so that one bad file hides no other."""

    def __init__(self, folder: Path, kept: KeptFiles) -> None:
        self.folder = folder
        self.kept = kept
        #: The frequency scale that words are read on; the same object as long as the vocabulary stays the same.
        self.scale: object = None
        self.problems: list[Problem] = []
        self.digest = hashlib.sha256()
        self.places = Places()
        self.unread: set[tuple[str, str]] = set()

    def read(self, wanted: tuple[str, ...] | None) -> RuleBase | None:
        if not self.folder.is_dir():
            self._problem(Place(str(self.folder)), "rules", "there is no such folder", "name a rules folder")
            return None
        ids = family_ids(self.folder)
        if not ids:
            self._problem(
                Place(str(self.folder)), "rules", "no family.yaml stands in any folder here", "name a rules folder"
            )
            return None
        vocabulary = self._one("vocabulary.yaml", "vocabulary", build.vocabulary)
        sources: dict[str, Source] = self._one("sources.yaml", "sources", build.sources) or {}
        cautions: dict[str, Caution] = self._one("cautions.yaml", "cautions", build.cautions) or {}
        renamed: dict[str, str] = self._one("renamed.yaml", "renamed", lambda d: dict(d.data["renamed"])) or {}
        headers: dict[str, FamilyHeader] = {}
        for family_id in ids:
            header = self._one(f"{family_id}/family.yaml", "family", build.header)
            if header is not None:
                headers[family_id] = header
                self._same_name(header.id, family_id, header.place, "family", "folder")
        if vocabulary is None:
            return None
        families: dict[str, Family] = {}
        for family_id in ids if wanted is None else wanted:
            if family_id in headers:
                families[family_id] = self._family(family_id, headers[family_id], vocabulary)
            elif family_id not in ids:
                self._problem(
                    Place(str(self.folder)), family_id, "there is no such family", choose_from(family_id, ids)
                )
        rulebase = RuleBase(
            folder=self.folder,
            version=self.digest.hexdigest()[:12],
            vocabulary=vocabulary,
            sources=sources,
            cautions=cautions,
            headers=headers,
            families=families,
            renamed=renamed,
            places=self.places,
        )
        self.problems.extend(links.check(rulebase, self.unread))
        return rulebase

    def _family(self, family_id: str, header: FamilyHeader, vocabulary: Vocabulary) -> Family:
        frequency = self.scale = vocabulary.frequency
        faults: dict[str, Fault] = (
            self._one(f"{family_id}/faults.yaml", "faults", lambda d: build.faults(d, frequency)) or {}
        )
        signs: list[Sign] = self._many(f"{family_id}/signs", "sign", lambda d: build.sign(d, frequency))
        causes: list[Cause] = self._many(f"{family_id}/causes", "cause", lambda d: build.cause(d, frequency))
        remedies: list[Remedy] = self._many(f"{family_id}/remedies", "remedy", build.remedy)
        shared = common.Shelf(self._one, header, frequency)
        signs += shared.signs()
        causes += shared.causes(f"{family_id}/also.yaml" if (self.folder / family_id / "also.yaml").exists() else None)
        remedies += shared.remedies()
        rule_files: list[tuple[Rule, ...]] = self._many(f"{family_id}/rules", "rules", build.rules)
        differential_files: list[tuple[Differential, ...]] = self._many(
            f"{family_id}/differential", "differential", build.differentials
        )
        disputed_files: list[tuple[Differential, ...]] = self._many(
            f"{family_id}/disputed", "differential", build.differentials
        )
        named: list[tuple[Sign | Cause | Remedy, str]] = []
        named += [(sign, "sign") for sign in signs]
        named += [(cause, "cause") for cause in causes]
        named += [(remedy, "remedy") for remedy in remedies]
        first: dict[tuple[str, str], Place] = {}
        for item, kind in named:
            if (kind, item.id) in first:
                self._problem(
                    item.place, item.id, f"the {kind} stands twice (first at {first[kind, item.id]})", "keep one"
                )
            first.setdefault((kind, item.id), item.place)
            self._same_name(item.id, Path(item.place.file).stem, item.place, kind, "file")
        return Family(
            header=header,
            signs={sign.id: sign for sign in signs},
            faults=faults,
            causes={cause.id: cause for cause in causes},
            remedies={remedy.id: remedy for remedy in remedies},
            rules=tuple(itertools.chain.from_iterable(rule_files)),
            differentials=tuple(itertools.chain.from_iterable(differential_files)),
            disputed=tuple(itertools.chain.from_iterable(disputed_files)),
        )

    def _many(self, subfolder: str, kind: str, make: Callable[[Document], T]) -> list[T]:
        paths = sorted(path for path in (self.folder / subfolder).glob("*.yaml") if path.is_file())
        made = (self._one(path.relative_to(self.folder).as_posix(), kind, make) for path in paths)
        return [item for item in made if item is not None]

    def _one(self, name: str, kind: str, make: Callable[[Document], T]) -> T | None:
        path = self.folder / name
        read = self.kept.read(path, kind)
        document = read.document
        self.places.files[document.file] = document.places
        if read.problems:
            self.problems.extend(self._led_out(path) or read.problems)
            self.unread.add((kind, path.stem))
            return None
        self.digest.update(name.encode() + b"\0" + read.raw)
        try:
            return self.kept.build(path, kind, read, self.scale, make)
        except KeyError as error:
            self._problem(
                document.place(), kind, f"the word {error} is not on the scale", "use a word from vocabulary.yaml"
            )
            return None

    def _led_out(self, path: Path) -> list[Problem]:
        """Return what to say of a file that cannot be read and is a link out of the folder; nothing when it is none.

        What is wrong with a rule file quotes it; a folder from elsewhere must not quote a person's own files.
        """
        try:
            if not path.is_file() or path.resolve().is_relative_to(self.folder.resolve()):
                return []
        except (OSError, RuntimeError):
            return []
        wrong = "this is a link out of the rules folder, to a file that is not of the form expected here"
        return [Problem(Place(str(path)), path.stem, wrong, "put the rule file itself here, or take the link away")]

    def _same_name(self, own: str, outside: str, place: Place, kind: str, container: str) -> None:
        if own != outside:
            self.unread.add((kind, outside))
            self._problem(
                place,
                own,
                f"the {kind} is not called like its {container} '{outside}'",
                f"write '{outside}' or rename the {container}",
            )

    def _problem(self, place: Place, subject: str, wrong: str, advice: str) -> None:
        self.problems.append(Problem(place, subject, wrong, advice))
