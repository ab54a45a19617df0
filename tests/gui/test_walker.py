"""A short random walk in every family: nothing raises, Qt warns of nothing, no answer is lost (the whole: walker.py)."""

from __future__ import annotations

import random
import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))

from walker import Walk

#: Actions in each family here; ``python tests/gui/walker.py`` does thousands.
ACTIONS = 25


@pytest.mark.parametrize("family", ["choux", "shortbread", "whipped-cream", "melted-chocolate", "candied-peel"])
def test_pressing_and_typing_at_random_loses_nothing(person, family, tmp_path):
    """Whatever is pressed and typed, every answer stands as given and the case on disk is the one on show."""
    person.to_question(None, family)
    walk = Walk(person.window, random.Random(f"suite {family}"), tmp_path, family)
    walk.go(ACTIONS)
    assert sum(walk.done.values()) == ACTIONS


def test_a_lost_answer_would_be_noticed(person, tmp_path):
    """The walk is no walk in the dark: a case on disk that is not the one on show stops it."""
    person.to_question("paste_runny")
    walk = Walk(person.window, random.Random(1), tmp_path, "choux")
    person.desk.store.save = lambda *_: None
    with pytest.raises(AssertionError, match="the case on disk is not the one on show"):
        walk.go(200)
