"""The kitchen's profile stands in the settings, holds at once, and is used where it matters."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLineEdit

from troubleshoot import settings as kept_settings
from ui.widgets.basic import Option


def line(person, name: str) -> QLineEdit:
    """Return the line of the profile of that name."""
    return next(f for f in person.window.findChildren(QLineEdit) if f.accessibleName() == name and f.isVisible())


def write(person, name: str, text: str) -> None:
    """Write a line of the profile and press Enter."""
    edit = line(person, name)
    edit.setFocus()
    edit.selectAll()
    person.type(text)
    person.press(Qt.Key.Key_Return)


def test_a_line_holds_at_once_and_is_kept(person):
    """A height in feet is taken, kept, and shown in metres; emptied, it is taken back."""
    person.window.go("settings")
    write(person, "Height above the sea", "4500 ft")
    assert kept_settings.load().settings.altitude_m == 1371.6
    assert line(person, "Height above the sea").text() == "1371.6"
    edit = line(person, "Height above the sea")
    edit.clear()
    person.press(Qt.Key.Key_Return)
    assert kept_settings.load().settings.altitude_m is None


def test_what_cannot_be_is_said_and_the_line_keeps_what_stood_there(person):
    """A strip says what is possible; the line shows what holds."""
    person.window.go("settings")
    write(person, "Height above the sea", "500")
    write(person, "Height above the sea", "90 km")
    assert line(person, "Height above the sea").text() == "500"
    assert person.sees("from -400 m to 5000 m")
    assert kept_settings.load().settings.altitude_m == 500


def test_choices_of_the_profile_hold_at_once(person):
    """A class of egg is chosen with one press."""
    person.window.go("settings")
    name = "Eggs you buy: large (L)"
    option = next(o for o in person.window.findChildren(Option) if o.accessibleName() == name)
    person.window.stack.currentWidget().sheet.ensureWidgetVisible(option)
    person.click(option)
    assert kept_settings.load().settings.egg_class == "L"


def test_the_height_answers_its_question_and_can_be_changed(open_window):
    """The answer stands among the answered as if it had been given, and its question can be shown."""
    person = open_window(altitude_m=1500)
    person.to_question("flat")
    assert person.interview.state.answers["height_asl"].value == 1500
    assert any(answered.sign == "height_asl" for answered in person.interview.answered())
    person.desk.act(lambda: person.interview.show("height_asl"))
    person.desk.act(lambda: person.interview.answer(100.0))
    assert person.interview.state.answers["height_asl"].value == 100


def test_a_case_is_not_begun_by_the_profile_alone(open_window):
    """Looking at a family's complaints leaves nothing unfinished behind."""
    person = open_window(altitude_m=1500)
    person.desk.act(lambda: person.interview.choose_family("choux"))
    assert not person.interview.state.answers


def test_amounts_begin_with_the_kitchens_own_values(open_window):
    """The height stands in its field from the start."""
    person = open_window(altitude_m=1500)
    person.window.go("amounts")
    person.window.stack.currentWidget().open("peel_end_point")
    person.settle()
    assert line(person, "Height above the sea (m)").text() == "1500"
    assert person.sees("Water boils at: 95 °C")


def test_degrees_of_the_profile_follow_the_scale(open_window):
    """The house's own cold limit is shown in the scale that is chosen, and means the same."""
    person = open_window(own_cold_c=5.0)
    person.window.go("settings")
    assert line(person, "Your own cold limit").text() == "5"
    person.click(next(o for o in person.window.findChildren(Option) if o.accessibleName() == "Temperatures in: °F"))
    assert line(person, "Your own cold limit").text() == "41"
    assert kept_settings.load().settings.own_cold_c == 5.0
