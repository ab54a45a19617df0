"""How many cases the rules' own figures should be worth: python tests/bench/habit_weight.py [--family choux].

Kitchens are drawn whose causes are as common as the rules say but for a factor of their own each (log-normal).  For
each weight and number of confirmed cases it prints by how many bits the learnt shares miss the kitchen's next case,
beyond what no knowledge could spare.  The last column leaves it to the rules alone.
"""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[2]))

from troubleshoot.interview.shelf import Shelf

WEIGHTS, CONFIRMED, SPREADS = (5.0, 10.0, 20.0, 40.0, 80.0, 160.0, 1e9), (10, 30, 100), (0.0, 0.7, 1.2)
KITCHENS, SEASONS = 40, 40


def missed(family: str, weight: float, confirmed: int, spread: float) -> float:
    """Return the bits missed on average over kitchens and seasons."""
    network = Shelf().reasoner(family).network if family not in _shares else None
    if network is not None:
        prior = network.prior[1 : 1 + len(network.causes)]
        _shares[family] = prior / prior.sum()
    rules = _shares[family]
    rng = np.random.default_rng(1)
    lost = []
    for _ in range(KITCHENS):
        true = rules * np.exp(rng.normal(0.0, spread, len(rules)))
        true = true / true.sum()
        counts = rng.multinomial(confirmed, true, size=SEASONS)
        learnt = (weight * rules + counts) / (weight + confirmed)
        lost.append((true * np.log2(true / learnt)).sum(axis=1).mean())
    return float(np.mean(lost))


_shares: dict[str, np.ndarray] = {}


def main(arguments: list[str]) -> int:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--family", default="choux")
    family = parser.parse_args(arguments).family
    print("spread  confirmed  " + "".join(f"{w:8g}" if w < 1e6 else "   rules" for w in WEIGHTS))
    for spread in SPREADS:
        for confirmed in CONFIRMED:
            row = "".join(f"{missed(family, weight, confirmed, spread):8.3f}" for weight in WEIGHTS)
            print(f"{spread:6g}  {confirmed:9d}  {row}")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
