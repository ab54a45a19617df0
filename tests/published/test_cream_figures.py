"""Cream blends, air and names against published worked examples and standards."""

from __future__ import annotations

import pytest

from troubleshoot.errors import AmountError
from troubleshoot.kitchen import cream


# Dairy Science and Technology, University of Guelph: 160 kg of 40 % cream to 32 % with skim milk takes 40 kg
def test_cream_let_down_with_skim_milk():
    """The worked example of letting cream down comes out."""
    assert cream.blend_down(160, 40, 32, 0)["milk_g"] == pytest.approx(40)


# The same: 500 kg of 4 % milk to 10 % with 35 % cream takes 120 kg; parts 6 to 25
def test_milk_brought_up_with_cream():
    """The worked example of enriching milk comes out, with its parts and its check of 620 kg."""
    mix = cream.blend_up(500, 4, 35, 10)
    assert mix["rich_cream_g"] == pytest.approx(120)
    assert mix["mix_g"] == pytest.approx(620)
    shares = cream.pearson_square(35, 4, 10)
    assert shares["rich_share"] / shares["lean_share"] == pytest.approx(6 / 25)


# Classic example of the trade for the square: milk of 3.9 % to 2.6 % with skim, parts 2.6 to 1.3 (common practice)
def test_parts_of_the_classic_milk_example():
    """Parts of whole and skim milk are two to one."""
    shares = cream.pearson_square(3.9, 0, 2.6)
    assert shares["rich_share"] / shares["lean_share"] == pytest.approx(2)


# Worked: 48 % double cream to 35 % with skim milk and with milk of 3.6 %
@pytest.mark.parametrize(("low", "share"), [(0, 0.7292), (3.6, 0.7072)])
def test_double_cream_to_whipping(low, share):
    """The share of double cream is the worked one."""
    assert cream.pearson_square(48, low, 35)["rich_share"] == pytest.approx(share, abs=5e-5)


# Worked: no mixture of 35 and 18 % reaches 48 %
def test_out_of_range_is_said():
    """The published case without a solution has none here."""
    with pytest.raises(AmountError, match="No mixture can"):
        cream.pearson_square(35, 18, 48)


# USDA National Nutrient Database, Release 28, NDB 01053: one cup 238 g fluid, 120 g whipped, yields two cups
def test_overrun_of_the_usda_weights():
    """The cups of fluid and whipped cream give 98.3 % overrun."""
    found = cream.overrun(238, 120)
    assert found["overrun_percent"] == pytest.approx(98.3, abs=0.05)
    assert found["volume_times"] == pytest.approx(2, abs=0.02)
    assert cream.whipped_volume(238, 100)["whipped_ml"] == pytest.approx(2 * 236.6, abs=0.1)


@pytest.mark.parametrize(
    ("percent", "pipes"),
    [
        (98.3, True),  # USDA Release 28
        (100, True),  # Professional Cooking: one volume gives up to two
        (141, False),  # J. Dairy Sci. 71: 857, 1988: the most air in UHT heavy cream without aids, machine whipped
        (216, False),  # the same, UHT cream with aids
    ],
)
def test_kitchen_overrun_pipes_and_laboratory_maxima_do_not(percent, pipes):
    """The span for piping holds the kitchen figures and not the laboratory's most air."""
    low, high = cream.PIPING_OVERRUN_PERCENT
    assert (low <= percent <= high) is pipes


@pytest.mark.parametrize(
    ("name", "least"),
    [
        ("uk_clotted", 55),  # UK trade code of practice for cream (figures of the revoked 1996 regulations)
        ("uk_double", 48),
        ("uk_whipping", 35),
        ("uk_single", 18),
        ("uk_half", 12),
        ("us_heavy", 36),  # 21 CFR 131.150, read second-hand
        ("us_light_whipping", 30),  # 21 CFR 131.157
        ("us_light", 18),  # 21 CFR 131.155
        ("us_half_and_half", 10.5),  # 21 CFR 131.180
        ("anz_cream", 35),  # Australia New Zealand Food Standards Code 2.5.2: 350 g/kg
    ],
)
def test_names_of_cream(name, least):
    """A name holds from its least fat on, and not just under it."""
    assert cream.may_be_called(name, least)
    assert not cream.may_be_called(name, least - 0.1)


@pytest.mark.parametrize(
    ("fat", "whips"),
    [
        (36.08, True),  # heavy whipping cream, USDA Release 28, NDB 01053
        (30.91, True),  # light whipping cream, NDB 01052
        (19.1, False),  # light cream, NDB 01050
        (10.39, False),  # half and half, NDB 01049
    ],
)
def test_creams_of_the_usda_tables(fat, whips):
    """Whipping creams reach the least fat that whips, coffee creams do not."""
    assert (fat >= cream.WHIPS_FROM_PERCENT) is whips
