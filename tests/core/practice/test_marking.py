"""Marks: full for whoever asks the best question, none for guessing, and every point says what to do better."""

from __future__ import annotations

import statistics
import zlib

import numpy as np
import pytest
from practice_learners import LEARNERS, decide, perfect

from troubleshoot.inference.reason import Reasoner
from troubleshoot.interview.shelf import Shelf
from troubleshoot.practice.cases import PracticeCase
from troubleshoot.practice.round import Round
from troubleshoot.practice.views import Marks


def marked(shelf: Shelf, case: PracticeCase, name: str) -> Marks:
    rng = np.random.default_rng([zlib.crc32(name.encode()), case.key.level, case.key.number])
    return LEARNERS[name](shelf.reasoner(case.key.family), case, rng)


def test_the_best_questions_earn_full_marks(shelf: Shelf, drawn: dict[str, list[PracticeCase]]):
    """Whoever asks as the program would, takes its rescue and names its cause has 100, and each question was good."""
    for cases in drawn.values():
        for case in cases:
            marks = marked(shelf, case, "perfect")
            assert marks.total == 100, case.key.code
            assert marks.passed
            assert all(step.good for step in marks.steps)
            assert len(marks.steps) == len(case.program.asked)


def test_learners_rank_by_how_they_work(shelf: Shelf, drawn: dict[str, list[PracticeCase]]):
    """Best questions, then any questions, then none but common sense, then guessing; a guesser does not pass."""
    every = [case for cases in drawn.values() for case in cases]
    marks = {name: [marked(shelf, case, name) for case in every] for name in LEARNERS}
    means = [statistics.mean(one.total for one in of_one) for of_one in marks.values()]
    assert list(marks) == ["perfect", "random", "common-cause-only", "careless"]
    assert means == sorted(means, reverse=True)
    assert sum(one.passed for one in marks["careless"]) == 0


def test_points_add_up(shelf: Shelf, drawn: dict[str, list[PracticeCase]]):
    """The four points make 100, and the total is their sum."""
    marks = marked(shelf, drawn["choux"][0], "careless")
    assert [point.id for point in marks.points] == ["cause", "reason", "rescue", "thrift"]
    assert [point.most for point in marks.points] == [40, 20, 20, 20]
    assert marks.total == sum(point.got for point in marks.points)


def test_a_wrong_cause_does_not_pass_whatever_else(choux: Reasoner, clear: PracticeCase):
    """With every rescue right and no time spent, a wrong cause still fails, and thrift earns nothing."""
    play = Round(choux, clear)
    assert clear.program.remedy is not None
    play.take(clear.program.remedy)
    marks = decide(play, "door_opened")
    assert not marks.passed
    points = {point.id: point.got for point in marks.points}
    assert points["cause"] == points["thrift"] == 0
    assert "Cool air" not in marks.parts
    assert marks.parts


def test_waste_costs_marks(choux: Reasoner, clear: PracticeCase):
    """Looking at everything first finds the cause and loses all marks for minutes and pieces."""
    play = Round(choux, clear)
    for line in play.looks():
        play.look(line.sign)
    marks = decide(play, clear.causes[0])
    points = {point.id: point for point in marks.points}
    assert points["cause"].full
    assert points["thrift"].got == 0
    assert f"{clear.program.minutes:g} minutes" in points["thrift"].say


def test_stopping_too_early_is_told_with_what_to_ask(choux: Reasoner, clear: PracticeCase):
    """A verdict without a look is told the question that was still worth it."""
    marks = decide(Round(choux, clear), clear.causes[0])
    (step,) = marks.steps
    assert step.ask == ""
    assert step.best_sign == clear.program.asked[0]
    assert "not settled" in step.why.casefold()


def test_going_on_too_long_is_told(choux: Reasoner, clear: PracticeCase):
    """A look after the matter was settled is told as one too many."""
    play = Round(choux, clear)
    for sign in clear.program.asked:
        play.look(sign)
    more = next(line.sign for line in play.looks() if not line.done)
    play.look(more)
    last = decide(play, clear.causes[0]).steps[-1]
    assert last.settled_before
    assert not last.good


def test_a_poor_question_is_told_the_best_one(choux: Reasoner, clear: PracticeCase):
    """After a look that tells little, the best question there is named, with why and what it costs."""
    conclusion = choux.reason(clear.start())
    ranked = choux.ranked_questions(conclusion)
    poor = ranked[-1].sign
    play = Round(choux, clear)
    play.look(poor)
    step = decide(play, clear.causes[0]).steps[0]
    assert not step.good
    assert step.best_sign == ranked[0].sign
    assert "minutes" in step.why


def test_either_of_two_mistakes_is_right_and_the_other_is_told(choux: Reasoner, drawn: dict[str, list[PracticeCase]]):
    """With two at work, naming one earns the mark, and the other is named; naming both is noticed."""
    case = next(case for case in drawn["choux"] if len(case.causes) == 2)
    first, second = case.causes
    names = [choux.family.causes[cause].name for cause in case.causes]
    for named, other in ((first, names[1]), (second, names[0])):
        point = decide(Round(choux, case), named).points[0]
        assert point.full
        assert other in point.say
    play = Round(choux, case)
    play.decide(first, second)
    assert "both" in play.choose(1).points[0].say


@pytest.mark.parametrize("point", ["cause", "reason", "rescue", "thrift"])
def test_sentences_are_short_and_plain(shelf: Shelf, drawn: dict[str, list[PracticeCase]], point: str):
    """No point is empty, shouts, or has a placeholder left in it."""
    for name in ("careless", "perfect"):
        for case in drawn["choux"]:
            said = next(p.say for p in marked(shelf, case, name).points if p.id == point)
            assert said
            assert "{" not in said
            assert "!" not in said


def test_marks_name_what_was_at_work_and_why(choux: Reasoner, clear: PracticeCase):
    """The marks hold the cause's name and its whole chain of why."""
    marks = perfect(choux, clear, np.random.default_rng(1))
    assert marks.causes == clear.causes
    assert len(marks.chains[0]) == len(choux.family.causes[clear.causes[0]].why)
