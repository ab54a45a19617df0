"""Mutants of rule files, byte by byte and part by part, and the reading that must withstand each."""

from __future__ import annotations

import random
import resource
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from troubleshoot import resources
from troubleshoot.errors import RuleBaseError
from troubleshoot.interview import casefile
from troubleshoot.knowledge import build
from troubleshoot.knowledge.load import load
from troubleshoot.knowledge.model import Vocabulary
from troubleshoot.knowledge.schema import check_form
from troubleshoot.knowledge.yamlread import Document, read_bytes

#: No file may take longer, or let the process grow by more.
MOST_SECONDS, MOST_BYTES = 2.0, 300 * 1024 * 1024

#: Pieces that hurt readers of YAML.
NASTY: tuple[bytes, ...] = (
    b"&a [*a, *a, *a]", b"<<: *a", b"!!python/object/apply:os.system [x]", b"!<tag:x> y", b"%YAML 9.9\n---\n", b"---\n", b"...\n",
    b"[" * 5000, b"{a: " * 400, b"- " * 3000, b"? " * 300, b"'", b'"', b"\\", b"\x00", b"\xff\xfe", b"\xef\xbb\xbf", b"\xed\xa0\x80",
    b"\xe2\x80\xae", b"\xc2\x85", b"\xe2\x80\xa8", b"\r", b"\t", b"9" * 6000, b"1e999", b".inf", b".nan", b"-.inf", b"0x1f", b"0o17", b"1_000",
    b"1:2:3", b"2026-11-25", b"~", b"no", b"y", b"|\n", b">-\n", b"# ", b": ", b": :", b"- - -", b"{}", b"[]", b"{c:999999999999}", b"{oven:}",
    b"../../../etc/passwd", b"batch.", b"sign.x", b"a" * 70000, b"\\ud800", b'"\\ud800"', b"*x", b"&x", b"@", b"`", b"%", b"!", b"!!binary AA==",
    b"!!set {a}", b"= x", b"\x1b[31m", b"\x7f", b"\n" * 2000, b"k: v\n" * 2500, b"- {a: 1}\n" * 1200, b"a: b: c", b"%s%n", b"<script>",
)  # fmt: skip


@dataclass(frozen=True)
class Target:
    """A file as it is, the schema it is read by, and what builds it."""

    name: str
    kind: str
    raw: bytes
    make: Callable[[Document], Any] | None


def targets() -> list[Target]:
    """Every rule file and case that ships."""
    root = resources.folder("rules")
    vocabulary: Vocabulary = load(root, ()).vocabulary
    frequency = vocabulary.frequency
    makers: dict[str, tuple[str, Callable[[Document], Any] | None]] = {
        "signs": ("sign", lambda d: build.sign(d, frequency)),
        "causes": ("cause", lambda d: build.cause(d, frequency)),
        "remedies": ("remedy", build.remedy),
        "rules": ("rules", build.rules),
        "cases": ("case", None),
        "differential": ("differential", build.differentials),
        "disputed": ("differential", build.differentials),
        "family.yaml": ("family", build.header),
        "faults.yaml": ("faults", lambda d: build.faults(d, frequency)),
        "also.yaml": ("also", None),
        "vocabulary.yaml": ("vocabulary", build.vocabulary),
        "sources.yaml": ("sources", build.sources),
        "cautions.yaml": ("cautions", build.cautions),
        "renamed.yaml": ("renamed", None),
    }
    found = []
    for path in sorted(root.rglob("*.yaml")):
        known = makers.get(path.name) or makers.get(path.parent.name)
        if known is not None:
            found.append(Target(path.relative_to(root).as_posix(), known[0], path.read_bytes(), known[1]))
    return found


def mutant(rng: random.Random, raw: bytes, other: bytes) -> bytes:
    """Return a file changed in one to four places."""
    data = bytearray(raw)
    for _ in range(rng.randint(1, 4)):
        at = rng.randrange(len(data) + 1)
        kind = rng.randrange(9)
        if kind == 0 and data:
            data[min(at, len(data) - 1)] = rng.randrange(256)
        elif kind == 1:
            del data[at : at + rng.choice((1, 2, 10, 100))]
        elif kind in (2, 3):
            data[at:at] = rng.choice(NASTY)
        elif kind == 4:
            start = rng.randrange(len(other) + 1)
            data[at:at] = other[start : start + rng.randint(1, 200)]
        elif kind == 5:
            lines = bytes(data).split(b"\n")
            rng.shuffle(lines)
            data = bytearray(b"\n".join(lines))
        elif kind == 6:
            lines = bytes(data).split(b"\n")
            where = rng.randrange(len(lines))
            lines[where] = rng.choice((b" ", b"  ", b"")) + lines[where].lstrip()
            data = bytearray(b"\n".join(lines))
        elif kind == 7:
            lines = bytes(data).split(b"\n")
            where = rng.randrange(len(lines))
            key, colon, _ = lines[where].partition(b": ")
            lines[where] = key + colon + rng.choice(NASTY)
            data = bytearray(b"\n".join(lines))
        else:
            data += data[: rng.choice((50, 5000, 200_000))] * rng.choice((1, 1, 3))
    return bytes(data)


def withstand(target: Target, raw: bytes) -> str:
    """Read a mutant as the program would, and return what came of it.

    Raises whatever the reading raises, and AssertionError when it took too long or too much.
    """
    before, start = _grown(), time.perf_counter()
    document = read_bytes(raw, target.name)
    problems = document.problems or check_form(document, target.kind)
    for problem in problems:
        assert problem.place.line >= 1
        str(problem).encode("utf-8")
    came = "refused" if problems else "read"
    if not problems and target.make is not None:
        try:
            target.make(document)
        except KeyError as error:
            # A word that the vocabulary lacks; the loader tells of it at the file.
            came = f"word {error}"
    if not problems and target.kind == "case":
        casefile.family_of(document, [str(document.data["family"])])
    took = time.perf_counter() - start
    assert took < MOST_SECONDS, f"{target.name}: {took:.2f} s"
    assert _grown() - before < MOST_BYTES, f"{target.name}: {(_grown() - before) >> 20} MB"
    return came


def withstand_in_folder(folder: Path, name: str, raw: bytes) -> str:
    """Put a mutant into a rules folder, read the folder as the program would, and put the sound file back."""
    path = folder / name
    sound = path.read_bytes()
    path.write_bytes(raw)
    try:
        load(folder)
    except RuleBaseError:
        return "refused"
    finally:
        path.write_bytes(sound)
    return "read"


def _grown() -> int:
    """The most memory the process has held, in bytes."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024
