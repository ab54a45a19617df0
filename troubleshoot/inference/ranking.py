"""How probable each cause is, from the answers and what has been ruled out."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass

import numpy as np

from troubleshoot.inference.network import Array, Network


@dataclass(frozen=True, slots=True)
class Evidence:
    """One answer for the ranking: the sign (or the complaint), the answer, and whether it is only remembered.

    ``weight`` is less than 1 for an answer that a rule derived from others already counted.
    """

    node: str
    answer: str
    from_memory: bool = False
    weight: float = 1.0


@dataclass(frozen=True, slots=True)
class Standing:
    """The posterior: over hypotheses (sets,), the chance each cause is at work (causes,), and that none listed is."""

    posterior: Array
    cause: Array
    unlisted: float

    @property
    def nothing_left(self) -> bool:
        """Whether the answers leave no listed cause standing."""
        return not bool((self.cause > 0.0).any())


def rank(
    network: Network,
    evidence: Sequence[Evidence],
    groups: Sequence[Collection[str]] = (),
    ruled_out: Collection[str] = (),
    doubted: Collection[str] = (),
    doubt_factor: float = 1.0,
    repeated: float = 1.0,
) -> Standing:
    """Return the posterior over sets of up to two causes.

    ``groups`` name signs that measure the same thing: the most telling answer of a
    group counts in full, the others to the power ``repeated``.  A cause in
    ``ruled_out`` is removed; one in ``doubted`` keeps ``doubt_factor`` of its weight.
    """
    log = np.log(network.prior)
    for one, exponent in zip(evidence, exponents(network, evidence, groups, repeated), strict=True):
        log = log + exponent * network.log_of(one.node, one.answer, one.from_memory)
    index = {cause: i for i, cause in enumerate(network.causes)}
    less = [index[cause] for cause in doubted if cause not in ruled_out]
    if less:
        log = log + np.log(doubt_factor) * network.contains[:, less].sum(axis=1)
    out = [index[cause] for cause in ruled_out]
    if out:
        log = np.where(network.contains[:, out].any(axis=1), -np.inf, log)
    weight = np.exp(log - log.max())
    posterior = weight / weight.sum()
    return Standing(posterior, posterior @ network.contains, float(posterior[0]))


def exponents(
    network: Network, evidence: Sequence[Evidence], groups: Sequence[Collection[str]], repeated: float
) -> tuple[float, ...]:
    """Return how much each answer counts: in full, or ``repeated`` when a more telling one says the same thing."""
    telling = [_telling(network, one) for one in evidence]
    counts = [1.0] * len(evidence)
    for group in groups:
        members = [i for i, one in enumerate(evidence) if one.node in group]
        # The most telling one first; equal ones by name, so that the order of answering changes nothing.
        members.sort(key=lambda i: (-telling[i], evidence[i].node))
        for i in members[1:]:
            counts[i] = min(counts[i], repeated)
    return tuple(count * one.weight for count, one in zip(counts, evidence, strict=True))


def _telling(network: Network, one: Evidence) -> float:
    """How far an answer spreads the single causes apart (standard deviation of its log-likelihood)."""
    single = slice(1, 1 + len(network.causes))
    return round(float(network.log_of(one.node, one.answer, one.from_memory)[single].std()), 12)
