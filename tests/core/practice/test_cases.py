"""Practice cases: the same for the same number, fair, solved by the program, and told by nothing in their wording."""

from __future__ import annotations

import numpy as np
import pytest
from practice_checks import given_away, impossible

from troubleshoot.errors import CaseError
from troubleshoot.inference.reason import Reasoner
from troubleshoot.interview.shelf import Shelf
from troubleshoot.practice import hiding
from troubleshoot.practice.cases import CaseKey, PracticeCase, draw_case, key_of
from troubleshoot.practice.giveaway import gives_away

FAMILIES = ("candied-peel", "choux", "melted-chocolate", "shortbread", "whipped-cream")


@pytest.mark.parametrize("family", FAMILIES)
def test_no_batch_is_impossible(shelf: Shelf, drawn: dict[str, list[PracticeCase]], family: str):
    """No sign rules out the mistake it comes from, and no answer contradicts what a plain rule derives."""
    for case in drawn[family]:
        assert impossible(shelf.reasoner(family), case) == [], case.key.code


@pytest.mark.parametrize("family", FAMILIES)
def test_no_description_gives_the_cause_away(shelf: Shelf, drawn: dict[str, list[PracticeCase]], family: str):
    """Neither the cause's name nor a word that sets it apart stands in what is told at first."""
    for case in drawn[family]:
        assert given_away(shelf.reasoner(family), case) == [], case.key.code


@pytest.mark.parametrize("family", FAMILIES)
def test_the_program_solves_every_case(drawn: dict[str, list[PracticeCase]], family: str):
    """It names a cause at work in at most eight questions; what it does not settle is marked as hard."""
    for case in drawn[family]:
        assert case.program.cause in case.causes
        assert len(case.program.asked) <= 8
        assert case.hard == (len(case.causes) == 2 or not case.program.settled)
        assert case.hard == (case.key.level == 4)


def test_a_number_stands_for_one_case(choux: Reasoner, drawn: dict[str, list[PracticeCase]]):
    """The same family, level and number give an equal case; another number gives another."""
    first, second = drawn["choux"][:2]
    assert draw_case(choux, key_of(first.key.code)) == first
    assert second.shows != first.shows


def test_level_one_hides_common_causes(choux: Reasoner, drawn: dict[str, list[PracticeCase]]):
    """At the first level the mistake is one of the common ones."""
    for case in drawn["choux"]:
        if case.key.level == 1:
            assert choux.family.causes[case.causes[0]].how_common >= 4


def test_everything_that_can_be_asked_can_be_looked_at(choux: Reasoner, clear: PracticeCase):
    """A batch shows an answer to every question that the program could put at its stage."""
    asked = {candidate.sign for candidate in choux.candidates(clear.start(), clear.stage, {})}
    assert asked <= set(clear.shows)


@pytest.mark.parametrize(
    ("code", "says"),
    [
        ("choux", "not the code of a case"),
        ("choux-2", "not the code of a case"),
        ("choux-2-12345", "not the code of a case"),
        ("choux-5-1", "there is no level 5"),
        ("choux-2-0", "there is no case 0"),
    ],
)
def test_a_wrong_code_is_refused(code: str, says: str):
    """What is no code is said, with what to write instead."""
    with pytest.raises(CaseError, match=says):
        key_of(code)


def test_a_code_reads_back():
    """A code is read however it was typed."""
    assert key_of(" Whipped-Cream-2-117 ") == CaseKey("whipped-cream", 2, 117)


def test_two_opposite_causes_are_not_hidden_together(choux: Reasoner):
    """An oven that is too hot is not too cool as well, and rivals are not put together."""
    family = choux.family
    level = hiding.LEVELS[4]
    rng = np.random.default_rng(1)
    for _ in range(40):
        causes = hiding.choose(choux, level, rng)
        assert set(causes) not in ({"oven_hot", "oven_cool"}, {"egg_overdose", "egg_underdose"})
        if len(causes) == 2:
            assert causes[1] not in {rival.cause for rival in family.causes[causes[0]].told_apart_from}


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("The door stood open for a minute", True),
        ("They rose well, then sank in the oven", False),
        ("OPENING IT DID IT", True),
    ],
)
def test_words_that_set_a_cause_apart_give_it_away(text: str, told: bool):
    """A word only this cause's name has tells it, in any form; one that others share does not."""
    assert gives_away(text, "The oven door was opened", ["The oven is too cool", "They sank"]) is told
