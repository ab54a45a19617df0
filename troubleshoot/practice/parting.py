"""What parts two causes: the signs that they show differently, and the sentence a rule base author wrote about it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from troubleshoot.advice.wording import Wording
from troubleshoot.inference.network import Array
from troubleshoot.inference.reason import Reasoner
from troubleshoot.knowledge.model import Cause
from troubleshoot.practice.phrases import Phrases

#: A sign that tells less than this about which of two causes it is does not part them (one bit parts them wholly).
LEAST_BITS = 0.1


@dataclass(frozen=True, slots=True)
class Parted:
    """A sign that two causes show differently: bits that a look tells about which it is, and what it costs."""

    sign: str
    bits: float
    minutes: float
    written: str


def parted(reasoner: Reasoner, first: str, second: str) -> tuple[Parted, ...]:
    """Return the signs that part two causes, the one an author names first, then by bits for a minute.

    The bits are those that one look tells when either of the two, equally likely, is at work (Shannon 1948).
    """
    family, network, vocabulary = reasoner.family, reasoner.network, reasoner.vocabulary
    columns = [1 + network.causes.index(cause) for cause in (first, second)]
    written = written_between(family.causes[first], family.causes[second])
    found = []
    for sign in family.signs.values():
        if not sign.asked:
            continue
        bits = _bits(network.likelihood[network.rows[sign.id]][:, columns])
        cost = vocabulary.asking_min + sign.minutes + sign.pieces * vocabulary.piece_min
        if bits >= LEAST_BITS or sign.id in written:
            found.append(Parted(sign.id, bits, cost, written.get(sign.id, "")))
    return tuple(sorted(found, key=lambda p: (not p.written, -round(p.bits / p.minutes, 9), p.sign)))


def written_between(first: Cause, second: Cause) -> dict[str, str]:
    """Return the signs that an author names as parting two causes, each with the sentence on why."""
    of_first = {r.by: r.because for r in first.told_apart_from if r.cause == second.id}
    of_second = {r.by: r.because for r in second.told_apart_from if r.cause == first.id}
    return {**of_second, **of_first}


def sentence(reasoner: Reasoner, first: str, second: str, wording: Wording, phrases: Phrases) -> str:
    """Return in one or two sentences what would have told two causes apart."""
    best = next(iter(parted(reasoner, first, second)), None)
    if best is None:
        return ""
    ask = wording.text(reasoner.family.signs[best.sign].ask)
    return phrases.parts(wording.text(best.written), ask)


def _bits(table: Array) -> float:
    """Return the bits that one answer tells about which of two equally likely columns (answers, 2) it comes from."""
    both = table.mean(axis=1)
    ratio = np.where(table > 0, table / np.maximum(both, 1e-300)[:, None], 1.0)
    return float((table * np.log2(ratio)).sum(axis=0).mean())
