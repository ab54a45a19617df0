"""The ranking equals listing every possibility, and the published noisy-OR table."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
import small_networks as small

from troubleshoot.inference import network, questions, ranking
from troubleshoot.inference.network import Node
from troubleshoot.inference.ranking import Evidence


def network_of(rng: np.random.Generator, causes: int = 4, signs: int = 5) -> network.Network:
    nodes = [small.random_node(rng, f"s{i}", causes) for i in range(signs)]
    return network.build(
        [f"c{i}" for i in range(causes)], rng.integers(1, 20, causes).tolist(), nodes, small.vocabulary()
    )


@pytest.mark.parametrize("seed", range(20))
def test_likelihoods_equal_enumeration(seed: int):
    """Every closed form for one and two causes equals listing what each cause may do."""
    rng = np.random.default_rng(seed)
    node = small.random_node(rng, "s", 4)
    first, second = np.triu_indices(4, k=1)
    pairs = node.together(first, second)
    for row, members in zip(pairs, itertools.combinations(range(4), 2), strict=True):
        assert row == pytest.approx(small.enumerated(node, members), abs=1e-12)
        assert row.sum() == pytest.approx(1.0, abs=1e-12)
    for cause, row in enumerate(node.alone()):
        assert row == pytest.approx(small.enumerated(node, (cause,)), abs=1e-12)


@pytest.mark.parametrize("seed", range(20))
def test_posterior_equals_enumeration(seed: int):
    """The posterior over causes equals Bayes' rule written out over every hypothesis, to 1e-9."""
    rng = np.random.default_rng(100 + seed)
    net = network_of(rng)
    vocabulary = small.vocabulary()
    evidence = [
        Evidence(n.id, str(rng.choice(n.answers)), bool(rng.random() < 0.5)) for n in list(net.nodes.values())[:4]
    ]
    ruled_out, doubted = ["c3"], ["c1"]
    weight = {}
    for members, prior in zip(net.sets, net.prior, strict=True):
        chance = float(prior)
        for one in evidence:
            node = net.nodes[one.node]
            if members:
                table = small.enumerated(node, members)
            else:
                wrong = [0.0 if normal else 1.0 for normal in node.normal]
                spread = (
                    np.array(wrong) / sum(wrong) if sum(wrong) else np.full(len(node.answers), 1 / len(node.answers))
                )
                table = (1 - vocabulary.unlisted_disturbs) * node.base + vocabulary.unlisted_disturbs * spread
            error = max(node.error_rate, vocabulary.error_rate["recalled"]) if one.from_memory else node.error_rate
            chance *= (1 - error) * table[node.answers.index(one.answer)] + error / len(node.answers)
        if 3 in members:
            chance = 0.0
        if 1 in members:
            chance *= 0.05
        weight[members] = chance
    total = sum(weight.values())
    expected = [sum(w for m, w in weight.items() if c in m) / total for c in range(4)]
    standing = ranking.rank(net, evidence, ruled_out=ruled_out, doubted=doubted, doubt_factor=0.05)
    assert standing.cause == pytest.approx(expected, abs=1e-9)
    assert standing.unlisted == pytest.approx(weight[()] / total, abs=1e-9)


def test_prior_shares_are_as_declared():
    """Unlisted causes and pairs have the shares of the vocabulary, singles stand to one another as their weights."""
    net = network.build(
        ["a", "b", "c"], [1, 3, 6], [small.random_node(np.random.default_rng(1), "s", 3)], small.vocabulary()
    )
    pairs = np.array([len(members) == 2 for members in net.sets])
    assert net.prior.sum() == pytest.approx(1.0)
    assert net.prior[0] == pytest.approx(0.02)
    assert net.prior[pairs].sum() == pytest.approx(0.98 * 0.10)
    assert net.prior[2] / net.prior[1] == pytest.approx(3.0)
    assert net.prior[3] / net.prior[2] == pytest.approx(2.0)


