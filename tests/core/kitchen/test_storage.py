"""What keeps how long: a table that is whole, agrees with itself, and is read in plain words."""

from __future__ import annotations

import pytest

from troubleshoot.errors import AmountError
from troubleshoot.kitchen import storage
from troubleshoot.kitchen.safety import LIMITS
from troubleshoot.kitchen.storage import DAY, KEEPING, MONTH, WAYS, WEEK, Keeping, keeps, span_in_words

FAMILIES = {"choux", "shortbread", "whipped-cream", "melted-chocolate", "candied-peel"}


def test_the_table_is_whole():
    """Every family and every way of keeping is there; no row stands twice; every row has its source and a note."""
    assert {row.family for row in KEEPING} == FAMILIES
    assert {row.way for row in KEEPING} == set(WAYS)
    assert len({(row.component, row.way) for row in KEEPING}) == len(KEEPING)
    for row in KEEPING:
        assert 0 <= row.low_h <= row.high_h
        assert row.source
        assert row.mind.endswith(".")
        assert "°" not in row.mind


def test_published_figures_come_first():
    """Where the storage table or a study has a figure, that figure stands, with its source."""
    assert keeps("Shortbread dough", "chilled").high_h == 4 * DAY
    assert keeps("Shortbread dough", "frozen").high_h == 2 * MONTH
    assert (keeps("Baked shortbread", "airtight").low_h, keeps("Baked shortbread", "airtight").high_h) == (
        2 * WEEK,
        3 * WEEK,
    )
    assert keeps("Butter, small packs", "chilled").high_h == 6 * MONTH
    assert keeps("Butter, small packs", "frozen").high_h == 12 * MONTH
    assert all(keeps(*row).published for row in [("Shortbread dough", "chilled"), ("Butter, small packs", "frozen")])


def test_out_of_the_cold_agrees_with_the_food_rules():
    """The table allows what the rules of both countries allow, and no more."""
    out = keeps("Anything with cream, out of the cold", "room").high_h
    assert out == LIMITS["us_out"].value == LIMITS["uk_out"].value


def test_frozen_keeps_longer_than_chilled_and_chilled_longer_than_room():
    """Colder never keeps shorter."""
    for row in KEEPING:
        for colder in ("chilled", "frozen"):
            warmer = {"chilled": "room", "frozen": "chilled"}[colder]
            if row.way == warmer:
                other = next((r for r in KEEPING if r.component == row.component and r.way == colder), None)
                assert other is None or other.high_h >= row.high_h


@pytest.mark.parametrize(
    ("low", "high", "said"),
    [
        (0, 2, "up to 2 hours"),
        (1, 4, "1 to 4 hours"),
        (0, DAY, "up to 1 day"),
        (8, DAY, "8 to 24 hours"),
        (DAY, 2 * DAY, "1 to 2 days"),
        (2 * WEEK, 3 * WEEK, "2 to 3 weeks"),
        (3 * DAY, WEEK, "3 to 7 days"),
        (0, MONTH, "up to 1 month"),
        (WEEK, 4 * WEEK, "1 to 4 weeks"),
        (2 * MONTH, 6 * MONTH, "2 to 6 months"),
    ],
)
def test_times_are_said_as_people_say_them(low, high, said):
    """Hours become days, weeks and months."""
    assert span_in_words(Keeping("x", "choux", "room", low, high, ".", "s")) == said


def test_what_is_not_known_is_said_plainly():
    """An unknown component or way names those that are known."""
    with pytest.raises(AmountError, match="Raw choux paste"):
        keeps("Pie", "frozen")
    with pytest.raises(AmountError, match="chilled, covered or frozen"):
        keeps("Ganache", "room")
    assert storage.KEEPING
