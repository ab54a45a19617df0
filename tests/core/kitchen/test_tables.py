"""The tables beside the calculations: what keeps how long, fresh batches, allergens; and the plans behind them."""

from __future__ import annotations

import itertools
import re

import pytest

from troubleshoot.errors import AmountError
from troubleshoot.kitchen import allergens, plans, storage
from troubleshoot.kitchen.card import TOPICS
from troubleshoot.kitchen.safety import ALLERGENS_EU_UK, ALLERGENS_US
from troubleshoot.kitchen.service import schedule
from troubleshoot.kitchen.tables import TABLES

FAMILIES = {"choux", "shortbread", "whipped-cream", "melted-chocolate", "candied-peel"}


@pytest.mark.parametrize("name", TABLES)
def test_a_table_is_whole(name):
    """A table has its own id, a topic of the calculations, groups, and a source in each of them."""
    table = TABLES[name]()
    assert table.name == name
    assert table.topic in TOPICS
    assert table.preface.endswith(".")
    for group in table.groups:
        assert group.entries
        assert any(entry.source for entry in group.entries)


def test_every_row_of_what_keeps_is_in_its_table_with_its_source():
    """Nothing is lost between the rows and the table; where sources part both stand there."""
    entries = [entry for group in TABLES["storage-table"]().groups for entry in group.entries]
    assert len(entries) == len(storage.KEEPING)
    assert all(entry.source for entry in entries)
    contested = [row for row in storage.KEEPING if row.contested]
    assert len(contested) >= 6
    assert sum("Sources differ" in " ".join(entry.mind) for entry in entries) == len(contested)


# Food keeper guide of a US retail trade body and a state university: in days, weeks and months
@pytest.mark.parametrize(
    ("component", "way", "low", "high"),
    [
        ("Whipped cream, sweetened", "chilled", 0, storage.DAY),
        ("Whipped cream, sweetened", "frozen", storage.MONTH, 2 * storage.MONTH),
        ("Long-life cream, unopened", "chilled", 0, storage.MONTH),
        ("Baked shortbread", "chilled", 0, 2 * storage.MONTH),
        ("Baked shortbread", "frozen", 8 * storage.MONTH, 12 * storage.MONTH),
        ("Filled choux", "chilled", 0, 3 * storage.DAY),
        ("Raw whole egg, cracked", "chilled", 0, 2 * storage.DAY),
    ],
)
def test_published_times_stand_in_the_table(component, way, low, high):
    """Where a published table has the component its time stands, and never a longer one."""
    row = storage.keeps(component, way)
    assert (row.low_h, row.high_h) == (low, high)
    assert row.published


def test_what_can_be_made_ahead_is_there_for_each_component():
    """Raw dough, baked biscuits, unfilled shells, whipped cream, glazed pieces and peel are all in the table."""
    components = {row.component for row in storage.KEEPING}
    for wanted in ("Raw choux paste", "Shortbread dough", "Baked shortbread", "Unfilled choux shells",
                   "Whipped cream, plain", "Glazed filled pieces", "Candied peel in syrup"):  # fmt: skip
        assert wanted in components


@pytest.mark.parametrize("family", plans.PLANS)
def test_each_plan_can_be_worked_by_one_pair_of_hands(family):
    """Hands do one thing at a time, nothing begins before what it waits for, and free time and work make the whole."""
    steps = plans.plan_of(family)
    slots = {slot.name: slot for slot in schedule(steps)}
    assert all(slots[step.name].start_min >= slots[name].end_min for step in steps for name in step.after)
    busy = sorted((slot.start_min, slot.end_min) for slot in slots.values() if slot.hands)
    assert all(end <= start for (_, end), (start, _) in itertools.pairwise(busy))
    free = sum(end - begin for begin, end in plans.free_spells(steps))
    found = plans.remake_beside_rescue(family, 500)
    assert free + found["hands_min"] == pytest.approx(found["to_plate_min"])


def test_every_family_has_a_plan():
    """The plans are those of the five families."""
    assert set(plans.PLANS) == FAMILIES
    with pytest.raises(AmountError, match="choux, shortbread"):
        plans.plan_of("pie")


def test_a_plan_takes_as_long_as_the_remake_of_its_family(shelf):
    """The minutes of the plan are those that the rule base gives to a fresh batch."""
    for family in FAMILIES:
        remakes = [r for r in shelf.reasoner(family).family.remedies.values() if r.kind == "remake"]
        plate = plans.remake_beside_rescue(family, 500)["to_plate_min"]
        assert plate in {remedy.minutes for remedy in remakes}, family


def test_time_to_spare_and_a_rescue_beside_are_told():
    """Choux takes 75 minutes, 50 of them by itself in one spell: a rescue of 20 fits beside it, one of 60 does not."""
    found = plans.remake_beside_rescue("choux", 60, 20)
    assert (found["to_plate_min"], found["spare_min"]) == (75, -15)
    assert (found["free_min"], found["beside_left_min"]) == (50, 30)
    assert plans.remake_beside_rescue("choux", 60, 60)["beside_left_min"] < 0


def test_allergens_are_names_of_the_lists():
    """Every name is one of the EU and UK list, and its US name, where it has one, of the US list."""
    assert {row.family for row in allergens.ALLERGENS} == FAMILIES
    assert set(allergens.US_NAMES) == set(ALLERGENS_EU_UK)
    assert set(filter(None, allergens.US_NAMES.values())) == set(ALLERGENS_US)
    for row in allergens.ALLERGENS:
        assert {*row.always, *row.look_for} <= set(ALLERGENS_EU_UK)
        assert not set(row.always) & set(row.look_for)
        assert set(allergens.by_us_names(row.always)) <= set(ALLERGENS_US)


def test_an_unknown_component_or_name_names_the_known_ones():
    """What is not known is answered with what is."""
    with pytest.raises(AmountError, match="Choux, Shortbread"):
        allergens.allergens_of("Pie")
    with pytest.raises(AmountError, match="cereals containing gluten"):
        allergens.by_us_names(("wheat",))


def test_no_table_names_a_temperature_outside_its_placeholder():
    """Temperatures follow the scale of the kitchen, so none is written out."""
    for make in TABLES.values():
        texts = [t for g in make().groups for e in g.entries for t in (e.says, *e.mind)]
        assert not any(re.search(r"\d ?°|\d °?[CF]\b", text) for text in texts)
