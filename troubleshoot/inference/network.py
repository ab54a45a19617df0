"""The causes and signs of a family as a network of likelihoods.

Each cause acts on a sign on its own: with the strengths written beside it, it
makes the sign show an answer; what is left over does nothing.  When no cause at
hand acts, the sign follows its base levels.  When several act, a wrong answer
prevails over a normal one (a fault shows through what another cause leaves
sound), and among equals one at random sets it.  For a sign with a yes and a
normal no this is noisy-OR with a leak (Pearl 1988).
"""

from __future__ import annotations

import itertools
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

import numpy as np
import numpy.typing as npt
from threadpoolctl import threadpool_limits

from troubleshoot.knowledge.model import Family, Vocabulary

Array = npt.NDArray[np.float64]

# Our matrices are small: handing them to several BLAS threads costs more than it saves, and
# on a busy machine it doubled the time of a whole inference (measured).
threadpool_limits(limits=1, user_api="blas")

#: The complaint is a sign like any other; this is its name in the network.
COMPLAINT = "complaint"

#: No cause is more certain to act than the top of the frequency scale.
MOST_CERTAIN = 0.985

#: A person with a known cause names one of its listed complaints nearly always (top of the scale).
COMPLAINT_LISTED = 0.985


@dataclass(frozen=True, slots=True)
class Node:
    """A sign in the network: base levels (answers,), strengths (causes, answers), normal answers (answers,)."""

    id: str
    answers: tuple[str, ...]
    base: Array
    strength: Array
    normal: npt.NDArray[np.bool_]
    error_rate: float
    loosely: Mapping[str, tuple[str, ...]] = field(default_factory=dict)

    def alone(self) -> Array:
        """Return P(answer | exactly this cause acts), shape (causes, answers)."""
        left = 1.0 - self.strength.sum(axis=1, keepdims=True)
        table: Array = self.strength + left * self.base
        return table

    def together(self, first: npt.NDArray[np.intp], second: npt.NDArray[np.intp]) -> Array:
        """Return P(answer | exactly these two causes act) for pairs of causes, shape (pairs, answers)."""
        wrong = np.where(self.normal, 0.0, self.strength)
        right = np.where(self.normal, self.strength, 0.0)
        silent = 1.0 - wrong.sum(axis=1, keepdims=True)
        # What a cause does when it shows no fault here, as shares of those times.
        right_then = np.divide(right, silent, out=np.zeros_like(right), where=silent > 0.0)
        rest = 1.0 - right_then.sum(axis=1, keepdims=True)
        faulty = _either(wrong[first], wrong[second])
        sound = _either(right_then[first], right_then[second]) + rest[first] * rest[second] * self.base
        table: Array = faulty + silent[first] * silent[second] * sound
        return table


def _either(a: Array, b: Array) -> Array:
    """Chance that a or b sets each answer, one of them at random when both do; rows are pairs of causes."""
    total_a, total_b = a.sum(axis=1, keepdims=True), b.sum(axis=1, keepdims=True)
    joint: Array = a * (1.0 - total_b) + b * (1.0 - total_a) + 0.5 * (a * total_b + b * total_a)
    return joint


@dataclass(frozen=True, slots=True)
class Network:
    """All hypotheses of a family and how likely each makes every answer.

    ``sets`` are the hypotheses: the empty tuple stands for a cause not in the rule
    base, then single causes, then pairs (indices into ``causes``).  ``likelihood``
    and ``remembered`` have one row an answer of every node, one column a hypothesis;
    the second uses the error rate of memory; ``logs`` are the logarithms of both.
    ``rows`` gives a node's slice.
    ``blame`` (sets, causes + 1) shares each hypothesis among its causes, the last
    column being the unlisted cause.
    """

    causes: tuple[str, ...]
    nodes: Mapping[str, Node]
    sets: tuple[tuple[int, ...], ...]
    prior: Array
    likelihood: Array
    remembered: Array
    logs: tuple[Array, Array]
    rows: Mapping[str, slice]
    blame: Array
    contains: npt.NDArray[np.bool_]

    def log_of(self, node_id: str, answer: str, from_memory: bool) -> Array:
        """Return log P(answer | hypothesis) for all hypotheses."""
        node = self.nodes[node_id]
        if answer in node.loosely:
            logs: Array = np.log(self.of(node_id, answer, from_memory))
            return logs
        row: Array = self.logs[int(from_memory)][self.rows[node_id].start + node.answers.index(answer)]
        return row

    def of(self, node_id: str, answer: str, from_memory: bool) -> Array:
        """Return P(answer | hypothesis) for all hypotheses; a loose answer sums those it covers."""
        node = self.nodes[node_id]
        table = (self.remembered if from_memory else self.likelihood)[self.rows[node_id]]
        covered = node.loosely.get(answer, (answer,))
        found: Array = table[[node.answers.index(one) for one in covered]].sum(axis=0)
        return found


