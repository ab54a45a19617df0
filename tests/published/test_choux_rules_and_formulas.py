"""The choux rules against seven published formulas: sound as printed, and flagged with too much or too little egg.

The formulas and their titles stand in test_choux_formulas.py; the weights here are the same.
"""

from __future__ import annotations

import pytest

from troubleshoot.inference.conclusion import Conclusion
from troubleshoot.inference.facts import Case
from troubleshoot.inference.reason import Reasoner

#: flour, liquid, fat, egg in grams: Ratio 2009; How Baking Works 2010; On Baking; a pastry school's handout;
#: an exhibit of a cookery school's recipe; Hand-Book of Practical Cookery 1867; Joy of Cooking 1952.
FORMULAS = [
    (113, 227, 113, 227),
    (125, 225, 85, 225),
    (150, 240, 105, 250),
    (250, 400, 200, 400),
    (150, 250, 100, 200),
    (113, 237, 57, 200),
    (62.5, 118, 57, 100),
]


def weighed(choux: Reasoner, formula: tuple[float, ...], egg_times: float = 1.0) -> Conclusion:
    flour, liquid, butter, egg = formula
    batch = {"flour_g": flour, "liquid_g": liquid, "butter_g": butter, "egg_g": egg * egg_times}
    return choux.reason(Case("choux", None, batch=batch))


@pytest.mark.parametrize("formula", FORMULAS)
def test_a_published_formula_is_not_at_fault(choux: Reasoner, formula: tuple[float, ...]):
    """As printed, the weights give normal answers and no finding."""
    conclusion = weighed(choux, formula)
    assert conclusion.answers["egg_ratio"] == "1.3_to_2.0"
    assert conclusion.answers["egg_to_liquid"] == "usual_egg"
    assert conclusion.findings == ()


@pytest.mark.parametrize("formula", FORMULAS)
def test_half_as_much_egg_again_is_flagged(choux: Reasoner, formula: tuple[float, ...]):
    """With 1.5 times its egg each formula is told so, and too much egg becomes likelier than it was."""
    conclusion = weighed(choux, formula, 1.5)
    assert "more_egg_than_liquid" in conclusion.findings
    assert "much_egg" in conclusion.answers.values()
    assert conclusion.probability("egg_overdose") > 2 * weighed(choux, formula).probability("egg_overdose")


@pytest.mark.parametrize("formula", FORMULAS)
def test_six_tenths_of_the_egg_is_flagged(choux: Reasoner, formula: tuple[float, ...]):
    """With 0.6 times its egg each formula is told so, and too little egg comes first."""
    conclusion = weighed(choux, formula, 0.6)
    assert "less_egg_than_usual" in conclusion.findings
    assert conclusion.suspects[0].cause == "egg_underdose"
