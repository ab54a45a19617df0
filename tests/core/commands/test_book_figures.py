"""``batchmend book figures``, ``seen`` and ``demo`` as they are typed."""

from __future__ import annotations

import json
from datetime import UTC, datetime, timedelta
from functools import partial
from xml.etree import ElementTree

import pytest

from troubleshoot import cli, resources
from troubleshoot.casebook import demo
from troubleshoot.casebook.record import GivenAnswer, Outcome, Record, Suspected
from troubleshoot.casebook.store import Book, Filter

CASE = resources.folder("rules") / "choux" / "cases" / "flat-over-egged.yaml"
MONDAY = datetime(2025, 6, 2, 9, tzinfo=UTC)


def case(number: int, cause: str, outcome: Outcome, true: str | None, lost: int, weeks: int = 0) -> Record:
    """A choux case that said 90 %."""
    at = MONDAY + timedelta(weeks=weeks, minutes=number)
    return Record(
        f"c{number}", "choux", at, at, "piped_spreads", "pipe", (GivenAnswer("paste_hang", "runs_off", None, at),),
        (Suspected(cause, 0.9),), True, "r1", outcome=outcome, true_cause=true, done=("bake_drop_puffs",),
        pieces=20, pieces_saved=20 - lost, pieces_lost=lost, minutes=30.0,
    )  # fmt: skip


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]):
    def runs(*words: str) -> tuple[int, str, str]:
        code = cli.main(["book", *words])
        out, err = capsys.readouterr()
        return code, out, err

    return runs


@pytest.fixture
def book() -> None:
    """Three choux cases: 12 pieces lost by too much egg in two, 4 by a cool oven that was taken for egg."""
    with Book.open() as opened:
        opened.add_all(
            [
                case(1, "egg_overdose", Outcome.RIGHT, "egg_overdose", 7),
                case(2, "egg_overdose", Outcome.NOT_KNOWN, None, 5),
                case(3, "egg_overdose", Outcome.WRONG, "oven_cool", 4, weeks=2),
            ]
        )


def test_an_empty_book_has_no_figures(run):
    assert run("figures") == (0, "No case fits.\n", "")


def test_figures_in_words(run, book):
    """Pieces lost by cause with shares, and how often the verdict was right."""
    code, out, _ = run("figures")
    assert code == 0
    assert out.startswith("3 cases: 16 pieces lost, 44 saved, 90 minutes.")
    assert "*     12  75%   75%  More egg went in than the panade can hold (Choux)" in out
    assert "1 of 2, 50% (95 % interval 9% to 91%); of 1 cases it is not known." in out


def test_figures_as_data(run, book):
    """12 of 16 pieces are 75 %; 90 % was said and half was right; two weeks of cases and one without."""
    data = json.loads(run("figures", "--json")[1])
    first, second = data["causes"]["pieces"]
    assert (first["cause"], first["pieces_lost"], first["share"], first["begin_with"]) == (
        "egg_overdose",
        12,
        0.75,
        True,
    )
    assert (second["cause"], second["together"]) == ("oven_cool", 1.0)
    assert (data["confirmed"]["right"], data["confirmed"]["wrong"], data["confirmed"]["not_known"]) == (1, 1, 1)
    assert [(step["stated"], step["right"]["value"]) for step in data["calibration"]] == [(0.9, 0.5)]
    assert [week["cases"] for week in data["weeks"]["weeks"]] == [2, 0, 1]
    assert data["cost"] == {"cases": 3, "pieces_counted_in": 3, "pieces_lost": 16, "pieces_saved": 44, "minutes": 90.0}


def test_figures_of_one_cause_only(run, book):
    assert json.loads(run("figures", "--json", "--cause", "oven_cool")[1])["cost"]["cases"] == 1


@pytest.mark.parametrize("chart", ["pieces", "cases", "minutes", "calibration", "weeks", "wrong", "cost"])
def test_every_chart_is_drawn_as_svg(run, book, tmp_path, chart):
    """The file is a picture, and drawing it again gives the same bytes."""
    for name in ("one.svg", "two.svg"):
        assert run("figures", "--chart", chart, "--to", str(tmp_path / name))[0] == 0
    assert ElementTree.parse(tmp_path / "one.svg").getroot().tag.endswith("svg")
    assert (tmp_path / "one.svg").read_bytes() == (tmp_path / "two.svg").read_bytes()


def test_a_chart_as_png(run, book, tmp_path):
    assert run("figures", "--chart", "weeks", "--to", str(tmp_path / "weeks.png"))[0] == 0
    assert (tmp_path / "weeks.png").read_bytes().startswith(b"\x89PNG")


def test_the_causes_of_a_chart_are_named_in_words(run, book, tmp_path):
    run("figures", "--chart", "pieces", "--to", str(tmp_path / "p.svg"))
    assert "More egg went in than the panade can" in (tmp_path / "p.svg").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--chart", "weeks"), "--chart and --to go together"),
        (("--chart", "weeks", "--to", "weeks.gif"), "neither .png nor .svg. Write weeks.svg"),
        (("--chart", "weeks", "--to", "/no/such/folder/weeks.svg"), "the chart cannot be written"),
    ],
)
def test_a_chart_that_cannot_be_drawn(run, book, words, said):
    code, _, err = run("figures", *words)
    assert code == 2
    assert said in err


def test_seen_before(run, book):
    """The case of too much egg is found, with what was done and whether it worked."""
    code, out, _ = run("seen", str(CASE))
    assert code == 0
    assert "c1, " in out
    assert "alike" in out
    assert "What worked:" in out
    data = json.loads(run("seen", str(CASE), "--json")[1])
    assert {one["id"] for one in data} == {"c1", "c2", "c3"}
    assert all(0.0 < one["alike"] <= 1.0 for one in data)
    assert {one["id"]: one["worked"] for one in data} == {"c1": True, "c2": False, "c3": False}


def test_nothing_seen_before(run):
    assert run("seen", str(CASE)) == (0, "Nothing like it is in the book.\n", "")


@pytest.fixture
def short_season(monkeypatch):
    """A season of few cases, so that nobody waits."""
    monkeypatch.setattr(demo, "season", partial(demo.season, weeks=1))


def test_the_demo_book_lies_apart_and_is_taken_away(run, short_season):
    """It is a file of its own full of invented cases; the kitchen's own book stays as it was."""
    code, out, _ = run("demo")
    assert code == 0
    assert f"batchmend book figures --book {demo.place()}" in out
    with Book.open(demo.place()) as made, Book.open() as own:
        number = made.count()
        assert number == made.count(Filter(invented=True)) > 0
        assert own.count() == 0
    assert run("demo", "--remove") == (0, f"{number} invented cases taken away.\n", "")
    assert not demo.place().exists()
    assert run("demo", "--remove")[1] == "There was no invented case.\n"


def test_invented_cases_go_into_the_own_book_only_when_asked(run, book, short_season):
    assert run("demo", "--into-mine")[0] == 0
    with Book.open() as own:
        assert own.count(Filter(invented=False)) == 3
        assert own.count(Filter(invented=True)) > 0
    run("demo", "--remove")
    with Book.open() as own:
        assert own.count() == 3


def test_a_true_case_in_the_demo_book_is_not_overwritten(run, short_season):
    with Book.open(demo.place()) as made:
        made.add(case(1, "egg_overdose", Outcome.NOT_KNOWN, None, 1))
    code, _, err = run("demo")
    assert code == 2
    assert "not invented" in err
    run("demo", "--remove")
    with Book.open(demo.place()) as made:
        assert [r.id for r in made.records()] == ["c1"]
