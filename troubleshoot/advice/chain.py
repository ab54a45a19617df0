"""The chain of why in words: each link with what can be seen of it, and what of that was seen."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from troubleshoot.advice.wording import Wording
from troubleshoot.knowledge.model import Cause, Family, Sign

#: An answer of fewer words says nothing without its question ("Too thick").
LEAST_WORDS = 3

#: Nor does one that begins so ("Nothing, it is smooth", "It stays dry", "All of them").
_POINTS_BACK = frozenset(
    re.findall("[a-z]+", "yes no nothing none not it they there those all every some only of on in as")
)


@dataclass(frozen=True, slots=True)
class Showing:
    """An answer in which a link can be seen; ``share`` (0..1) is how often the cause shows it.

    ``ask`` is empty where the answer says by itself what was looked at; ``given`` when it was the answer.
    """

    sign: str
    answer: str
    ask: str
    said: str
    share: float
    given: bool

    @property
    def words(self) -> str:
        """The answer, with its question where it needs one."""
        return f"{self.ask} {self.said}".lstrip()


@dataclass(frozen=True, slots=True)
class ChainLink:
    """One link: what happens, and in which answers it can be seen."""

    text: str
    shows: tuple[Showing, ...]

    @property
    def shown_words(self) -> str:
        """Where it can be seen, in one line."""
        return _in_one_line(self.shows)

    @property
    def seen_words(self) -> str:
        """What of it was seen, in one line; empty when nothing was."""
        return _in_one_line(showing for showing in self.shows if showing.given)


def chain_of(
    family: Family, cause: Cause, wording: Wording, answers: Mapping[str, str] | None = None
) -> tuple[ChainLink, ...]:
    """Return the chain of a cause; ``answers`` are those given, by sign (a loose one counts for all it covers)."""
    given = {sign: family.signs[sign].covers(answer) for sign, answer in (answers or {}).items()}
    return tuple(
        ChainLink(
            wording.text(link.says),
            tuple(
                Showing(
                    sign=sign,
                    answer=answer,
                    ask="" if _descriptive(family.signs[sign], answer) else wording.text(family.signs[sign].ask),
                    said=wording.text(family.signs[sign].said(answer)),
                    share=cause.shows_as.get(sign, {}).get(answer, 0.0),
                    given=answer in given.get(sign, ()),
                )
                for sign, answer in link.shown
            ),
        )
        for link in cause.links
    )


def _descriptive(sign: Sign, answer: str) -> bool:
    words = sign.said(answer).replace(",", "").casefold().split()
    points_back = words[0] in _POINTS_BACK or words[0][0].isdigit()
    return sign.kind in ("seen", "felt") and len(words) >= LEAST_WORDS and not points_back


def _in_one_line(showings: Iterable[Showing]) -> str:
    """Return the answers in one line, those to one question together."""
    by_sign: dict[str, list[Showing]] = {}
    for showing in showings:
        by_sign.setdefault(showing.sign, []).append(showing)
    return "; ".join(" or ".join((found[0].words, *(one.said for one in found[1:]))) for found in by_sign.values())
