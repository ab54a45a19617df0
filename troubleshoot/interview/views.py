"""What a page or the terminal shows, already in words; no page needs to know the rule base."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True, slots=True)
class FamilyTile:
    """A family that can be chosen."""

    family: str
    name: str
    about: str
    drawing: Path | None


@dataclass(frozen=True, slots=True)
class FaultLine:
    """A complaint that can be chosen, with the words it is found by."""

    fault: str
    say: str
    stage: str
    drawing: Path | None
    words: str
    vague: bool


@dataclass(frozen=True, slots=True)
class AnswerCard:
    """An answer that can be given; ``chosen`` when it stands now."""

    answer: str
    say: str
    drawing: Path | None
    chosen: bool
    loose: bool


@dataclass(frozen=True, slots=True)
class NumberField:
    """A number that can be given instead: unit as shown, bounds, and the number that stands now.

    ``low``, ``high`` and ``value`` are in the unit shown (``°F`` when that was chosen).
    """

    unit: str
    low: float
    high: float
    value: float | None


@dataclass(frozen=True, slots=True)
class QuestionView:
    """A question ready to show.  ``cost`` says what the look costs in words; ``cant_tell`` whether that stands now."""

    sign: str
    ask: str
    look: str
    cost: str
    answers: tuple[AnswerCard, ...]
    number: NumberField | None
    cant_tell: bool
    from_memory: bool
    position: int


@dataclass(frozen=True, slots=True)
class SuspectBar:
    """A suspect for the live list: 0..1 and in words."""

    cause: str
    name: str
    probability: float
    shown: str


@dataclass(frozen=True, slots=True)
class AnsweredLine:
    """An answer given so far, which can be changed."""

    sign: str
    ask: str
    said: str
    from_memory: bool


@dataclass(frozen=True, slots=True)
class WhyLine:
    """What one answer to the question on show would do: its chance and the suspects it would leave first."""

    said: str
    chance: float
    leaves: tuple[SuspectBar, ...]


@dataclass(frozen=True, slots=True)
class WhyAsk:
    """Why this question is asked, in one sentence and answer by answer."""

    sentence: str
    lines: tuple[WhyLine, ...]


@dataclass(frozen=True, slots=True)
class StageChoice:
    """A stage the batch can be at; ``chosen`` when it is reckoned to be there now."""

    stage: str
    name: str
    chosen: bool


@dataclass(frozen=True, slots=True)
class BatchField:
    """A batch figure that can be given."""

    quantity: str
    ask: str
    unit: str
    low: float
    high: float
    value: float | None
    usual: float | None
