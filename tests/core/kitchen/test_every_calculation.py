"""What every calculation promises, whatever it is fed within its bounds: figures or one sentence, and sound units."""

from __future__ import annotations

import inspect
import math
from collections.abc import Mapping

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from troubleshoot.errors import AmountError
from troubleshoot.kitchen.card import card
from troubleshoot.kitchen.inputs import Choice, Input
from troubleshoot.kitchen.outcomes import outcome
from troubleshoot.kitchen.registry import FUNCTIONS

NAMES = sorted(FUNCTIONS)

#: Parts of the names of figures that may lie below nothing: they say how far off, over or late something is.
SIGNED = ("off_", "over_", "_over", "margin", "_left_", "gain", "spread", "spare", "to_lost", "error", "to_limit",
          "to_failure", "altitude", "heat_kj")  # fmt: skip


def drawn(name: str) -> st.SearchStrategy[dict[str, float | str]]:
    """Return inputs of a calculation within their bounds."""
    inputs = {}
    for one in card(name).inputs:
        if isinstance(one.about, Input):
            inputs[one.name] = st.floats(one.about.low, one.about.high)
        else:
            inputs[one.name] = st.sampled_from(
                list(one.about.answers) if isinstance(one.about, Choice) else [one.usual]
            )
    return st.fixed_dictionaries(inputs)


@pytest.mark.parametrize("name", NAMES)
@given(data=st.data())
@settings(max_examples=40, suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much])
def test_it_gives_figures_or_one_sentence(name: str, data):
    """Whatever lies in the bounds gives finite figures or a plain refusal, and nothing that cannot be below nothing is."""
    inputs = data.draw(drawn(name))
    try:
        result = FUNCTIONS[name].call(**inputs)
    except AmountError as refused:
        said = str(refused)
    else:
        said = "."
        _all_sound(result, inputs)
    assert said.endswith(".")


def _all_sound(result: Mapping[str, float], inputs: Mapping[str, float | str]) -> None:
    for figure, value in result.items():
        assert math.isfinite(value), (figure, inputs)
        _, unit = outcome(figure)
        signed = any(part in f"_{figure}" for part in SIGNED) or unit in ("degC", "degF", "K")
        assert signed or value >= -1e-9, (figure, value, inputs)


#: Calculations with weights whose formula holds a weight, size or count of its own, so that they do not scale.
OWN_SCALE = {
    "drying_after_bake": "a drying rate that is known for pieces of 25 g",
    "eggs_needed": "whole eggs",
    "eggs_to_weigh": "whole eggs",
    "shells_from_paste": "whole pieces",
    "portions": "whole pieces",
    "grained_pan": "whole figures",
    "piece_size": "the third root of a weight",
    "time_constant": "grams against an area",
    "cream_for_pieces": "a count of pieces",
}


def grams_only(name: str) -> bool:
    """Return whether a calculation takes weights, and besides them nothing that has a size."""
    units = {one.about.unit for one in card(name).inputs if isinstance(one.about, Input)}
    return "g" in units and units <= {"g", "%", "ratio", "degC", ""} and name not in OWN_SCALE


@pytest.mark.parametrize("name", [name for name in NAMES if grams_only(name)])
@given(data=st.data(), times=st.floats(0.25, 4))
@settings(max_examples=25, suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much])
def test_weights_scale_and_shares_do_not(name: str, data, times: float):
    """With every weight so many times larger, weights, volumes and heats are as many times larger, and shares the same."""
    inputs = data.draw(drawn(name))
    weights = {one.name for one in card(name).inputs if isinstance(one.about, Input) and one.about.unit == "g"}
    larger = {key: value * times if key in weights else value for key, value in inputs.items()}
    try:
        before, after = FUNCTIONS[name].call(**inputs), FUNCTIONS[name].call(**larger)
    except AmountError:
        assume(False)
    for figure, value in before.items():
        grows = outcome(figure)[1] in ("g", "ml", "kJ") or figure == "seconds_at_1000_w"
        wanted = value * times if grows else value
        assert after[figure] == pytest.approx(wanted, rel=1e-9, abs=1e-6), figure


@pytest.mark.parametrize("name", NAMES)
def test_the_bounds_do_not_hide_what_the_calculation_allows(name: str):
    """At the usual values each optional input may be left out, and the figures are the same."""
    made = card(name)
    usual = {one.name: one.usual for one in made.inputs}
    needed = {one.name: one.usual for one in made.inputs if one.needed}
    defaults = {n: p.default for n, p in inspect.signature(FUNCTIONS[name].call).parameters.items() if n not in needed}
    assert all(usual[n] == default for n, default in defaults.items())
    assert FUNCTIONS[name].call(**needed) == FUNCTIONS[name].call(**usual)
