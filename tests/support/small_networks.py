"""Small networks for tests, and the long way round to the same figures."""

from __future__ import annotations

import itertools
from pathlib import Path

import numpy as np

from troubleshoot import resources
from troubleshoot.inference.network import Node
from troubleshoot.knowledge import build
from troubleshoot.knowledge.model import Vocabulary
from troubleshoot.knowledge.yamlread import read_file


def vocabulary() -> Vocabulary:
    """The shipped scales."""
    return build.vocabulary(read_file(Path(resources.folder("rules")) / "vocabulary.yaml"))


def random_node(rng: np.random.Generator, name: str, causes: int) -> Node:
    """A node with two to four answers, the first normal in most, and random strengths."""
    answers = int(rng.integers(2, 5))
    strength = rng.random((causes, answers)) * (rng.random((causes, answers)) < 0.6)
    total = strength.sum(axis=1, keepdims=True)
    strength = strength * np.where(total > 0.97, 0.97 / np.maximum(total, 0.97), 1.0)
    normal = np.zeros(answers, dtype=np.bool_)
    normal[0] = rng.random() < 0.8
    base = rng.random(answers) + 0.05
    return Node(
        name,
        tuple(f"a{i}" for i in range(answers)),
        base / base.sum(),
        strength,
        normal,
        float(rng.choice([0.01, 0.06])),
    )


def enumerated(node: Node, active: tuple[int, ...]) -> np.ndarray:
    """P(answer | causes) by listing everything each cause may do and who then sets the answer."""
    total = np.zeros(len(node.answers))
    outcomes = [[*range(len(node.answers)), None] for _ in active]
    for acts in itertools.product(*outcomes):
        chance = 1.0
        for cause, act in zip(active, acts, strict=True):
            chance *= 1.0 - node.strength[cause].sum() if act is None else node.strength[cause][act]
        shown = [act for act in acts if act is not None]
        faulty = [act for act in shown if not node.normal[act]]
        setters = faulty or shown
        if not setters:
            total += chance * node.base
        for act in setters:
            total[act] += chance / len(setters)
    return total
