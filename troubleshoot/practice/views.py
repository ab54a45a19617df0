"""What a practice page or the terminal shows, already in words; no page needs to know the rule base.

Ids (``sign``, ``cause``, ``remedy``) are for handing back to the ``Round``; they are never shown.
Minutes are minutes of work, pieces are pieces of the batch.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from troubleshoot.advice.chain import ChainLink


@dataclass(frozen=True, slots=True)
class Story:
    """The batch as it is handed over: code, what the person says, and how things stand; never a word about why.

    ``lines`` are whole sentences (stage, pieces, minutes to service, and whether there may be two mistakes).
    ``cautions`` are what to keep safe while looking.
    """

    code: str
    family: str
    family_name: str
    level: int
    level_name: str
    complaint: str
    lines: tuple[str, ...]
    drawing: Path | None
    hard: bool


@dataclass(frozen=True, slots=True)
class Shown:
    """What a look showed: the answer in words, with its drawing when there is one."""

    answer: str
    say: str
    drawing: Path | None


@dataclass(frozen=True, slots=True)
class LookLine:
    """Something the learner can look at, or has looked at (then ``shown`` is set).

    ``minutes`` and ``pieces`` are what the look costs; ``cost`` says the same in words.  ``stage`` is the name of
    the making's stage it belongs to.  ``from_memory``: it can only be asked of whoever made the batch.
    ``shown`` is also set, at no cost, for what the complaint already says (``free``).
    """

    sign: str
    ask: str
    look: str
    stage: str
    minutes: float
    pieces: float
    cost: str
    from_memory: bool
    shown: Shown | None = None
    free: bool = False

    @property
    def done(self) -> bool:
        """Whether what it shows is known."""
        return self.shown is not None


@dataclass(frozen=True, slots=True)
class RemedyLine:
    """A remedy the learner can take at this stage.  ``kind`` is now, other-use or remake; ``kind_name`` in words."""

    remedy: str
    name: str
    kind: str
    kind_name: str
    minutes: float
    taken: bool = False


@dataclass(frozen=True, slots=True)
class TakenLine:
    """What came of a remedy: pieces saved in time for service, the minutes it took, and a sentence on why."""

    remedy: str
    name: str
    minutes: float
    saved: float
    in_time: bool
    helps: bool
    barred: bool
    say: str


@dataclass(frozen=True, slots=True)
class Tally:
    """What has been spent, and what is left.  ``minutes_left`` is never below 0."""

    minutes: float
    pieces: float
    minutes_left: float
    pieces_left: float
    say: str


@dataclass(frozen=True, slots=True)
class CauseLine:
    """A cause that can be named in the verdict; ``words`` is what a search field looks in."""

    cause: str
    name: str
    stage: str
    words: str


@dataclass(frozen=True, slots=True)
class ReasonCard:
    """One chain of why that can be chosen as the reason.  ``number`` counts from 1, as shown."""

    number: int
    links: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Point:
    """One thing that was marked: ``got`` of ``most``, and one or two short sentences.

    ``id`` is cause, reason, rescue or thrift; ``full`` when nothing is missing.
    """

    id: str
    name: str
    got: int
    most: int
    say: str

    @property
    def full(self) -> bool:
        """Whether every mark was got."""
        return self.got >= self.most


@dataclass(frozen=True, slots=True)
class StepReview:
    """One look looked back on: what was asked, what would have been best there, and why.

    ``ask`` is empty for the end, where ``best`` then says what should still have been asked.  ``good``: as good as
    the best.  ``why`` is one sentence.  ``settled_before``: the matter was settled already.
    """

    number: int
    sign: str
    ask: str
    shown: str
    best_sign: str
    best_ask: str
    why: str
    good: bool
    settled_before: bool = False


@dataclass(frozen=True, slots=True)
class Marks:
    """A finished round, marked.  ``total`` of 100; ``passed`` needs the right cause.

    ``causes`` and ``chains`` say what was really at work, with what the batch showed of each link.  ``said`` is one
    line for the top.
    ``minutes``/``pieces`` are the learner's looks, ``program_*`` the program's on the same batch; ``saved`` likewise.
    """

    code: str
    total: int
    passed: bool
    said: str
    points: tuple[Point, ...]
    steps: tuple[StepReview, ...]
    causes: tuple[str, ...]
    cause_names: tuple[str, ...]
    chains: tuple[tuple[ChainLink, ...], ...]
    named: str
    named_name: str
    parts: str
    minutes: float
    pieces: float
    saved: float
    program_minutes: float
    program_pieces: float
    program_saved: float
    program_looks: tuple[str, ...]
    next_time: tuple[str, ...]
