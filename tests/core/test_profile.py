"""The profile of a kitchen is asked once, kept with the settings, and used in advice, amounts and interview."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from troubleshoot import cli, profile, settings, worked
from troubleshoot.advice.amounts import work_out
from troubleshoot.egg_classes import EGG_CLASSES
from troubleshoot.errors import AmountError
from troubleshoot.house_wording import HouseWording, egg_contents_g
from troubleshoot.interview.session import Session
from troubleshoot.kitchen.card import card
from troubleshoot.kitchen.inputs import CHOICES, INPUTS
from troubleshoot.settings import Settings

FULL = Settings(
    altitude_m=1500,
    oven_off_k=10,
    egg_class="us-large",
    flour_protein=11.5,
    creams=(18, 36, 48),
    chocolates=("milk", "compound"),
    food_rules="own",
    own_cold_c=4,
    own_out_h=2,
)


def test_the_profile_is_kept_with_the_settings(tmp_path):
    """What was said is there the next time, lists and all."""
    settings.save(FULL, tmp_path / "settings.json")
    assert settings.load(tmp_path / "settings.json") == settings.Loaded(FULL)


def test_settings_from_before_the_profile_still_hold(tmp_path):
    """A file without the profile is read, and nothing is said of the kitchen."""
    file = tmp_path / "settings.json"
    file.write_text('{"fahrenheit": true, "oven": "fan"}', encoding="utf-8")
    assert settings.load(file).settings == Settings(fahrenheit=True, oven="fan")


@pytest.mark.parametrize(
    "text",
    [
        '{"altitude_m": 90000}',
        '{"altitude_m": "high"}',
        '{"egg_class": "goose"}',
        '{"creams": [36, 200]}',
        '{"creams": ["rich"]}',
        '{"chocolates": ["ruby"]}',
        '{"food_rules": "moon"}',
        '{"own_cold_c": true}',
        '{"chocolates": [["dark"]]}',
    ],
)
def test_a_broken_profile_is_kept_aside(tmp_path, text):
    """A profile that makes no sense is kept under another name, and the usual settings hold."""
    file = tmp_path / "settings.json"
    file.write_text(text, encoding="utf-8")
    loaded = settings.load(file)
    assert loaded.settings == Settings()
    (kept,) = tmp_path.glob("settings.json.unreadable*")
    assert str(kept) in (loaded.message or "")


@pytest.mark.parametrize("field", profile.FIELDS, ids=lambda field: field.key)
@pytest.mark.parametrize("fahrenheit", [False, True])
def test_what_is_shown_can_be_typed_again(field, fahrenheit):
    """Typing what the profile shows changes nothing, and an empty line takes it back."""
    full = replace(FULL, fahrenheit=fahrenheit, oven="fan")
    again = profile.change(full, field.key, field.shown(full))
    assert getattr(again, field.setting) == pytest.approx(getattr(full, field.setting)) or again == full
    assert getattr(profile.change(full, field.key, ""), field.setting) == getattr(Settings(), field.setting)


@pytest.mark.parametrize(
    ("key", "text", "setting", "value"),
    [
        ("altitude", "4500 ft", "altitude_m", 1371.6),
        ("own_cold", "39.2 F", "own_cold_c", 4),
        ("own_out", "90 min", "own_out_h", 1.5),
        ("creams", "48 %, 36", "creams", (36, 48)),
        ("chocolates", "Dark, milk, dark", "chocolates", ("dark", "milk")),
        ("eggs", "xl", "egg_class", "XL"),
        ("oven_correction", "-18 F", "oven_off_k", -10),
        ("units", "°F", "fahrenheit", True),
    ],
)
def test_lines_are_read_with_units(key, text, setting, value):
    """Feet, Fahrenheit, minutes and lists become what the settings hold."""
    assert getattr(profile.change(Settings(), key, text), setting) == pytest.approx(value)


@pytest.mark.parametrize(
    ("key", "text", "said"),
    [
        ("altitud", "3", "did you mean 'altitude'"),
        ("altitude", "90 km", "from -400 m to 5000 m"),
        ("altitude", "3 kg", "length"),
        ("eggs", "goose", "there is no 'goose'"),
        ("creams", "36, 90", "from 3 % to 70 %"),
        ("chocolates", "ruby", "there is no 'ruby'"),
        ("units", "kelvin", "C or F"),
        ("oven_correction", "3 kg", "no difference"),
    ],
)
def test_what_cannot_be_is_refused_plainly(key, text, said):
    """One sentence says what is possible."""
    with pytest.raises(AmountError) as refused:
        profile.change(Settings(), key, text)
    assert said in str(refused.value)


def test_oven_settings_follow_the_dial():
    """An oven that runs 10 degrees hot is set 10 lower, and the words say whose dial it is."""
    assert FULL.wording().text("{oven:180}") == "170 °C (150 °C with the fan) on your dial"
    assert Settings().wording().text("{oven:180}") == "180 °C (160 °C with the fan)"
    assert FULL.wording().text("{c:50}") == "50 °C"


def test_eggs_are_counted_in_the_class_that_is_bought():
    """The weight decides, and the count and its words follow the class."""
    step = "Weigh {egg_wanted_g}, about {medium_eggs} medium eggs."
    figures = {"egg_wanted_g": 250.0, "medium_eggs": 5.0}
    assert FULL.wording().text(step, figures) == "Weigh 250 g, about 5 US large eggs."
    assert HouseWording(egg_class="S").text(step, figures) == "Weigh 250 g, about 6 small (S) eggs."
    assert Settings().wording().text(step, figures) == "Weigh 250 g, about 5 medium eggs."
    assert all(30 < egg_contents_g(name) < 75 for name in EGG_CLASSES)


def test_the_height_counts_as_told_and_can_be_changed(shelf):
    """The question about the height is answered as soon as a complaint is chosen; another answer wins."""
    session = Session(shelf)
    session.known, session.known_batch = profile.answers(FULL), profile.batch(FULL)
    session.choose_family("choux")
    assert not session.state.answers
    session.choose_fault("flat")
    assert session.state.answers["height_asl"].value == 1500
    assert "height_asl" not in session.state.asked
    session.volunteer("height_asl", 200.0)
    session.show_fault()
    session.choose_fault("flat")
    assert session.state.answers["height_asl"].value == 200
    session.choose_family("whipped-cream")
    session.choose_fault(None)
    assert dict(session.state.batch) == {"richer_percent": 48}


@pytest.mark.parametrize("family", ["choux", "shortbread", "whipped-cream", "melted-chocolate", "candied-peel"])
def test_every_family_takes_what_it_asks_and_no_more(shelf, family):
    """A profile never breaks a family that does not ask what it knows."""
    session = Session(shelf)
    session.known, session.known_batch = profile.answers(FULL), profile.batch(FULL)
    session.choose_family(family)
    session.choose_fault(None)
    assert set(session.state.answers) <= {"height_asl", "altitude"}


def test_amounts_begin_with_what_is_known(capsys):
    """The height of the kitchen is taken where none is typed, and said; JSON does not depend on the kitchen."""
    settings.save(FULL)
    assert cli.main(["amounts", "syrup_boiling_point", "sugar_percent=75"]) == 0
    out = capsys.readouterr().out
    assert "Height above the sea: 1500, from your kitchen's profile" in out
    assert "boils_c = 101.5" in out
    cli.main(["amounts", "syrup_boiling_point", "sugar_percent=75", "--json"])
    assert "altitude_m" not in json.loads(capsys.readouterr().out)["inputs"]
    known = profile.inputs(FULL)
    usual = {i.name: worked.usual_text(i, FULL.wording(), known) for i in card("time_out_own").inputs}
    assert (usual["cold_limit_c"], usual["out_limit_h"]) == ("4", "2")
    assert worked.usual_text(card("tempering_curve").inputs[0], FULL.wording(), known) == "milk"


def amounts_of(shelf, house: Settings, family: str, calculation: str) -> list[dict[str, float]]:
    """Return the figures of the remedies of a family that use a calculation, in a case of a house."""
    session = Session(shelf)
    session.known, session.known_batch = profile.answers(house), profile.batch(house)
    session.choose_family(family)
    session.choose_fault(None)
    using = [r for r in session.family.remedies.values() if any(a.by == calculation for a in r.amounts)]
    return [dict(work_out(remedy, session.state.case(), session.family.header).figures) for remedy in using]


def test_the_amounts_of_a_remedy_are_those_of_this_kitchen(shelf):
    """The richest cream in the house decides the grams of a blend, and the height where the last boil ends."""
    rich, lean = (
        amounts_of(shelf, replace(FULL, creams=(fat,)), "whipped-cream", "blend_up")[0]["rich_cream_g"]
        for fat in (48.0, 40.0)
    )
    assert lean > rich
    high, sea = (
        amounts_of(shelf, replace(FULL, altitude_m=height), "candied-peel", "peel_end_point")[0]["end_low_c"]
        for height in (1500.0, 0.0)
    )
    assert high == pytest.approx(sea - 5, abs=0.1)


def test_a_record_is_judged_by_the_rules_of_the_house(capsys):
    """A house with limits of its own need not type them: they are taken, and said."""
    settings.save(replace(FULL, food_rules="own", own_cold_c=3.0, own_out_h=0.5))
    assert cli.main(["amounts", "time_record", "readings=0 6, 20 6"]) == 0
    out = capsys.readouterr().out
    assert "Time left: 10 minutes" in out
    assert "Rules: own, from your kitchen's profile" in out
    assert "Cold limit of the house: 3, from your kitchen's profile" in out
    settings.save(replace(FULL, food_rules="us"))
    assert cli.main(["amounts", "time_record", "readings=0 6, 20 6"]) == 0
    assert "Time allowed in all: 6 hours" in capsys.readouterr().out


def test_every_known_input_is_one_of_the_calculations():
    """What the profile hands to the calculations has a name that they know."""
    everything = profile.inputs(replace(FULL, food_rules="us", oven="fan"))
    assert set(everything) <= set(INPUTS) | set(CHOICES)
    assert len(everything) == 10


def test_the_command_changes_all_or_nothing(capsys):
    """Changes are kept together; one that cannot be leaves everything as it was, in one line."""
    assert cli.main(["profile", "altitude=4500 ft", "eggs=L"]) == 0
    assert "altitude: Height above the sea: 1371.6" in capsys.readouterr().out
    assert cli.main(["profile", "eggs=S", "altitude=far"]) == 2
    err = capsys.readouterr().err
    assert len(err.strip().splitlines()) == 1
    assert settings.load().settings.egg_class == "L"
    assert cli.main(["profile", "eggs"]) == 2
    capsys.readouterr()
    assert cli.main(["profile", "altitude=", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["altitude"] is None