def test_a_normal_strength_never_hides_another_causes_fault():
    """What one cause leaves normal does not weaken the fault that a second cause shows."""
    node = Node(
        "s", ("fine", "bad"), np.array([0.9, 0.1]), np.array([[0.0, 0.8], [0.985, 0.0]]), np.array([True, False]), 0.01
    )
    together = node.together(np.array([0]), np.array([1]))[0]
    # The second cause lets 1.5 % through to the base levels, of which a tenth is bad.
    assert together[1] == pytest.approx(0.8 + 0.2 * 0.015 * 0.1)


# The table of P(fever) for cold, flu and malaria with inhibitors 0.6, 0.2, 0.1 and no leak:
# Russell and Norvig, Artificial Intelligence: A Modern Approach, 3rd ed. 2010 (read in lecture slides that reuse it).
FEVER = {(): 0.0, (2,): 0.9, (1,): 0.8, (1, 2): 0.98, (0,): 0.4, (0, 2): 0.94, (0, 1): 0.88}


@pytest.mark.parametrize(("causes", "expected"), FEVER.items())
def test_published_noisy_or_table(causes: tuple[int, ...], expected: float):
    """The published fever table comes out to its printed digits."""
    node = Node(
        "fever",
        ("no", "yes"),
        np.array([1.0, 0.0]),
        np.array([[0, 0.4], [0, 0.8], [0, 0.9]]),
        np.array([True, False]),
        0.0,
    )
    if not causes:
        found = node.base
    elif len(causes) == 1:
        found = node.alone()[causes[0]]
    else:
        found = node.together(np.array(causes[:1]), np.array(causes[1:]))[0]
    assert found[1] == pytest.approx(expected, abs=1e-12)


@pytest.mark.parametrize(("causes", "expected"), [((0, 1), 0.568), ((0,), 0.28)])
def test_published_noisy_or_with_leak(causes: tuple[int, ...], expected: float):
    """Noisy-OR with a leak of 0.1 and strengths 0.2 and 0.4 (form of Pearl 1988, p. 184; results worked from it)."""
    node = Node(
        "effect", ("no", "yes"), np.array([0.9, 0.1]), np.array([[0, 0.2], [0, 0.4]]), np.array([True, False]), 0.0
    )
    found = node.alone()[0] if len(causes) == 1 else node.together(np.array([0]), np.array([1]))[0]
    assert found[1] == pytest.approx(expected, abs=1e-12)


@pytest.mark.parametrize("seed", range(5))
def test_expected_bits_equal_the_long_way(seed: int):
    """A question's worth equals the entropy now less the mean entropy after each answer, to 1e-9."""
    rng = np.random.default_rng(200 + seed)
    net = network_of(rng)
    posterior = ranking.rank(net, [Evidence("s0", "a1")]).posterior

    def bits(weights: np.ndarray) -> float:
        blame = (weights / weights.sum()) @ net.blame
        return -sum(p * np.log2(p) for p in blame if p > 0)

    for worth in questions.rate(net, posterior, [questions.Candidate(f"s{i}", 1.0) for i in range(1, 5)]):
        table = net.likelihood[net.rows[worth.sign]]
        after = sum((row * posterior).sum() * bits(row * posterior) for row in table)
        assert worth.bits == pytest.approx(bits(posterior) - after, abs=1e-4)


def test_a_repeat_of_the_same_measurement_counts_half():
    """Of two answers about one thing the more telling counts in full, whatever the order they came in."""
    net = network_of(np.random.default_rng(7))
    one, two = Evidence("s0", "a1"), Evidence("s1", "a1")
    groups = [["s0", "s1"]]
    forward = ranking.exponents(net, [one, two], groups, 0.5)
    assert sorted(forward) == [0.5, 1.0]
    assert ranking.exponents(net, [two, one], groups, 0.5) == forward[::-1]
    assert ranking.rank(net, [one, two], groups, repeated=0.5).cause == pytest.approx(
        ranking.rank(net, [two, one], groups, repeated=0.5).cause, abs=1e-12
    )
