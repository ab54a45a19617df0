"""Which question to ask next: the most bits about the causes for a minute of effort."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from troubleshoot.inference.network import Array, Network

#: Hypotheses beyond this many, or less likely than this, cannot change which question is best.
MOST_HYPOTHESES = 160
LEAST_WEIGHT = 1e-5


@dataclass(frozen=True, slots=True)
class Candidate:
    """A question that could be asked: its sign, what it costs in minutes, and whether it asks the memory."""

    sign: str
    cost_min: float
    from_memory: bool = False
    preference: float = 1.0


@dataclass(frozen=True, slots=True)
class Worth:
    """What a question is worth: expected bits about the causes, its cost, and its score."""

    sign: str
    bits: float
    cost_min: float
    from_memory: bool
    score: float


def rate(
    network: Network,
    posterior: Array,
    candidates: Sequence[Candidate],
    groups: Sequence[Collection[str]] = (),
    answered: Collection[str] = (),
    repeated: float = 1.0,
) -> tuple[Worth, ...]:
    """Return every candidate's worth, best first.

    Bits are the expected drop of the entropy of the blame over causes.  A sign of a
    group already answered tells less: its bits count ``repeated``.
    """
    if not candidates:
        return ()
    keep = _likeliest(posterior)
    weight = posterior[keep] / posterior[keep].sum()
    blame = network.blame[keep]
    before = _entropy((weight @ blame)[None, :])[0]
    rows, owner = [], []
    for number, candidate in enumerate(candidates):
        table = network.remembered if candidate.from_memory else network.likelihood
        part = table[network.rows[candidate.sign]][:, keep]
        rows.append(part)
        owner.extend([number] * part.shape[0])
    joint = np.concatenate(rows) * weight
    chance = joint.sum(axis=1)
    left = _entropy((joint @ blame) / np.maximum(chance, 1e-300)[:, None])
    expected = np.bincount(np.asarray(owner), weights=chance * left, minlength=len(candidates))
    twice = _said_already(groups, answered)
    worths = []
    for candidate, after in zip(candidates, expected, strict=True):
        bits = max(0.0, float(before - after)) * (repeated if candidate.sign in twice else 1.0)
        worths.append(
            Worth(
                candidate.sign,
                bits,
                candidate.cost_min,
                candidate.from_memory,
                bits * candidate.preference / candidate.cost_min,
            )
        )
    return tuple(sorted(worths, key=lambda w: (-round(w.score, 12), w.sign)))


def parts(network: Network, posterior: Array, sign: str, from_memory: bool) -> Mapping[str, tuple[float, Array]]:
    """Return, for each answer of a sign, its chance and the posterior chance of each cause after it."""
    table = (network.remembered if from_memory else network.likelihood)[network.rows[sign]]
    joint = table * posterior
    chance = joint.sum(axis=1)
    after = (joint @ network.contains) / np.maximum(chance, 1e-300)[:, None]
    return {answer: (float(chance[i]), after[i]) for i, answer in enumerate(network.nodes[sign].answers)}


def _likeliest(posterior: Array) -> npt.NDArray[np.intp]:
    order = np.argsort(-posterior, kind="stable")[:MOST_HYPOTHESES]
    kept = order[posterior[order] >= LEAST_WEIGHT]
    return kept if kept.size else order[:1]


def _entropy(rows: Array) -> Array:
    """Entropy of each row in bits."""
    safe = np.where(rows > 0.0, rows, 1.0)
    entropy: Array = -(safe * np.log2(safe)).sum(axis=1)
    return entropy


def _said_already(groups: Sequence[Collection[str]], answered: Collection[str]) -> frozenset[str]:
    return frozenset(sign for group in groups if any(one in answered for one in group) for sign in group)
