"""The rule base as it can be read and searched: every cause, sign, complaint, remedy, rule, source and caution
of a family in words, with links between them.  No reader of it needs to know the rule files.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from troubleshoot.advice.chain import ChainLink
from troubleshoot.advice.wording import Wording
from troubleshoot.interview.state import State
from troubleshoot.knowledge.model import Family, RuleBase, Vocabulary
from troubleshoot.problems import Place

FAULT, CAUSE, SIGN, REMEDY, RULE, SOURCE, CAUTION = "fault", "cause", "sign", "remedy", "rule", "source", "caution"
#: The kinds of entry, in the order they are listed.
KINDS = (FAULT, CAUSE, SIGN, REMEDY, RULE, SOURCE, CAUTION)

#: How common a cause is, in words, by its level in the rule files.
HOW_COMMON = {1: "rare", 2: "uncommon", 3: "met now and then", 4: "common", 5: "very common"}

#: How a sign is found out, in words, by its kind in the rule files.
SIGN_KINDS = {"seen": "seen", "felt": "felt", "measured": "measured", "recalled": "remembered"}

#: What a remedy is for, in words, by its kind in the rule files.
REMEDY_KINDS = {
    "now": "saves this batch",
    "other-use": "uses it otherwise",
    "remake": "makes it again",
    "next-time": "for next time",
}


@dataclass(frozen=True, slots=True)
class Item:
    """One line of a part: a title, a note below it, and the entry that it leads to, if it leads anywhere."""

    title: str
    note: str = ""
    kind: str = ""
    id: str = ""

    @property
    def leads(self) -> bool:
        """Whether the line leads to another entry."""
        return bool(self.kind)


@dataclass(frozen=True, slots=True)
class Part:
    """A titled part of an entry.  ``steps`` are numbered when they are shown."""

    title: str
    items: tuple[Item, ...] = ()
    steps: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class WrittenCase:
    """A case written beside a cause: what it says, what should come of it, and the interview that it makes."""

    said: tuple[str, ...]
    expected: str
    state: State


@dataclass(frozen=True, slots=True)
class Entry:
    """One thing of the rule base in full.

    ``chain`` leads from a mistake to what is seen and is empty for all but causes; ``parts`` come in reading order,
    those named in ``beside`` may stand at the side.  ``file`` is told from the rules folder.
    """

    kind: str
    id: str
    title: str
    facts: tuple[str, ...]
    file: str
    line: int
    chain: tuple[ChainLink, ...] = ()
    parts: tuple[Part, ...] = ()
    beside: tuple[Part, ...] = ()
    cases: tuple[WrittenCase, ...] = ()
    drawing: Path | None = None


@dataclass(frozen=True, slots=True)
class Hit:
    """An entry as it stands in a list: its title, a short note, and all the words that it is found by."""

    kind: str
    id: str
    title: str
    note: str
    words: str


class Library:
    """A family of the rule base, ready to be searched and read."""

    def __init__(self, rulebase: RuleBase, family_id: str, wording: Wording) -> None:
        """Index a family that was read.  ``wording`` puts temperatures into the units that were set."""
        self.rulebase = rulebase
        self.family: Family = rulebase.families[family_id]
        self.wording = wording
        self.hits: tuple[Hit, ...] = tuple(_hits(self))
        self._by_key: Mapping[tuple[str, str], Hit] = {(hit.kind, hit.id): hit for hit in self.hits}

    @property
    def name(self) -> str:
        """The family's name."""
        return self.family.name

    def holds(self, kind: str, entry_id: str) -> bool:
        """Return whether there is such an entry."""
        return (kind, entry_id) in self._by_key

    def title(self, kind: str, entry_id: str) -> str:
        """Return an entry's title; KeyError when there is none."""
        return self._by_key[kind, entry_id].title

    def count(self, kind: str) -> int:
        """Return how many entries of a kind there are."""
        return sum(hit.kind == kind for hit in self.hits)

    def search(self, typed: str, kind: str | None = None) -> tuple[Hit, ...]:
        """Return the entries that hold every word typed, those first whose title holds them; of one kind, or all."""
        words = typed.casefold().split()
        found = [h for h in self.hits if kind in (None, h.kind) and all(word in h.words for word in words)]
        return tuple(sorted(found, key=lambda hit: not all(word in hit.title.casefold() for word in words)))

    def text(self, text: str) -> str:
        """Return a text of the rule base in words."""
        return self.wording.text(text)

    def where(self, place: Place) -> tuple[str, int]:
        """Return a file, told from the rules folder, and a line of it."""
        try:
            file = Path(place.file).relative_to(self.rulebase.folder).as_posix()
        except ValueError:
            file = place.file
        return file, place.line


def often(level: float, vocabulary: Vocabulary) -> str:
    """Return how often an answer is seen, as the word of the scale that is nearest."""
    word = min(vocabulary.frequency, key=lambda name: abs(vocabulary.frequency[name] - level))
    return word.replace("-", " ")


def _hits(library: Library) -> Iterator[Hit]:
    family, text = library.family, library.text
    stages = {stage.id: stage.name for stage in family.header.stages}

    def hit(kind: str, entry_id: str, title: str, note: str, *more: str) -> Hit:
        shown = text(title)
        words = " ".join((shown, note, entry_id.replace("_", " "), entry_id, *map(text, more)))
        return Hit(kind, entry_id, shown, note, words.casefold())

    for fault in family.faults.values():
        yield hit(FAULT, fault.id, fault.say, stages[fault.stage], *fault.also)
    for cause in family.causes.values():
        yield hit(CAUSE, cause.id, cause.name, f"{stages[cause.stage]}; {HOW_COMMON[cause.how_common]}", *cause.why)
    for sign in family.signs.values():
        answers = [answer.say for answer in sign.answers]
        yield hit(SIGN, sign.id, sign.ask, SIGN_KINDS[sign.kind], sign.look, *answers, *sign.loosely_say.values())
    for remedy in family.remedies.values():
        more = (*remedy.steps, remedy.because, *remedy.not_this)
        yield hit(REMEDY, remedy.id, remedy.name, REMEDY_KINDS[remedy.kind], *more)
    for rule in family.rules:
        yield hit(RULE, rule.id, rule.because, rule.id.replace("_", " "))
    yield from _shared(library, hit)


def _shared(library: Library, hit: Callable[..., Hit]) -> Iterator[Hit]:
    """Yield the sources and cautions that the family makes use of, in the order of their files."""
    family, rulebase = library.family, library.rulebase
    called = {c.name for rule in family.rules for c in rule.then if c.kind == CAUTION}
    cautions = called | {caution for remedy in family.remedies.values() for caution in remedy.cautions}
    cited = [*(cause.sources for cause in family.causes.values()), *(rule.sources for rule in family.rules)]
    cited += [remedy.sources for remedy in family.remedies.values()]
    sources = {source for some in cited for source in some}
    sources |= {source for caution in cautions for source in rulebase.cautions[caution].sources}
    for source in rulebase.sources.values():
        if source.id in sources:
            yield hit(SOURCE, source.id, source.title, source.standing.replace("-", " "), source.detail)
    for caution in rulebase.cautions.values():
        if caution.id in cautions:
            yield hit(CAUTION, caution.id, caution.say, "", caution.why)
