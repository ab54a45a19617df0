"""The place of amounts: found by typing, worked as one types, with formula, source, limits, plots and plain refusals."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QLineEdit

from troubleshoot.kitchen.registry import FUNCTIONS
from troubleshoot.kitchen.tables import TABLES
from ui.amounts_list import ALLERGENS, SCHEDULE, STORAGE
from ui.widgets.basic import Option


@pytest.fixture
def place(person):
    """The place of amounts, gone to with the mouse."""
    person.click("Amounts")
    return person.window.stack.currentWidget()


def field(place, name: str) -> QLineEdit:
    """Return the field of that name."""
    return next(f for f in place.findChildren(QLineEdit) if f.accessibleName() == name and f.isVisible())


def test_every_calculation_is_listed(place):
    """The list holds every calculation and every table."""
    assert len(place.list.found()) == len(FUNCTIONS) + len(TABLES)


def test_a_sum_is_done_by_keyboard_alone(person, place):
    """Typing finds it, Enter opens it, the figures follow what is typed, Backspace goes back to where one was."""
    place.take_focus()
    person.type("stiffen panade egg ratio")
    person.press(Qt.Key.Key_Return)
    assert place.at == "stiffen_with_panade"
    assert QApplication.focusWidget() is field(place, "Flour (g)")
    assert person.sees("Extra flour: 31.8 g")
    person.press(Qt.Key.Key_A, Qt.KeyboardModifier.ControlModifier)
    person.type("5 oz")
    assert person.sees("Extra flour: 40.1 g")
    person.press(Qt.Key.Key_Left, Qt.KeyboardModifier.AltModifier)
    assert place.at is None
    assert place.list.search.text() == "stiffen panade egg ratio"
    assert [card.title for card in place.list.found()] == ["Stiffen with panade"]


def test_formula_limits_and_source_stand_beside_the_figures(person, place):
    """Nothing is asked to be believed."""
    place.open("syrup_boiling_point")
    person.settle()
    assert person.sees("Boils at: 106.7 °C")
    assert {"Formula", "Holds for", "Source"} <= set(person.texts())
    assert person.sees("0 to 98 %")
    assert person.sees("1912")


@pytest.mark.parametrize(
    ("name", "typed", "said"),
    [
        ("Wanted fat (%)", "60", "between 30 % and 48 %"),
        ("Wanted fat (%)", "160", "from 0 % to 100 %"),
        ("Cream (g)", "", "Type in what is missing: Cream"),
        ("Cream (g)", "12 degC", "weight is wanted"),
        ("Cream (g)", "<b>much</b>", "not a quantity"),
    ],
)
def test_what_cannot_be_says_what_is_possible(person, place, name, typed, said):
    """A refusal stands where the figures stood, and goes when the field is mended."""
    place.open("blend_up")
    field(place, name).setText(typed)
    person.settle()
    assert person.sees(said)
    assert not person.sees("Richer cream to add")
    field(place, name).setText("36" if name.startswith("Wanted") else "500")
    person.settle()
    assert person.sees("Richer cream to add: 250 g")


def test_words_are_chosen_and_an_optional_field_may_be_empty(person, place):
    """A choice changes the figures; a field with a value of its own may be left empty."""
    place.open("ganache_chocolate")
    person.settle()
    person.click(next(o for o in place.findChildren(Option) if o.accessibleName() == "Kind of chocolate: white"))
    assert person.sees("Chocolate, at least: 1000 g")
    place.open("seed_by_share")
    share = next(f for f in place.findChildren(QLineEdit) if "Share" in f.accessibleName())
    share.setText("")
    person.settle()
    assert person.sees("Seed: 100 g")


def test_the_plot_follows_the_figures_and_is_saved(person, place, tmp_path):
    """The batch's point moves with what is typed, is told in words, and the picture can be saved."""
    place.open("cooling_time")
    person.settle()
    assert place.plot is not None
    assert person.sees("Cold limit, United Kingdom (wanted): 8 °C")
    assert "Cooling" in place.plot.accessibleName()
    assert place.save_plot_as(tmp_path / "cooling.png")
    assert (tmp_path / "cooling.png").stat().st_size > 1000
    assert not place.save_plot_as(tmp_path / "no" / "cooling.png")
    assert any("not saved" in strip for strip in person.window.shown_strips())
    field(place, "Air or bath around (°C)").setText("30")
    person.settle()
    assert place.plot is None
    assert person.sees("never brings it to")


