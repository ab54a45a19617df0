"""The explorer's links are the rule base's, both ways, and the text says what the picture shows."""

from __future__ import annotations

import pytest

from troubleshoot.errors import CaseError
from troubleshoot.interview.shelf import Shelf
from troubleshoot.practice.explorer import Explorer

FAMILIES = ("candied-peel", "choux", "melted-chocolate", "shortbread", "whipped-cream")


@pytest.fixture(params=FAMILIES)
def explorer(shelf: Shelf, request: pytest.FixtureRequest) -> Explorer:
    return Explorer(shelf.reasoner(request.param))


def test_links_are_the_rule_bases_both_ways(explorer: Explorer):
    """Mistake to sign, sign to mistake, and the causes' files hold the same links with the same strength."""
    family = explorer.family
    of_rules = {
        (cause.id, sign, answer, level)
        for cause in family.causes.values()
        for sign, answers in cause.shows_as.items()
        for answer, level in answers.items()
    }
    from_mistakes = {
        (cause, link.sign, link.answer, link.share)
        for cause in family.causes
        for group in explorer.mistake(cause).signs
        for link in group.signs
    }
    from_signs = {
        (link.cause, sign, answer.answer, link.share)
        for sign in family.signs
        for answer in explorer.sign(sign).answers
        for link in answer.causes
    }
    assert from_mistakes == of_rules
    assert from_signs == of_rules


def test_what_speaks_against_is_the_rule_bases_both_ways(explorer: Explorer):
    """Answers that rule a mistake out are the same from the mistake, from the sign and in the files."""
    family = explorer.family
    of_rules = {(c.id, s, a) for c in family.causes.values() for s, answers in c.ruled_out_by.items() for a in answers}
    assert {(c, s, a) for c in family.causes for s, _, a, _ in explorer.mistake(c).excluded} == of_rules
    from_signs = {
        (named.id, sign, answer.answer)
        for sign in family.signs
        for answer in explorer.sign(sign).answers
        for named in answer.excludes
    }
    assert from_signs == of_rules


def test_a_fishbone_has_every_cause_of_its_complaint_once(explorer: Explorer):
    """The ribs of a precise complaint hold its causes, each at its own stage, the stages in order."""
    family = explorer.family
    order = [stage.name for stage in family.header.stages]
    for fault in family.faults.values():
        view = explorer.fishbone(fault.id)
        links = [(link.cause, link.share) for group in view.stages for link in group.causes]
        if not fault.covers:
            assert sorted(links) == sorted(fault.causes.items())
        assert [g.stage for g in view.stages] == sorted((g.stage for g in view.stages), key=order.index)
        assert len(links) == len(set(links))


def test_rivals_are_parted_by_what_their_authors_name(explorer: Explorer):
    """For every pair of rivals the test an author names comes among the first, with its reason."""
    for cause in explorer.family.causes.values():
        for rival in cause.told_apart_from:
            view = explorer.compare(cause.id, rival.cause)
            written = [part for part in view.parts if part.because]
            assert view.parts[: len(written)] == tuple(written)
            assert rival.by in {part.sign for part in written}


def test_texts_say_what_the_pictures_show(explorer: Explorer):
    """Every link, answer and name in a picture stands in its text."""
    family = explorer.family
    for cause in family.causes:
        view = explorer.mistake(cause)
        shown = [
            view.name,
            *(link.text for link in view.chain),
            *(x for g in view.signs for s in g.signs for x in (s.ask, s.say, s.often)),
        ]
        assert all(words in view.text for words in shown)
    for sign in family.signs:
        seen = explorer.sign(sign)
        assert all(link.name in seen.text for answer in seen.answers for link in answer.causes)
    for fault in family.faults:
        bone = explorer.fishbone(fault)
        assert all(link.name in bone.text for group in bone.stages for link in group.causes)
    first, second = list(family.causes)[:2]
    both = explorer.compare(first, second)
    assert all(part.ask in both.text and part.say in both.text for part in both.parts)


def test_comparing_the_other_way_round_says_the_same(explorer: Explorer):
    """What parts A from B parts B from A, with the shares changed over."""
    first, second = list(explorer.family.causes)[:2]
    one, other = explorer.compare(first, second), explorer.compare(second, first)
    assert {(p.sign, p.first_share, p.second_share) for p in one.parts} == {
        (p.sign, p.second_share, p.first_share) for p in other.parts
    }


def test_what_is_unknown_is_refused_with_the_nearest(shelf: Shelf):
    """A wrong id is told with what was perhaps meant; a mistake is not compared with itself."""
    explorer = Explorer(shelf.reasoner("choux"))
    with pytest.raises(CaseError, match="did you mean 'door_opened'"):
        explorer.mistake("door_open")
    with pytest.raises(CaseError, match="unknown sign"):
        explorer.sign("nothing")
    with pytest.raises(CaseError, match="unknown complaint"):
        explorer.fishbone("nothing")
    with pytest.raises(CaseError, match="the same mistake"):
        explorer.compare("door_opened", "door_opened")


def test_an_open_door_lets_the_shells_sink(shelf: Shelf):
    """By hand: the door's chain begins with cool air, and its surest sign is the sinking in the oven."""
    view = Explorer(shelf.reasoner("choux")).mistake("door_opened")
    assert "air" in view.chain[0].text
    surest = {(s.sign, s.answer) for g in view.signs for s in g.signs if s.often == "nearly always" and not s.normal}
    assert ("sank_when", "in_oven") in surest
