"""``batchmend amounts``: the list, the cards, the figures, JSON, plots, and one plain line for what cannot be."""

from __future__ import annotations

import json

import pytest

from troubleshoot import cli
from troubleshoot.kitchen.registry import FUNCTIONS
from troubleshoot.kitchen.tables import TABLES


def run(capsys, *words: str) -> tuple[int, str, str]:
    code = cli.main(["amounts", *words])
    out, err = capsys.readouterr()
    return code, out, err


def test_the_list_names_every_calculation_by_topic(capsys):
    """Every calculation is listed, under its topic."""
    code, out, _ = run(capsys)
    assert code == 0
    assert all(f"{name}:" in out for name in FUNCTIONS)
    assert all(f"{name}:" in out for name in TABLES)
    assert "Whipped cream\n" in out
    assert {row["name"] for row in json.loads(run(capsys, "--json")[1])} == set(FUNCTIONS)


def test_a_name_alone_shows_what_it_needs(capsys):
    """Inputs with units and bounds, formula, source and an example that works."""
    code, out, _ = run(capsys, "stiffen_with_panade")
    assert code == 0
    assert "flour_g: Flour, from 0 g to" in out
    assert "Formula: f = E / e - F" in out
    assert "Source: Worked" in out
    example = out.split("batchmend amounts ", 1)[1].split()
    assert run(capsys, *example)[0] == 0


def test_figures_come_with_words_formula_and_source(capsys):
    """A calculation with units gives figures in words, exact figures, formula, reach and source."""
    code, out, _ = run(capsys, "syrup_boiling_point", "sugar_percent=75", "altitude_m=4500 ft")
    assert code == 0
    assert "Boils at: 102 °C" in out
    assert "boils_c = 101.995" in out
    for head in ("Formula:", "Holds for:", "Source:"):
        assert head in out


def test_json_holds_inputs_in_their_own_units(capsys):
    """Ounces and Fahrenheit are turned before they are written down."""
    code, out, _ = run(capsys, "bowl_cooling", "chocolate_c=113 F", "wanted_c=31", "room_c=20", "--json")
    data = json.loads(out)
    assert code == 0
    assert data["inputs"]["chocolate_c"] == pytest.approx(45)
    assert set(data) == {"calculation", "inputs", "result", "about"}
    assert data["about"]["source"] == "Newton's law of cooling."


def test_a_calculation_without_inputs_is_done_at_once(capsys):
    """Nothing is asked where nothing is needed."""
    code, out, _ = run(capsys, "choux_remake_time")
    assert code == 0
    assert "To the oven: " in out


def test_a_plot_is_drawn_beside_the_figures(capsys, tmp_path):
    """The file is written and named."""
    file = tmp_path / "curve.svg"
    code, out, _ = run(capsys, "tempering_curve", "coating=dark", "--plot", str(file))
    assert code == 0
    assert file.stat().st_size > 1000
    assert "curve.svg" in out.replace("\n", "")


@pytest.mark.parametrize("name", TABLES)
def test_a_table_is_printed_with_its_sources(capsys, name):
    """Each group and its source are there, in words and as data, without a placeholder."""
    code, out, _ = run(capsys, name)
    assert code == 0
    flat = " ".join(out.split())
    table = TABLES[name]()
    assert all(group.heading in flat for group in table.groups)
    assert "Source: " in flat
    assert "{" not in out
    data = json.loads(run(capsys, name, "--json")[1])
    assert [group["heading"] for group in data["groups"]] == [group.heading for group in table.groups]


def test_a_record_of_readings_brings_its_own_scale(capsys, tmp_path):
    """A temperature may be in °F, the rules are chosen, and the record is drawn."""
    words = ("time_record", "readings=12:30 39.2F, 13:00 48.2 F, 14:00 57.2 F", "scheme=us")
    code, out, _ = run(capsys, *words, "--plot", str(tmp_path / "record.png"))
    assert code == 0
    assert "Time above the cold limit: 84 minutes" in out
    assert "Throw it away at the latest after: 6 hours 6 minutes" in out
    assert (tmp_path / "record.png").stat().st_size > 1000
    data = json.loads(run(capsys, *words, "--json")[1])
    assert data["inputs"]["readings"] == "12:30 4, 13:00 9, 14:00 14"


def test_the_card_of_a_record_gives_an_example_that_can_be_pasted(capsys):
    """A value with spaces stands in quotes."""
    assert "time_record readings='0 4, 30 9, 90 14'" in " ".join(run(capsys, "time_record")[1].split())


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (
            ("blend_up", "cream_g=500", "fat_percent=30", "richer_percent=48", "wanted_percent=50"),
            "between 30 % and 48 %",
        ),
        (("probe_check", "ice_c=0", "boiling_c=300"), "from 50 °C to 120 °C"),
        (("boiling_point_at_altitude", "altitude_m=40000 ft"), "from -500 m to 5000 m"),
        (("gas_mark_to_celsius", "gas_mark=12"), "from 0.25 to 9"),
        (("egg_to_flour", "egg_g=250", "flour_g=150", "sugar=1"), "no input 'sugar'"),
        (("egg_to_flour", "egg_g"), "not key=value"),
        (("egg_to_flour", "egg_g=", "flour_g=1"), "not key=value"),
        (("tempering_curve", "coating=ruby"), "dark"),
        (("egg_to_flour", "egg_g=1", "flour_g=2", "--plot", "x.svg"), "no plot"),
        (("egg_to_flower",), "did you mean 'egg_to_flour'?"),
        (("storage-tabel",), "did you mean 'storage-table'?"),
        (("storage-table", "x=1"), "takes no inputs"),
        (("storage-table", "--plot", "x.svg"), "has no plot"),
        (("egg_to_flour", "250", "150"), "quotes round a value with a space"),
        (("egg_to_flour", "egg_g=250", "egg_g=300", "flour_g=1"), "stands twice"),
        (("egg_to_flour", "egg_g=250 ml", "flour_g=1"), "a weight is wanted"),
        (("egg_to_flour", "egg_g=1e400", "flour_g=1"), "write g, oz, C, F"),
        (("egg_to_flour", "egg_g=250", "flour_g=1e-9"), "Write one number"),
        (("egg_to_flour", "egg_g=250", "flour_g=0"), "more than 0 g"),
        (("gas_mark_to_celsius", "gas_mark=180 C"), "Write it without '°C'"),
        (("time_record", "readings=hello"), "Write a time and a temperature"),
        (("time_record", "readings=0 4, 30 9", "scheme=mars"), "own, uk, us"),
        (("label_check", "standard=eu_chocolat"), "did you mean 'eu_chocolate'"),
        (("bowl_rewarming", "chocolate_c=27", "wanted_c=36", "bath_c=40"), "Above 34.5 °C"),
        (("altitude_from_boiling", "boils_c=70"), "from 83.3 °C to 101.6 °C"),
        (("saturation_temperature", "sugar_percent=50"), "from 64.2 % to 82.9 %"),
        (("growth_margins", "activity=1.2"), "from 0 to 1"),
    ],
)
def test_what_cannot_be_is_one_plain_line(capsys, words, said):
    """Impossible, out of range or unknown: one line that says what is possible; exit 2."""
    code, out, err = run(capsys, *words)
    assert code == 2
    assert out == ""
    assert said in err
    assert len(err.strip().splitlines()) == 1
