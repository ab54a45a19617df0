"""What a kitchen's confirmed cases do to the ranking."""

from __future__ import annotations

import numpy as np
import pytest
from small_cases import concluded

from troubleshoot.inference.habits import learn


def test_the_update_is_the_closed_form_of_the_dirichlet():
    """Prior Dirichlet(40 * (0.1, 0.3, 0.6)) = (4, 12, 24); counts 7, 0, 5 make (11, 12, 29) of 52."""
    found = learn("choux", {"a": 1.0, "b": 3.0, "c": 6.0}, {"a": 7, "c": 5}, 40.0)
    assert found.shares() == {"a": pytest.approx(11 / 52), "b": pytest.approx(12 / 52), "c": pytest.approx(29 / 52)}
    assert found.confirmed == 12
    assert (found.by_cause["a"].count, found.by_cause["a"].of) == (7, 12)
    assert found.by_cause["a"].before == pytest.approx(0.1)


def test_the_update_equals_the_mean_of_drawn_posteriors():
    """The mean of 200,000 draws from the updated Dirichlet agrees to three standard errors (under 0.0004)."""
    common, counts = np.array([1.0, 3.0, 6.0]), np.array([7, 0, 5])
    draws = np.random.default_rng(1).dirichlet(40.0 * common / common.sum() + counts, 200_000)
    found = learn("choux", dict(zip("abc", common, strict=True)), {"a": 7, "c": 5}, 40.0)
    assert list(found.shares().values()) == pytest.approx(draws.mean(axis=0), abs=4e-4)


def test_one_step_or_many_give_the_same():
    """Learning twelve cases at once is learning them one after another."""
    common = {"a": 1.0, "b": 3.0}
    shares, weight = learn("f", common, {}, 40.0).shares(), 40.0
    for cause in "aababbaaaaab":
        shares = learn("f", shares, {cause: 1}, weight).shares()
        weight += 1.0
    at_once = learn("f", common, {"a": 8, "b": 4}, 40.0).shares()
    assert shares == {cause: pytest.approx(share) for cause, share in at_once.items()}


def test_a_cause_the_rules_no_longer_hold_is_left_out():
    assert learn("f", {"a": 1.0, "b": 1.0}, {"gone": 9, "a": 1}, 40.0).confirmed == 1


def test_figures_worth_nothing_are_refused():
    with pytest.raises(ValueError, match="worth something"):
        learn("f", {"a": 1.0}, {}, 0.0)


def test_no_confirmed_case_leaves_every_probability_as_it_was(choux):
    """With no counts the shares are the rule base's own, and so is the verdict."""
    plain = concluded(choux, "paste_runny", paste_hang="runs_off")
    heeding = choux.heeding(learn("choux", _common(choux), {}, 40.0))
    same = concluded(heeding, "paste_runny", paste_hang="runs_off")
    assert [(s.cause, pytest.approx(s.probability)) for s in plain.suspects] == [
        (s.cause, s.probability) for s in same.suspects
    ]


def test_what_keeps_coming_back_becomes_likelier(choux):
    """After 20 confirmed cases of one cause it stands higher than before; the first reasoner is as it was."""
    before = concluded(choux, "paste_runny").probability("egg_size_counted")
    heeding = choux.heeding(learn("choux", _common(choux), {"egg_size_counted": 20}, 40.0))
    assert concluded(heeding, "paste_runny").probability("egg_size_counted") > before
    assert concluded(choux, "paste_runny").probability("egg_size_counted") == before
    assert choux.habits is None


def test_odds_of_two_causes_move_as_their_shares_do(choux):
    """What the batch shows is not learnt: the odds of two single causes move by the ratio of their shares alone."""
    habits = learn("choux", _common(choux), {"egg_size_counted": 7, "egg_overdose": 1}, 40.0)
    heeding = choux.heeding(habits)
    column = {cause: 1 + choux.network.causes.index(cause) for cause in ("egg_size_counted", "egg_overdose")}
    old, new = (
        (concluded(r, "paste_runny").standing.posterior[column["egg_size_counted"]])
        / (concluded(r, "paste_runny").standing.posterior[column["egg_overdose"]])
        for r in (choux, heeding)
    )
    one, other = habits.by_cause["egg_size_counted"], habits.by_cause["egg_overdose"]
    assert new / old == pytest.approx((one.after / one.before) / (other.after / other.before))


def _common(reasoner):
    family = reasoner.family
    return {c: reasoner.vocabulary.how_common[family.causes[c].how_common] for c in reasoner.network.causes}
