"""What to practise next: pairs that are due, then new ones, with the rival that was confused; no name is told."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, timedelta

from troubleshoot.inference.reason import Reasoner
from troubleshoot.practice.cases import draw_case
from troubleshoot.practice.finish import finished
from troubleshoot.practice.record import Finished
from troubleshoot.practice.round import Round
from troubleshoot.practice.schedule import cards, level_of, new_pairs, next_up, pair_of

NOW = datetime(2026, 3, 2, 12, 0, tzinfo=UTC)
Make = Callable[..., Finished]


def test_a_new_learner_meets_the_commonest_rivals(choux: Reasoner):
    """With an empty record the first pair of rivals by how common they are comes, at the first level."""
    first = next_up(choux, [], NOW)
    assert first.why == "new"
    assert first.pair == new_pairs(choux.family)[0]
    assert first.key.level == 1
    hidden = draw_case(choux, first.key).causes
    assert {*hidden, first.rival} == {first.pair.first, first.pair.second}


def test_a_confused_pair_comes_again_when_due(choux: Reasoner, made: Make):
    """A cause taken for another is practised with that other once the scheduler makes it due."""
    wrong = made(named="underbaked", rival="underbaked", passed=False, total=20)
    pair = pair_of("choux", "door_opened", "underbaked")
    assert next_up(choux, [wrong], NOW).pair != pair
    later = next_up(choux, [wrong], NOW + timedelta(days=3))
    assert (later.why, later.pair) == ("due", pair)
    assert later.key.code != wrong.code


def test_the_suggestion_names_no_cause(choux: Reasoner, made: Make):
    """Neither the words nor the code of a suggestion tell what is hidden."""
    wrong = made(named="underbaked", rival="underbaked", passed=False, total=20)
    for suggestion in (next_up(choux, [], NOW), next_up(choux, [wrong], NOW + timedelta(days=3))):
        for cause in (suggestion.pair.first, suggestion.pair.second):
            assert choux.family.causes[cause].name.casefold() not in suggestion.say.casefold()
            assert cause not in suggestion.key.code


def test_the_same_record_gives_the_same_suggestion(choux: Reasoner, made: Make):
    """Nothing is left to chance."""
    assert next_up(choux, [made()], NOW) == next_up(choux, [made()], NOW)


def test_a_pair_is_one_card_whichever_was_at_work(made: Make):
    """Taking A for B and B for A are reviews of one card."""
    rounds = [
        made(1, named="underbaked", rival="underbaked", passed=False),
        made(2, causes=("underbaked",), named="underbaked", rival="door_opened"),
    ]
    (card,) = cards(rounds).values()
    assert (card.reviews, card.wrong) == (2, 1)


def test_a_learner_goes_up_a_level_after_four_of_five(made: Make):
    """Three passed are too few; with four of the last five the next level comes; each family by itself."""
    rounds = [made(n, passed=n != 2) for n in range(1, 5)]
    assert level_of(rounds, "choux") == 1
    rounds.append(made(5))
    assert level_of(rounds, "choux") == 2
    assert level_of(rounds, "shortbread") == 1


def test_a_finished_round_keeps_what_it_was_told_from(choux: Reasoner):
    """A right cause is kept with the rival it was practised against, a wrong one with what was named."""
    suggestion = next_up(choux, [], NOW)
    case = draw_case(choux, suggestion.key)
    kept = {}
    for named in (case.causes[0], suggestion.rival, "oven_cool"):
        play = Round(choux, case)
        play.decide(named)
        play.choose(1)
        kept[named] = finished(play, NOW, "x", suggestion.rival)
    assert kept[case.causes[0]].rival == suggestion.rival
    assert kept[suggestion.rival].rival == suggestion.rival
    assert kept["oven_cool"].rival == "oven_cool"
    assert kept["oven_cool"].total == sum(kept["oven_cool"].points.values())
