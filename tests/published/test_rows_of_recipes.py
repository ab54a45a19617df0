"""Every published row on formulas, spans and mixtures that a calculation gives or the kitchen keeps, against it.

The rows, their sources and the tolerance that each source supports stand in rows/.
"""

from __future__ import annotations

import pytest
from published_rows import by_name, compared, kept, near

from troubleshoot.errors import AmountError
from troubleshoot.kitchen import balance, chocolate, choux, cream, cream_checks, eggs, paste_water, shortbread, syrup
from troubleshoot.kitchen.dough_sheet import butter_off_window


def ends(row) -> tuple[float, float]:
    """Return both ends of a row's span; a single figure is both."""
    value = row["value"]
    return (value[0], value[-1]) if isinstance(value, list) else (value, value)


def choux_formula(row, at):
    """The ratios printed beside a formula, its water, and that nothing in it is called unbalanced."""
    weights = {name: at[name] for name in ("flour_g", "liquid_g", "butter_g", "egg_g")}
    liquid, egg, fat, water, paste_percent = row["value"]
    ratios = balance.recipe_balance(**weights)
    near(row, ratios["liquid_ratio"], liquid)
    near(row, ratios["egg_ratio"], egg)
    near(row, ratios["fat_ratio"], fat)
    assert ratios["outside_spans"] == 0
    found = paste_water.total_water(**weights, milk_g=at["milk_g"], butter_water_percent=at["butter_water_percent"])
    assert found["water_to_flour_ratio"] == pytest.approx(water, abs=at["water_within"])
    assert found["water_off_ratio"] == pytest.approx(0, abs=at["water_within"])
    assert found["paste_water_percent"] == pytest.approx(paste_percent, abs=0.6)


def span(row, found) -> None:
    for value, wanted in zip(found, row["value"], strict=True):
        near(row, value, wanted)


def paste_water_span(row, at):
    """The driest and the wettest of the formulas' pastes."""
    formulas = [formula["at"] for formula in _rows("choux_formula")]
    names = ("flour_g", "liquid_g", "butter_g", "egg_g", "milk_g", "butter_water_percent")
    found = [paste_water.total_water(**{name: f[name] for name in names})["paste_water_percent"] for f in formulas]
    span(row, (min(found), max(found)))


def paste_loss(row, at):
    """What a batch loses on the stove and in bowls, in per cent of all that went in."""
    paste = choux.paste_weight(at["flour_g"], at["liquid_g"], at["butter_g"], at["egg_g"])
    near(row, 100 * (1 - (paste * (1 - choux.LEFT_IN_BOWLS) + 10) / at["batch_g"]))


def egg_limit(row, at):
    """At the published heat nothing is left of the margin."""
    near(row, row["value"] - eggs.egg_into_panade(row["value"])[at["figure"]])


def egg_span_under_limit(row, at):
    """The published span lies under the warmest that egg should meet."""
    assert all(eggs.egg_into_panade(celsius)["to_limit_k"] >= 0 for celsius in ends(row))


def baking_heat(row, at):
    """The heat at which they are put in is one at which no oven is called cool or hot."""
    low, high = choux.BAKING_SPAN_C
    assert all(low <= celsius <= high for celsius in ends(row))


def shell_of_water_percent(row, at):
    """A shell of that much water weighs the share of a paste of 60 % water that is told."""
    near(row, paste_water.water_to_drive_off(100, 60, row["value"])["shell_ratio"], at["shell_ratio"])


def bake_loss(row, at):
    """From the driest and from the wettest paste to the water of the shell."""
    pastes = (59.2, 68.0)
    span(row, [paste_water.water_to_drive_off(100, paste, **at)["loss_percent"] for paste in pastes])


def short_parts(row, at):
    """Butter and sugar to flour, by parts or by baker's per cent, are those of the plain dough."""
    parts = row["value"]
    found = shortbread.dough_balance(parts["flour"], parts["butter"], parts["sugar"])
    near(row, found["butter_ratio"], shortbread.BUTTER_TO_FLOUR)
    near(row, found["sugar_ratio"], shortbread.SUGAR_TO_FLOUR)


def least_fat(row, at):
    """At the published fat nothing is over, and just under it there is too little."""
    near(row, row["value"] - cream_checks.whipping_fat(row["value"])[at["figure"]])
    assert cream_checks.whipping_fat(row["value"] - 0.1)[at["figure"]] < 0


def overrun_pipes(row, at):
    """Kitchen figures lie in the span for piping, a laboratory's most air does not."""
    low, high = cream.PIPING_OVERRUN_PERCENT
    assert all((low <= percent <= high) is at["pipes"] for percent in ends(row))


def sugar_share(row, at):
    """So much sugar is that share, and is what is missing in plain cream."""
    grams = 5 * row["value"]
    near(row, cream.sugar_share(500, grams)["sugar_percent"])
    near(row, cream.sugar_to_add(500, 0, row["value"])["sugar_g"] / 5)


def gelatine_of_100_ml(row, at):
    """The dose for 100 ml as a share of the cream's weight."""
    share = cream.gelatine_share(100 * cream.CREAM_G_PER_ML, row["value"])["gelatine_percent"]
    near(row, share, at["percent"])