def build(causes: Sequence[str], weights: Sequence[float], nodes: Sequence[Node], vocabulary: Vocabulary) -> Network:
    """Build the network over single causes and pairs of causes.

    ``weights`` says how common each cause is against the others.
    """
    count = len(causes)
    sets: tuple[tuple[int, ...], ...] = ((), *((i,) for i in range(count)), *itertools.combinations(range(count), 2))
    contains = np.zeros((len(sets), count), dtype=np.bool_)
    blame = np.zeros((len(sets), count + 1))
    for index, members in enumerate(sets):
        contains[index, list(members)] = True
        if members:
            blame[index, list(members)] = 1.0 / len(members)
        else:
            blame[index, count] = 1.0
    pairs = _pairs(count)
    rows: dict[str, slice] = {}
    declared, remembered = [], []
    start = 0
    for node in nodes:
        table = np.concatenate([_unlisted(node, vocabulary)[None, :], node.alone(), node.together(*pairs)]).T
        rows[node.id] = slice(start, start + len(node.answers))
        start += len(node.answers)
        declared.append(_misread(table, node.error_rate))
        remembered.append(_misread(table, max(node.error_rate, vocabulary.error_rate["recalled"])))
    likelihood, by_memory = np.concatenate(declared), np.concatenate(remembered)
    return Network(
        causes=tuple(causes),
        nodes={node.id: node for node in nodes},
        sets=sets,
        prior=_prior(sets, np.asarray(weights, dtype=np.float64), vocabulary),
        likelihood=likelihood,
        remembered=by_memory,
        logs=(np.log(likelihood), np.log(by_memory)),
        rows=rows,
        blame=blame,
        contains=contains,
    )


def reweighed(network: Network, weights: Sequence[float], vocabulary: Vocabulary) -> Network:
    """Return the network with other weights of how common its causes are; what they show stays as it is."""
    return replace(network, prior=_prior(network.sets, np.asarray(weights, dtype=np.float64), vocabulary))


def _pairs(count: int) -> tuple[npt.NDArray[np.intp], npt.NDArray[np.intp]]:
    """Indices of all pairs of causes, in the order of ``itertools.combinations``."""
    first, second = np.triu_indices(count, k=1)
    return first, second


def _unlisted(node: Node, vocabulary: Vocabulary) -> Array:
    """P(answer | a cause that is not in the rule base): mostly as usual, now and then any wrong answer."""
    disturbed = vocabulary.unlisted_disturbs
    wrong = np.where(node.normal, 0.0, 1.0)
    spread = wrong / wrong.sum() if wrong.any() else np.full(len(node.answers), 1.0 / len(node.answers))
    mixed: Array = (1.0 - disturbed) * node.base + disturbed * spread
    return mixed


def _misread(table: Array, error_rate: float) -> Array:
    mixed: Array = (1.0 - error_rate) * table + error_rate / table.shape[0]
    return mixed


def _prior(sets: Sequence[tuple[int, ...]], weights: Array, vocabulary: Vocabulary) -> Array:
    """Share of bad batches by hypothesis: unlisted, single causes, and pairs by the product of their weights."""
    share = weights / weights.sum()
    raw = np.array([np.prod(share[list(members)]) if members else 0.0 for members in sets])
    pairs = np.array([len(members) == 2 for members in sets])
    listed = 1.0 - vocabulary.unlisted_share
    two = vocabulary.two_causes_share if pairs.any() else 0.0
    prior = np.where(pairs, 0.0, raw) * listed * (1.0 - two)
    if pairs.any():
        prior = prior + np.where(pairs, raw, 0.0) / raw[pairs].sum() * listed * two
    prior[0] = vocabulary.unlisted_share
    normed: Array = prior / prior.sum()
    return normed


def family_network(family: Family, vocabulary: Vocabulary) -> Network:
    """Build the network of a family, the complaint among its signs."""
    causes = tuple(family.causes)
    weights = [vocabulary.how_common[family.causes[cause].how_common] for cause in causes]
    nodes = [
        _complaint(family, causes, vocabulary),
        *(sign_node(family, sign_id, causes, vocabulary) for sign_id in family.signs),
    ]
    return build(causes, weights, nodes, vocabulary)


def sign_node(family: Family, sign_id: str, causes: Sequence[str], vocabulary: Vocabulary) -> Node:
    """Build the node of one sign over ``causes``."""
    sign = family.signs[sign_id]
    base = np.array([answer.base for answer in sign.answers])
    strength = np.zeros((len(causes), len(sign.answers)))
    for index, cause in enumerate(causes):
        for answer, level in family.causes[cause].shows_as.get(sign_id, {}).items():
            strength[index, sign.answer_ids.index(answer)] = level
    return Node(
        id=sign_id,
        answers=sign.answer_ids,
        base=base / base.sum(),
        strength=_capped(strength, MOST_CERTAIN),
        normal=np.array([answer.normal for answer in sign.answers]),
        error_rate=vocabulary.error_rate[sign.kind],
        loosely=sign.loosely,
    )


def _capped(strength: Array, most: float) -> Array:
    """Levels of one sign need not add up to one: those that exceed ``most`` together are scaled to it."""
    total = strength.sum(axis=1, keepdims=True)
    scaled: Array = strength * np.where(total > most, most / np.maximum(total, most), 1.0)
    return scaled


def _complaint(family: Family, causes: Sequence[str], vocabulary: Vocabulary) -> Node:
    precise = [fault for fault in family.faults.values() if not fault.covers]
    strength = np.array([[fault.causes.get(cause, 0.0) for fault in precise] for cause in causes])
    total = strength.sum(axis=1, keepdims=True)
    return Node(
        id=COMPLAINT,
        answers=tuple(fault.id for fault in precise),
        base=np.full(len(precise), 1.0 / len(precise)),
        strength=np.divide(strength * COMPLAINT_LISTED, total, out=np.zeros_like(strength), where=total > 0),
        normal=np.zeros(len(precise), dtype=np.bool_),
        error_rate=vocabulary.error_rate["seen"],
        loosely={fault.id: fault.covers for fault in family.faults.values() if fault.covers},
    )
