"""Every published row on sucrose, on boiling water and on moist air that a calculation gives, against that calculation.

The rows, their sources and the tolerance that each source supports stand in rows/.
"""

from __future__ import annotations

import psychrolib
import pytest
from published_rows import by_name, compared, near

from troubleshoot.errors import AmountError
from troubleshoot.kitchen import air, oven, sucrose, syrup

WATER_C = 99.974


def older_rise(row, at):
    """The older table's figure over the boiling point of water; both figures are given, and part by 3 K at most."""
    found = sucrose.syrup_boiling_point(**at)
    near(row, found["older_c"] - WATER_C)
    assert abs(found["older_c"] - found["boils_c"]) <= 3


def solubility(row, at):
    """Both printed columns of the table."""
    found = sucrose.solubility(**at)
    near(row, found["g_per_100_g_water"])
    assert found["sugar_percent"] == pytest.approx(row["also"]["sugar_percent"], abs=0.01)


def newer_solubility(row, at):
    """Both columns of the newer line, which is given beside the table and parts from it by less than 2.3 %."""
    found = sucrose.solubility(**at)
    near(row, found["newer_g_per_100_g_water"])
    assert found["newer_sugar_percent"] == pytest.approx(row["also"]["newer_sugar_percent"], abs=0.006)
    assert found["newer_g_per_100_g_water"] == pytest.approx(found["g_per_100_g_water"], rel=0.023)


def saturated_density(row, at):
    """The density of the strength that is saturated at 20 °C."""
    near(row, sucrose.syrup_density(sucrose.solubility(**at)["sugar_percent"])["density_kg_m3"])


def specific_gravity(row, at):
    """As printed, or printed a thousandfold."""
    gravity = sucrose.syrup_density(**at)["specific_gravity"]
    near(row, 1000 * gravity if row["value"] > 100 else gravity)


def boils_within_fahrenheit(row, at):
    """A syrup of the printed strength boils in the printed span, give or take what is supported."""
    low, high = (oven.celsius(at[end]) for end in ("low_f", "high_f"))
    boils = sucrose.syrup_boiling_point(row["value"])["boils_c"]
    assert low - row["within"] <= boils <= high + row["within"]


def hottest_syrup(row, at):
    """Hotter than the printed limit nothing is called a syrup."""
    with pytest.raises(AmountError, match="165"):
        sucrose.strength_at_boil(row["value"] + 0.1)


def boiling_point_of_parts(row, at):
    """Sugar and water are turned into a strength first."""
    near(row, sucrose.syrup_boiling_point(syrup.syrup_from(**at)["sugar_percent"])["boils_c"])


def drop(metres: float) -> float:
    return oven.boiling_point_at_altitude(0)["boils_c"] - oven.boiling_point_at_altitude(metres)["boils_c"]


def boiling_by_height(row, at):
    """Both ways: the boiling point of a height, and below the end of the span its height to within 5 m."""
    near(row, oven.boiling_point_at_altitude(**at)["boils_c"])
    if at["altitude_m"] < 5000:
        assert oven.altitude_from_boiling(row["value"])["altitude_m"] == pytest.approx(at["altitude_m"], abs=5)


def saturation_pressure(row, at):
    """Both ways, where the other way reaches."""
    near(row, oven.saturation_pressure_kpa(at["celsius"]))
    if row["value"] >= 20:
        found = oven.boiling_point_at_pressure(row["value"])["boils_c"]
        assert found == pytest.approx(at["celsius"], abs=0.002)


def dew_point(row, at):
    """Within 0.1 K of the printed figure and, above freezing, of a general library."""
    found = air.dew_point(**at)["dew_point_c"]
    near(row, found)
    psychrolib.SetUnitSystem(psychrolib.SI)
    library = psychrolib.GetTDewPointFromRelHum(at["air_c"], at["humidity_percent"] / 100)
    assert library < 0 or found == pytest.approx(library, abs=0.1)


COMPARISONS = {
    "boiling_rise": lambda row, at: near(row, sucrose.syrup_boiling_point(**at)["over_water_k"]),
    "boiling_point": lambda row, at: near(row, sucrose.syrup_boiling_point(**at)["boils_c"]),
    "older_rise": older_rise,
    "boiling_rise_at_least": lambda row, at: near(
        row, min(sucrose.syrup_boiling_point(**at)["over_water_k"], row["value"])
    ),
    "strength": lambda row, at: near(row, sucrose.strength_at_boil(**at)["sugar_percent"]),
    "solubility": solubility,
    "newer_solubility": newer_solubility,
    "saturated_density": saturated_density,
    "density": lambda row, at: near(row, sucrose.syrup_density(**at)["density_kg_m3"]),
    "specific_gravity": specific_gravity,
    "baume": lambda row, at: near(row, sucrose.baume_from_percent(**at)["baume"]),
    "water_activity": lambda row, at: near(row, sucrose.water_activity(**at)["water_activity"]),
    "boils_within_fahrenheit": boils_within_fahrenheit,
    "hottest_syrup": hottest_syrup,
    "boiling_point_of_parts": boiling_point_of_parts,
    "drop_for_305_m": lambda row, at: near(row, drop(305)),
    "drop_for_1000_feet_f": lambda row, at: near(row, drop(304.8) * 9 / 5),
    "pressure": lambda row, at: near(row, oven.pressure_at_altitude(**at)["pressure_kpa"]),
    "boiling_by_height": boiling_by_height,
    "boiling_by_pressure": lambda row, at: near(row, oven.boiling_point_at_pressure(**at)["boils_c"]),
    "saturation_pressure": saturation_pressure,
    "magnus": lambda row, at: _magnus(row),
    "dew_point": dew_point,
    "water_in_air": lambda row, at: near(row, air.water_in_air(**at)["water_g_per_kg"]),
    "sweats": lambda row, at: near(row, air.sweats(**at)),
}


def _magnus(row):
    assert (row["value"]["a_hPa"], row["value"]["b"], row["value"]["c_degC"]) == air.MAGNUS


@pytest.mark.parametrize("row", compared("sucrose", "water", "dew_point"))
def test_a_published_row_is_reproduced(row):
    """The calculation gives the published figure, within what its source supports."""
    by_name(row, COMPARISONS)
