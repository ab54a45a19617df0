"""Every published row on cream, eggs and chocolate that a calculation gives or the kitchen keeps, against it.

The rows, their sources and the tolerance that each source supports stand in rows/.
"""

from __future__ import annotations

import pytest
from published_rows import by_name, compared, kept, near

from troubleshoot.kitchen import chocolate, choux, cream, cream_checks, eggs, labels


def cream_name(row, at):
    """A cream of that fat may bear the name, and one just under it may not."""
    near(row, cream.NAMES[at["cream_name"]])
    assert cream_checks.cream_by_name(row["value"], at["cream_name"])["over_least_percent"] == 0
    assert not cream.may_be_called(at["cream_name"], row["value"] - 0.1)


def cream_name_span(row, at):
    """The span begins at the name's least fat and ends where the next richer name begins."""
    low, high = row["value"]
    assert cream.NAMES[at["cream_name"]] == low
    assert high in [fat for name, fat in cream.NAMES.items() if name.startswith("us_")]


def whips(row, at):
    """Whipping creams reach the least fat that whips, milk and coffee creams do not."""
    over = cream_checks.whipping_fat(row["value"]["fat"])["over_least_percent"]
    assert (over >= 0) is at["whips"]


def fat_of_couverture(row, at):
    """Dark chocolate with that much fat is couverture, when its fat is cocoa butter."""
    fat = row["value"]["fat"]
    label = {"cocoa_butter_percent": fat, "fat_free_cocoa_percent": at["cocoa_solids"] - fat}
    found = labels.label_check("eu_couverture", cocoa_solids_percent=at["cocoa_solids"], **label)
    assert found["parts_short"] == 0


def bears_cream_name(row, at):
    """Cream as it is sold has the fat that its name wants."""
    assert cream.may_be_called(at["cream_name"], row["value"])


def shell_of_water(row, at):
    """A shell of that much water weighs the share of its paste of 60 % water that is told."""
    baked = 100 * 0.4 / (1 - row["value"]["water"] / 100)
    assert choux.baked_to_piped(100, baked)["shell_ratio"] == pytest.approx(at["shell_ratio"], abs=row["within"])


def large_eggs_in(row, at):
    """So many large eggs make the weight, and the next whole egg is cracked."""
    contents = eggs.US_CONTENTS_G["large"]
    assert at["eggs"] * contents == pytest.approx(row["value"], abs=0.01)
    assert eggs.eggs_needed(row["value"], contents)["eggs"] == 5


def us_egg_class(row, at):
    """Ounces for a dozen, and one egg in grams."""
    near(row, eggs.US_OUNCES_PER_DOZEN[at["us_class"]])
    assert eggs.us_minimum_g(at["us_class"]) == pytest.approx(at["grams"], abs=0.05)


def us_egg_contents(row, at):
    """The weight without shell, which 0.88 of the class minimum comes within 2 % of."""
    near(row, eggs.US_CONTENTS_G[at["us_class"]])
    worked = eggs.egg_without_shell(eggs.us_minimum_g(at["us_class"]))["contents_g"]
    assert worked == pytest.approx(row["value"], rel=0.02)


def eu_egg_class(row, at):
    """An egg is of the class from its lower limit on and no longer at the upper one."""
    low, high = row["value"] if isinstance(row["value"], list) else (row["value"], None)
    assert eggs.eu_class(low or 1) == at["eu_class"]
    if high is not None:
        assert eggs.eu_class(high - 0.01) == at["eu_class"]
        assert eggs.eu_class(high) != at["eu_class"]


def span(row, found) -> None:
    for value, wanted in zip(found, row["value"], strict=True):
        near(row, value, wanted)


def label(row, at):
    """At the published shares the name may be borne; any one a tenth lower and it is that part which is short."""
    least = row["value"]
    assert labels.STANDARDS[at["standard"]].least == least
    roomy = {**least, **({"cocoa_solids": 60} if {"cocoa_solids", "cocoa_butter"} <= set(least) else {})}
    assert labels.bears_name(at["standard"], roomy)
    for part, share in least.items():
        if part != "cocoa_solids" or share - 0.1 >= roomy.get("cocoa_butter", 0) + roomy.get("fat_free_cocoa", 0):
            assert [s.part for s in labels.shortfalls(at["standard"], {**roomy, part: share - 0.1})] == [part]


def form_within(row, at):
    """Each of the forms melts in the published span, give or take what copies of the table differ by."""
    low, high = row["value"]
    for form in at["forms"]:
        assert low - row["within"] <= chocolate.FORMS[form] <= high + row["within"]


def temper_span(row, at):
    """The published span lies inside the one kept."""
    low, high = row["value"] if isinstance(row["value"], list) else (row["value"], row["value"])
    curve = chocolate.tempering_curve(at["coating"])
    assert curve[f"{at['step']}_low_c"] <= low <= high <= curve[f"{at['step']}_high_c"]


def melt_at_most(row, at):
    """No kind is melted hotter than the source allows."""
    for coating in at["coatings"]:
        near(row, chocolate.tempering_curve(coating)["melt_high_c"])


def heat_of_melting(row, at):
    """A kilogram takes so many kilojoules beside the warming."""
    melt = chocolate.heat_to_melt(1000, 20, 45, at["coating"])["heat_kj"]
    near(row, melt - chocolate.heat_to_warm(1000, 20, 45)["heat_kj"])


COMPARISONS = {
    "cream_name": cream_name,
    "cream_name_span": cream_name_span,
    "whips_from": lambda row, at: near(row, cream.WHIPS_FROM_PERCENT),
    "whips": whips,
    "part_of_food": lambda row, at: near(row, _share(kept(at["kept"])), row["value"][at["part"]]),
    "dry_part_of_food": lambda row, at: near(row, 100 * kept(at["kept"]), 100 - row["value"]["water"]),
    "fat_of_couverture": fat_of_couverture,
    "bears_cream_name": bears_cream_name,
    "shell_of_water": shell_of_water,
    "large_eggs_in": large_eggs_in,
    "us_egg_class": us_egg_class,
    "us_egg_contents": us_egg_contents,
    "eu_egg_class": eu_egg_class,
    "eu_egg_contents": lambda row, at: span(row, eggs.eu_contents_g(at["eu_class"])),
    "whipped_cup": lambda row, at: near(row, at["fluid_cup_g"] / 2),
    "cream_of_ml": lambda row, at: near(row, cream.CREAM_G_PER_ML * at["ml"]),
    "kept": lambda row, at: near(row, kept(at["kept"])),
    "kept_span": lambda row, at: span(row, kept(at["kept"])),
    "kept_times": lambda row, at: near(row, kept(at["kept"]) * at["times"]),
    "label": label,
    "form": lambda row, at: near(row, chocolate.FORMS[at["form"]]),
    "form_within": form_within,
    "temper_span": temper_span,
    "temper_lost": lambda row, at: near(row, chocolate.tempering_curve(at["coating"])["lost_above_c"]),
    "melt_at_most": melt_at_most,
    "heat_of_melting": heat_of_melting,
    "seized_water": lambda row, at: near(row, chocolate.liquid_for_seized(100)[at["span"]]),
}


def _share(figure: float) -> float:
    """Return a share in per cent; the kitchen keeps some as a part of one."""
    return figure if figure > 1 else 100 * figure


@pytest.mark.parametrize("row", compared("cream_and_eggs", "chocolate"))
def test_a_published_row_is_reproduced(row):
    """The calculation, or the figure that the kitchen keeps, is the published one within what its source supports."""
    by_name(row, COMPARISONS)
