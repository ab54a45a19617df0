"""What the sums over the book come as: plain data that figures are worked out from."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

import numpy as np
import numpy.typing as npt


@dataclass(frozen=True, slots=True)
class CauseSum:
    """What one cause of one family took; ``cause`` is None for cases whose cause is none of those known.

    ``cases`` counts all cases, ``counted`` those that say how many pieces were lost.
    """

    family: str
    cause: str | None
    cases: int
    counted: int
    pieces_lost: int
    pieces_saved: int
    minutes: float


@dataclass(frozen=True, slots=True)
class OutcomeCount:
    """How the verdicts that named one cause of one family turned out."""

    family: str
    cause: str | None
    right: int
    wrong: int
    not_known: int


@dataclass(frozen=True, slots=True)
class StatedCount:
    """Verdicts with a known outcome whose stated probability lies in one per cent of the scale.

    ``percent`` is the probability's whole per cent rounded down (100 for 1.0), ``stated`` the mean probability (0..1).
    """

    percent: int
    stated: float
    right: int
    cases: int


@dataclass(frozen=True, slots=True)
class SpanSum:
    """What one span of time took, by the moment cases were finished; ``begins`` is the span's first moment in UTC."""

    begins: datetime
    cases: int
    pieces: int
    pieces_lost: int
    pieces_saved: int
    minutes: float
    right: int
    wrong: int


@dataclass(frozen=True, slots=True)
class SaidWord:
    """A word of the book: what was said about a sign.

    ``sign`` is "" for the complaint, whose id then stands in ``answer``.  Neither answer nor value: can't tell.
    """

    sign: str
    answer: str | None
    value: float | None


@dataclass(frozen=True, slots=True)
class AnswerMatrix:
    """All words of all cases of one family, in compressed rows.

    Row ``i`` is the case with number ``case_nos[i]`` (ascending; ``Book.by_numbers`` gives the records), and its words
    are ``words[word_nos[starts[i]:starts[i + 1]]]``, in the order of the words.  ``case_nos`` is int64 of n,
    ``starts`` int64 of n + 1, ``word_nos`` int32.  ``words`` holds each word in use once.  Cases of which nothing was
    said are not among the rows.
    """

    case_nos: npt.NDArray[np.int64]
    starts: npt.NDArray[np.int64]
    word_nos: npt.NDArray[np.int32]
    words: tuple[SaidWord, ...]
