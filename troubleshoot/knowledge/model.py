"""The rule base as frozen dataclasses: what the YAML means once it is read.

Nothing outside ``knowledge`` sees a dictionary from a rule file.  Strengths are
numbers from the word scale in ``vocabulary.yaml``; every object keeps its place
so that checks and errors can point at a line.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

from troubleshoot.knowledge.differential import Differential
from troubleshoot.knowledge.places import Places
from troubleshoot.knowledge.rule import NOWHERE, Rule
from troubleshoot.knowledge.words import KeptWord
from troubleshoot.problems import Place


@dataclass(frozen=True, slots=True)
class Answer:
    """One answer to a sign.  ``base`` is how often it is given when nothing at hand acts on it."""

    id: str
    say: str
    base: float
    normal: bool = False
    drawing: str | None = None


@dataclass(frozen=True, slots=True)
class Band:
    """The stretch of a measured number that counts as one answer: at_least <= x < below."""

    answer: str
    at_least: float | None
    below: float | None

    def holds(self, value: float) -> bool:
        """Return whether ``value`` lies in the band."""
        return (self.at_least is None or value >= self.at_least) and (self.below is None or value < self.below)


@dataclass(frozen=True, slots=True)
class Measure:
    """A number that can be given for a sign: its unit, its sensible bounds and its bands."""

    unit: str
    low: float
    high: float
    bands: tuple[Band, ...]

    def band(self, value: float) -> Band | None:
        """Return the band that ``value`` (in ``unit``) falls in."""
        return next((band for band in self.bands if band.holds(value)), None)


@dataclass(frozen=True, slots=True)
class WorkedOut:
    """A number the program works out itself: a kitchen function and where its inputs come from.

    ``inputs`` maps the function's parameter to ``batch.<quantity>``, ``sign.<sign>`` or a number.
    """

    by: str
    inputs: Mapping[str, str | float]


@dataclass(frozen=True, slots=True)
class Sign:
    """Something that can be seen, felt, measured or remembered about a batch.

    A sign that is not ``asked`` is only worked out from other figures.
    """

    id: str
    ask: str
    look: str
    kind: str
    minutes: float
    answers: tuple[Answer, ...]
    first_stage: str
    last_stage: str
    ask_later: str | None = None
    uses_up: str | None = None
    pieces: float = 0.0
    early: bool = False
    asked: bool = True
    loosely: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    loosely_say: Mapping[str, str] = field(default_factory=dict)
    measure: Measure | None = None
    worked_out: WorkedOut | None = None
    place: Place = NOWHERE

    @property
    def answer_ids(self) -> tuple[str, ...]:
        """The ids of the precise answers, in the order they are shown."""
        return tuple(answer.id for answer in self.answers)

    def answer(self, answer_id: str) -> Answer:
        """Return the answer called ``answer_id``; KeyError when there is none."""
        for answer in self.answers:
            if answer.id == answer_id:
                return answer
        raise KeyError(answer_id)

    def covers(self, answer_id: str) -> tuple[str, ...]:
        """Return the precise answers that ``answer_id`` stands for (itself, unless it is a loose one)."""
        return self.loosely.get(answer_id, (answer_id,))

    def said(self, answer_id: str) -> str:
        """Return the words for a precise or loose answer."""
        if answer_id in self.loosely:
            return self.loosely_say[answer_id]
        return self.answer(answer_id).say

    @property
    def normal_ids(self) -> frozenset[str]:
        """The ids of the answers that mean nothing is wrong here."""
        return frozenset(answer.id for answer in self.answers if answer.normal)


@dataclass(frozen=True, slots=True)
class Fault:
    """What a person says first.  A vague one covers several precise ones."""

    id: str
    say: str
    stage: str
    causes: Mapping[str, float]
    covers: tuple[str, ...] = ()
    also: tuple[str, ...] = ()
    drawing: str | None = None
    place: Place = NOWHERE


@dataclass(frozen=True, slots=True)
class Rival:
    """A cause easily taken for another, the sign that parts them, and why it does."""

    cause: str
    by: str
    because: str


@dataclass(frozen=True, slots=True)
class Example:
    """A case written beside a cause.  ``expect`` is first, in-three, not-first or ruled-out."""

    answers: Mapping[str, str | float]
    expect: str
    fault: str | None = None
    instead: str | None = None
    place: Place = NOWHERE


@dataclass(frozen=True, slots=True)
class Link:
    """One link of a chain of why: what happens, and the answers to signs, sign by sign, in which it can be seen."""

    says: str
    seen_as: Mapping[str, tuple[str, ...]] = field(default_factory=dict)

    @property
    def shown(self) -> tuple[tuple[str, str], ...]:
        """The (sign, answer) in which it can be seen, in the order written."""
        return tuple((sign, answer) for sign, answers in self.seen_as.items() for answer in answers)


@dataclass(frozen=True, slots=True)
class Cause:
    """A mistake or circumstance, how it leads to what is seen, and how often it shows as what."""

    id: str
    name: str
    stage: str
    how_common: int
    links: tuple[Link, ...]
    shows_as: Mapping[str, Mapping[str, float]]
    ruled_out_by: Mapping[str, tuple[str, ...]]
    told_apart_from: tuple[Rival, ...]
    remedies: tuple[str, ...]
    sources: tuple[str, ...]
    examples: tuple[Example, ...]
    nothing_wrong: bool = False
    place: Place = NOWHERE

    @property
    def why(self) -> tuple[str, ...]:
        """What the links say, from the mistake to what is seen."""
        return tuple(link.says for link in self.links)


@dataclass(frozen=True, slots=True)
class Amounts:
    """How a remedy's figures are worked out: a kitchen function and where its inputs come from.

    ``example`` holds inputs to show the figures with when the batch's own were not given.
    """

    by: str
    inputs: Mapping[str, str | float]
    example: Mapping[str, float] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Remedy:
    """Something to do.  ``saves`` is the share of pieces fit for the planned use afterwards.

    An ``urgent`` one comes before all others, whatever it saves.
    """

    id: str
    name: str
    kind: str
    first_stage: str
    last_stage: str
    minutes: float
    saves: float
    steps: tuple[str, ...]
    because: str
    not_this: tuple[str, ...]
    cautions: tuple[str, ...]
    sources: tuple[str, ...]
    amounts: tuple[Amounts, ...] = ()
    urgent: bool = False
    place: Place = NOWHERE


@dataclass(frozen=True, slots=True)
class Stage:
    """A step of the making, and how long it is from there to the plate when all goes well."""

    id: str
    name: str
    to_plate_min: float


@dataclass(frozen=True, slots=True)
class Quantity:
    """A figure of the batch that may be given: its words, unit, bounds, and the usual value if there is one.

    ``each`` marks the weight of one piece, cup or tray: it does not grow with the batch.
    """

    id: str
    ask: str
    unit: str
    low: float
    high: float
    usual: float | None = None
    each: bool = False

    @property
    def grows(self) -> bool:
        """Whether a batch twice as large has twice as much of it."""
        return self.unit in ("g", "pieces") and not self.each


@dataclass(frozen=True, slots=True)
class Source:
    """Where knowledge comes from.  ``standing`` is published, common-practice, memory or worked."""

    id: str
    title: str
    standing: str
    detail: str = ""


@dataclass(frozen=True, slots=True)
class Caution:
    """A warning shown before the steps it concerns.  It is ``due`` wherever a step says one of these words."""

    id: str
    say: str
    why: str
    sources: tuple[str, ...]
    due: tuple[str, ...] = ()
    place: Place = NOWHERE


@dataclass(frozen=True, slots=True)
class Vocabulary:
    """The scales and rates that the whole rule base shares; see ``rules/vocabulary.yaml``."""

    frequency: Mapping[str, float]
    how_common: Mapping[int, float]
    error_rate: Mapping[str, float]
    two_causes_share: float
    unlisted_share: float
    unlisted_disturbs: float
    recalled_rule_out: float
    repeated_evidence: float
    settled_at: float
    standing: Mapping[str, float]
    most_questions: int
    least_bits: float
    remake_share: float
    asking_min: float
    piece_min: float
    sureness: tuple[tuple[float, str], ...]
    units: Mapping[str, str]
    words: tuple[KeptWord, ...] = ()
    how_common_cases: float = 40.0
    habit_from: int = 10


@dataclass(frozen=True, slots=True)
class FamilyHeader:
    """What a family's tile and flow need before the rest of it is read."""

    id: str
    name: str
    about: str
    drawing: str | None
    stages: tuple[Stage, ...]
    batch: tuple[Quantity, ...]
    same_evidence: tuple[tuple[str, ...], ...]
    allergens: tuple[str, ...]
    remake: str
    unlisted_advice: str
    uses: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    place: Place = NOWHERE

    def stage_index(self, stage_id: str) -> int:
        """Return the position of a stage in the making, from 0."""
        for index, stage in enumerate(self.stages):
            if stage.id == stage_id:
                return index
        raise KeyError(stage_id)

    def stages_between(self, first: str, last: str) -> tuple[str, ...]:
        """Return the ids of the stages from ``first`` to ``last``, both counted."""
        return tuple(stage.id for stage in self.stages[self.stage_index(first) : self.stage_index(last) + 1])


@dataclass(frozen=True, slots=True)
class Family:
    """Everything known about one kind of pastry."""

    header: FamilyHeader
    signs: Mapping[str, Sign]
    faults: Mapping[str, Fault]
    causes: Mapping[str, Cause]
    remedies: Mapping[str, Remedy]
    rules: tuple[Rule, ...]
    differentials: tuple[Differential, ...] = ()
    disputed: tuple[Differential, ...] = ()

    @property
    def id(self) -> str:
        """The family's id."""
        return self.header.id

    @property
    def name(self) -> str:
        """The family's name as shown."""
        return self.header.name


@dataclass(frozen=True, slots=True)
class RuleBase:
    """A rules folder once read: its vocabulary and the families asked for."""

    folder: Path
    version: str
    vocabulary: Vocabulary
    sources: Mapping[str, Source]
    cautions: Mapping[str, Caution]
    headers: Mapping[str, FamilyHeader]
    families: Mapping[str, Family]
    renamed: Mapping[str, str] = field(default_factory=dict)
    places: Places = field(default_factory=Places, compare=False)
