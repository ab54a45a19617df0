"""How well each cause can be told from every other when all that can be looked at is known.

For two causes a sign has an overlap: the sum over its answers of the root of the
product of their chances (Bhattacharyya 1943), 1 when the two show alike, 0 when one
answer settles it.  Signs are taken as independent, as the network takes them, so
the overlaps of all signs multiply.  With the two priors that product bounds how
often the one is taken for the other; nothing is drawn.

How often a cause comes first is found from many drawn batches with every sign
answered, which costs one product of matrices and no interview.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from troubleshoot.inference.network import COMPLAINT, Array, Network
from troubleshoot.inference.reason import Reasoner

#: Batches drawn for each cause, and the seed of the drawing.
BATCHES, SEED = 400, 1

#: Rivals named for each cause, and the share of losses from which a rival counts as one.
MOST_RIVALS, LEAST_LOST = 3, 0.005


@dataclass(frozen=True, slots=True)
class LostTo:
    """A rival that comes first in a share of the batches, how alike the two are, and the sign that parts them best.

    ``overlap`` is what all signs leave alike, ``sign_overlap`` what that one sign leaves.
    """

    rival: str
    share: float
    overlap: float
    sign: str
    sign_overlap: float


@dataclass(frozen=True, slots=True)
class Identified:
    """One cause: how often it comes first with everything asked, its nearest rival, and those it loses to."""

    cause: str
    first: float
    nearest: LostTo
    lost_to: tuple[LostTo, ...]


def identify(reasoner: Reasoner, batches: int = BATCHES, seed: int = SEED) -> tuple[Identified, ...]:
    """Return every cause of a family, the least identifiable first."""
    network = reasoner.network
    tables = _tables(reasoner)
    overlaps = {node: np.sqrt(table) @ np.sqrt(table).T for node, table in tables.items()}
    logs = sum((np.log(one) for one in overlaps.values()), np.zeros((len(network.causes),) * 2))
    alike = np.exp(_independent(reasoner, overlaps, logs))
    asked = [node for node in overlaps if node == COMPLAINT or reasoner.family.signs[node].asked]
    found = []
    for number, cause in enumerate(network.causes):
        shares = _first_shares(reasoner, tables, number, batches, seed)
        others = [i for i in range(len(network.causes)) if i != number]
        if not others:
            continue

        def lost(rival: int, number: int = number, shares: Array = shares) -> LostTo:
            signs = [node for node in asked if node != COMPLAINT] or asked
            sign = min(signs, key=lambda node: (round(float(overlaps[node][number, rival]), 9), node))
            return LostTo(
                network.causes[rival],
                float(shares[rival]),
                float(alike[number, rival]),
                sign,
                float(overlaps[sign][number, rival]),
            )

        nearest = max(others, key=lambda i: (round(float(alike[number, i]), 12), network.causes[i]))
        rivals = sorted(others, key=lambda i: (-shares[i], network.causes[i]))[:MOST_RIVALS]
        losses = tuple(lost(i) for i in rivals if shares[i] >= LEAST_LOST)
        found.append(Identified(cause, float(shares[number]), lost(nearest), losses))
    return tuple(sorted(found, key=lambda one: (round(one.first, 9), one.cause)))


def _tables(reasoner: Reasoner) -> Mapping[str, Array]:
    """Return P(answer | only this cause) for every node, causes by answers, signs of memory as remembered."""
    network = reasoner.network
    single = slice(1, 1 + len(network.causes))
    tables: dict[str, Array] = {}
    for node in network.nodes:
        remembered = node != COMPLAINT and reasoner.family.signs[node].kind == "recalled"
        table = network.remembered if remembered else network.likelihood
        tables[node] = table[network.rows[node]][:, single].T
    return tables


def _independent(reasoner: Reasoner, overlaps: Mapping[str, Array], logs: Array) -> Array:
    """Return the summed logs with signs that measure one thing counted as the ranking counts them."""
    for group in reasoner.family.header.same_evidence:
        members = np.stack([np.log(overlaps[node]) for node in group])
        # The most telling sign of a group counts in full, the others by the share for repeated evidence.
        strongest = members.min(axis=0)
        rest = members.sum(axis=0) - strongest
        logs = logs - (1.0 - reasoner.vocabulary.repeated_evidence) * rest
    return logs


def _first_shares(reasoner: Reasoner, tables: Mapping[str, Array], number: int, batches: int, seed: int) -> Array:
    """Return how often each cause comes first in batches of one cause, with every sign answered."""
    network = reasoner.network
    rng = np.random.default_rng([seed, number])
    score = np.tile(_log_prior(network), (batches, 1))
    exponent = _exponents(reasoner, tables)
    for node, table in tables.items():
        chances = table[number] / table[number].sum()
        answers = rng.choice(len(chances), size=batches, p=chances)
        score += exponent[node] * np.log(table).T[answers]
    best = np.argmax(score, axis=1)
    shares: Array = np.bincount(best, minlength=len(network.causes)) / batches
    return shares


def _exponents(reasoner: Reasoner, tables: Mapping[str, Array]) -> Mapping[str, float]:
    """Return how much each sign counts on average: one of a group in full, the others by the share for repeats."""
    counts = dict.fromkeys(tables, 1.0)
    for group in reasoner.family.header.same_evidence:
        share = (1.0 + (len(group) - 1) * reasoner.vocabulary.repeated_evidence) / len(group)
        for node in group:
            counts[node] = min(counts[node], share)
    return counts


def _log_prior(network: Network) -> Array:
    prior: Array = np.log(network.prior[1 : 1 + len(network.causes)])
    return prior