def test_degrees_follow_the_settings_at_once(person, place):
    """In Fahrenheit the fields, bounds, figures and plot are in °F, and a bare number is one."""
    place.open("cooling_time")
    person.window.go("settings")
    person.click(next(o for o in person.window.findChildren(Option) if o.accessibleName() == "Temperatures in: °F"))
    person.window.go("amounts")
    person.settle()
    first = field(place, "First temperature (°F)")
    assert first.text() == "140"
    assert person.sees("United States: 41 °F")
    place.open("gas_mark_to_celsius")
    person.settle()
    assert person.sees("350 °F")


def test_the_tables_say_what_keeps_and_what_goes_side_by_side(person, place):
    """The storage table has times and sources; the schedule says what runs beside what."""
    place.open(STORAGE)
    person.settle()
    assert person.sees("Chilled, covered: 2 to 4 days")
    assert person.sees("Food keeper tables")
    place.open(SCHEDULE)
    person.settle()
    assert person.sees("Choux: 75 minutes")
    assert person.sees("Beside it: heat oven.")
    place.open(ALLERGENS)
    person.settle()
    assert person.sees("Always: cereals containing gluten, eggs, milk")
    assert person.sees("By the US list: wheat, egg, milk.")


def test_the_list_comes_at_once_and_fills_while_one_reads(person, place):
    """The first cards are there at once, the others follow by themselves, in their order and in that of the Tab key."""
    place.list = None
    place.enter(stay=False)
    made = [e.card for group in place.list.groups for e in group.entries if e.card is not None]
    assert 0 < len(made) < len(FUNCTIONS) / 2
    person.wait(lambda: all(e.card is not None for group in place.list.groups for e in group.entries))
    cards = [e.card for group in place.list.groups for e in group.entries]
    place.list.search.setFocus()
    for card in cards[:5]:
        person.press(Qt.Key.Key_Tab)
        assert QApplication.focusWidget() is card


def test_looking_for_one_that_is_not_made_yet_finds_it(person, place):
    """A search does not wait for the list to be full, and what it finds stands in the order of the list."""
    place.list = None
    place.enter(stay=False)
    place.list.search.setText("syrup")
    person.settle()
    titles = [card.title for card in place.list.found()]
    place.list.search.setText("")
    person.settle()
    everything = [card.title for card in place.list.found()]
    assert titles == [title for title in everything if title in titles]
    assert len(everything) == len(FUNCTIONS) + len(TABLES)


def test_the_list_is_kept_while_a_calculation_is_open(person, place):
    """Coming back, the same list stands where it stood, with the focus on the calculation that was open."""
    kept = place.list
    place.open("dew_point")
    person.settle()
    person.press(Qt.Key.Key_Left, Qt.KeyboardModifier.AltModifier)
    person.settle()
    assert place.list is kept
    assert QApplication.focusWidget() is kept.card_of("dew_point")


def test_sources_that_part_are_told_in_the_window(person, place):
    """Both figures stand in the result, and what each source says beside it."""
    place.open("solubility")
    person.settle()
    assert person.sees("by the handbook table: 203.9 g")
    assert person.sees("by the newer line: 200.47 g")
    assert person.sees("Sources differ")
    assert person.sees("At 20 °C the table has 203.9 g")


def test_a_record_is_typed_and_judged_by_the_rules_that_are_chosen(person, place):
    """The figures and the plot follow the readings and the rules; what is no reading is said."""
    place.open("time_record")
    readings = field(place, "Readings, each a time and a temperature")
    readings.setText("0 4, 60 12, 120 12")
    person.settle()
    assert person.sees("Time left: 150 minutes")
    assert place.plot is not None
    person.click(next(o for o in place.findChildren(Option) if o.accessibleName() == "Rules: the United States"))
    assert person.sees("Time allowed in all: 6 hours")
    readings.setText("0 4, sixty")
    person.settle()
    assert person.sees("'sixty' is no reading")


def test_nothing_found_says_what_to_do(person, place):
    """A search without a match says so and how to go on."""
    place.list.search.setText("xyzzy")
    person.settle()
    assert place.list.found() == []
    assert person.sees("Try fewer letters")


def test_typing_does_not_pile_up_parts(person, place):
    """Old figures and plots go when new ones come."""
    place.open("cooling_time")
    counts = []
    for text in ("50", "51", "52", "53"):
        field(place, "First temperature (°C)").setText(text)
        person.settle()
        counts.append(len(place.findChildren(object)))
    assert counts[-1] == counts[0]
