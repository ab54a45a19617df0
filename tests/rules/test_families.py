"""Every family of the rule base: whole, sound, and able to answer that nothing is wrong."""

from __future__ import annotations

import pytest

from troubleshoot import resources
from troubleshoot.advice.verdict import verdict
from troubleshoot.advice.wording import Wording
from troubleshoot.checks import run as checks
from troubleshoot.inference.examples import failures
from troubleshoot.inference.facts import Case
from troubleshoot.interview.shelf import Shelf
from troubleshoot.knowledge.load import family_ids

FAMILIES = ("candied-peel", "choux", "melted-chocolate", "shortbread", "whipped-cream")


def test_the_five_families_are_there():
    """No family is missing and none has crept in."""
    assert family_ids(resources.folder("rules")) == FAMILIES


@pytest.mark.parametrize("family_id", FAMILIES)
def test_no_check_finds_anything(shelf: Shelf, family_id: str):
    """Every check passes on the shipped rules."""
    assert [str(finding) for finding in checks.run(shelf.rulebase(family_id))] == []


@pytest.mark.parametrize("family_id", FAMILIES)
def test_every_example_comes_out_as_written(shelf: Shelf, family_id: str):
    """Each cause is found by its example and not by its near miss."""
    assert [str(problem) for problem in failures(shelf.reasoner(family_id))] == []


@pytest.mark.parametrize("family_id", FAMILIES)
def test_a_family_is_whole(shelf: Shelf, family_id: str):
    """Each family holds faults, signs, causes, remedies and rules enough for a section to work with."""
    family = shelf.reasoner(family_id).family
    assert len(family.faults) >= 33
    assert len(family.signs) >= 50
    assert len(family.causes) >= 41
    assert len(family.remedies) >= 80
    assert len(family.rules) >= 40
    drawn = {answer.drawing for sign in family.signs.values() for answer in sign.answers} - {None}
    assert len(drawn) >= 8
    assert all(resources.drawing(name).is_file() for name in drawn if name)


@pytest.mark.parametrize("family_id", FAMILIES)
def test_nothing_wrong_is_an_answer(shelf: Shelf, family_id: str):
    """Each family knows of looks that worry people and are normal, and says how to go on without loss."""
    family = shelf.reasoner(family_id).family
    normal = [cause for cause in family.causes.values() if cause.nothing_wrong]
    assert normal
    for cause in normal:
        now = [family.remedies[r] for r in cause.remedies if family.remedies[r].kind == "now"]
        assert max(remedy.saves for remedy in now) >= 0.9, cause.id


@pytest.mark.parametrize("family_id", FAMILIES)
def test_every_complaint_leads_to_a_verdict_that_can_be_acted_on(shelf: Shelf, family_id: str):
    """Whatever is complained of, there is something to do, in words without a placeholder left over."""
    reasoner = shelf.reasoner(family_id)
    rulebase = shelf.rulebase(family_id)
    for fault in reasoner.family.faults:
        said = verdict(
            reasoner, reasoner.reason(Case(family_id, fault)), rulebase.cautions, rulebase.sources, Wording()
        )
        assert said.rescue, fault
        words = " ".join(
            [
                said.headline,
                *(link.text for link in said.chain),
                *(step for advice in said.rescue for step in advice.steps),
            ]
        )
        assert "{" not in words, fault
        assert "TODO" not in words, fault