def ganache(row, at):
    """Each printed ratio lies in the span kept for its kind, for the use it is printed for or for one of the uses."""
    for kind, use, ratio in row["value"]:
        uses = [use] if use else ["glaze", "filling", "truffle"]
        spans = [chocolate.ganache_span(kind, one) for one in uses]
        assert any(low <= ratio <= high for low, high in spans), (kind, use, ratio)


def last_boil(row, at):
    """The printed end lies in the span for the last boil, give or take a degree."""
    end = syrup.peel_end_point(0)
    assert end["end_low_c"] - row["within"] <= row["value"] <= end["end_high_c"] + row["within"]


def candying_span(row, at):
    """Candying by steps may begin in the first published span and passes through the second."""
    strengths = [float(row["value"]["start"][0])]
    while strengths[-1] < 75:
        strengths.append(syrup.step_up(1000, strengths[-1])["next_percent"])
    low, high = row["value"]["end"]
    assert any(low <= strength <= high for strength in strengths)


def candying_steps(row, at):
    """Start, steps and end as printed."""
    now, end = float(row["value"]["start"]), row["value"]["end"]
    while now < end:
        step = row["value"]["step_to_65"] if now + row["value"]["step_to_65"] <= 65 else row["value"]["step_after"]
        following = syrup.step_up(1000, now)["next_percent"]
        assert following - now <= max(step, 5)
        now = following
    near(row, now, end)


def last_step(row, at):
    """The step before ends at the published strength, and nothing is stronger."""
    near(row, syrup.step_up(1000, row["value"] - 1)["next_percent"])
    with pytest.raises(AmountError, match="last step"):
        syrup.step_up(1000, row["value"])


def butter_state(row, at):
    """Chilled is too cold to cream, softened right, melted too warm."""
    sign = {"too cold": -1, "right": 0, "too warm": 1}[at["state"]]
    for celsius in ends(row):
        off = butter_off_window(celsius, "creaming")["off_k"]
        assert (off > 0) - (off < 0) == sign
        assert shortbread.butter_state(celsius, "creaming").value == at["state"]


def pearson_parts(row, at):
    """The parts are in the published relation."""
    shares = cream.pearson_square(**at)
    near(row, shares["rich_share"] * row["value"][1], shares["lean_share"] * row["value"][0])


def no_mixture(row, at):
    """What has no solution is said."""
    with pytest.raises(AmountError, match="No mixture can"):
        cream.pearson_square(**at)


COMPARISONS = {
    "choux_formula": choux_formula,
    "choux_span": lambda row, at: span(row, balance.SPANS[at["ratio"]]),
    "kept": lambda row, at: near(row, kept(at["kept"])),
    "kept_span": lambda row, at: span(row, kept(at["kept"])),
    "paste_water_span": paste_water_span,
    "paste_loss": paste_loss,
    "egg_limit": egg_limit,
    "egg_span_under_limit": egg_span_under_limit,
    "baking_heat": baking_heat,
    "shell_of_water_percent": shell_of_water_percent,
    "bake_loss": bake_loss,
    "short_parts": short_parts,
    "part_of_food": lambda row, at: near(row, kept(at["kept"]), row["value"][at["part"]]),
    "short_water": lambda row, at: near(row, shortbread.dough_water(3, 2, 1)["water_percent"]),
    "least_fat": least_fat,
    "pipes_at": lambda row, at: near(
        row, max(abs(cream_checks.whipping_fat(fat)["off_piping_percent"]) for fat in ends(row)), 0
    ),
    "whips_at_c": lambda row, at: near(row, max(abs(cream_checks.cream_off_cold(c)["off_k"]) for c in ends(row)), 0),
    "overrun": lambda row, at: near(row, cream.overrun(**at)["overrun_percent"]),
    "overrun_pipes": overrun_pipes,
    "sugar_share": sugar_share,
    "gelatine_of_100_ml": gelatine_of_100_ml,
    "ganache": ganache,
    "sugar_to_water": lambda row, at: near(row, syrup.syrup_from(**at)["sugar_to_water_ratio"]),
    "syrup_strength": lambda row, at: near(row, syrup.syrup_from(**at)["sugar_percent"]),
    "last_boil": last_boil,
    "candying_span": candying_span,
    "candying_steps": candying_steps,
    "last_step": last_step,
    "butter_state": butter_state,
    "flour_protein": lambda row, at: span(row, shortbread.FLOUR_PROTEIN[at["flour"]]),
    "egg_yolk_span": lambda row, at: span(row, (eggs.YOLK_THICKENS_C, eggs.YOLK_SETS_C)),
    "blend_down": lambda row, at: near(row, cream.blend_down(**at)["milk_g"]),
    "blend_up": lambda row, at: near(row, cream.blend_up(**at)["rich_cream_g"]),
    "pearson_parts": pearson_parts,
    "pearson_share": lambda row, at: near(row, cream.pearson_square(**at)["rich_share"]),
    "no_mixture": no_mixture,
}


def _rows(by: str):
    return [param.values[0] for param in compared("ratios") if param.values[0]["by"] == by]


@pytest.mark.parametrize("row", compared("ratios", "pearson_square"))
def test_a_published_row_is_reproduced(row):
    """The calculation, or the figure that the kitchen keeps, is the published one within what its source supports."""
    by_name(row, COMPARISONS)
