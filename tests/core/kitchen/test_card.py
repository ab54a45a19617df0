"""Every calculation has a card that a person can read: what it does, formula, units, source, inputs, figures."""

from __future__ import annotations

import inspect

import pytest

from troubleshoot.kitchen.card import TOPICS, card, topics
from troubleshoot.kitchen.inputs import CHOICES, INPUTS, PARTICULAR, RECORDS, Choice, Input, input_of
from troubleshoot.kitchen.outcomes import outcome
from troubleshoot.kitchen.registry import FUNCTIONS

NAMES = sorted(FUNCTIONS)


@pytest.mark.parametrize("name", NAMES)
def test_the_card_is_whole(name: str):
    """No card lacks its sentence, formula or source; nothing of the program's own writing shows in it."""
    made = card(name)
    for text in (made.title, made.does, made.formula, made.source):
        assert text.strip()
    texts = " ".join((made.does, made.formula, made.units, made.limits, made.errors, made.source, made.contested))
    assert not any(mark in texts for mark in ("`", ":func:", ":data:", "tests/", "Return "))
    assert made.topic in TOPICS


@pytest.mark.parametrize("name", NAMES)
def test_the_usual_values_give_figures_with_names(name: str):
    """The values that stand in the fields at first lie in their bounds, and every figure they give has a name."""
    made = card(name)
    for given in made.inputs:
        if isinstance(given.about, Input):
            assert given.about.low <= float(given.usual) <= given.about.high, given.name
        elif isinstance(given.about, Choice):
            assert given.usual in given.about.answers, given.name
    result = FUNCTIONS[name].call(**{given.name: given.usual for given in made.inputs})
    words = [outcome(figure) for figure in result]
    assert len(set(words)) == len(words) > 0
    assert all(text and text[0].isupper() for text, _ in words)


def test_no_line_of_the_table_of_inputs_is_unused():
    """Each input has one line, and each line an input."""
    used = {name for function in FUNCTIONS.values() for name in function.parameters}
    assert used == set(INPUTS) | set(CHOICES) | set(RECORDS)
    assert all(parameter in FUNCTIONS[name].parameters for name, parameter in PARTICULAR)


@pytest.mark.parametrize("name", NAMES)
def test_the_end_of_a_name_and_its_unit_agree(name: str):
    """An input whose name ends in a unit is measured in that unit."""
    endings = {
        "_g": "g",
        "_c": "degC",
        "_min": "min",
        "_mm": "mm",
        "_percent": "%",
        "_k": "K",
        "_m": "m",
        "_kpa": "kPa",
    }
    for parameter in inspect.signature(FUNCTIONS[name].call).parameters:
        about = input_of(name, parameter)
        if not isinstance(about, Input):
            continue
        wanted = next((unit for end, unit in endings.items() if parameter.endswith(end)), None)
        if wanted is not None and not parameter.endswith("_g_k"):
            assert about.unit == ("" if parameter == "transfer_w_m2_k" else wanted), parameter


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("word", list(CHOICES))
def test_every_word_that_can_be_chosen_is_known_to_the_calculation(name: str, word: str):
    """No answer of a list of words is refused by the calculation that offers it."""
    made = card(name)
    if word not in {given.name for given in made.inputs}:
        return
    for answer in CHOICES[word].answers:
        inputs = {given.name: answer if given.name == word else given.usual for given in made.inputs}
        assert FUNCTIONS[name].call(**inputs) is not None


def test_the_topics_hold_every_calculation_once():
    """Listed by topic, no calculation is lost or stands twice."""
    listed = [made.name for cards in topics().values() for made in cards]
    assert sorted(listed) == NAMES
