"""What keeps how long: each component by the way it is kept, with what to mind and where the figure is from.

Published storage tables come first; the rest is common practice.  The label of what was bought and the local food
rules come before all of it.  Times are in hours.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from troubleshoot.errors import AmountError

HOUR, DAY, WEEK, MONTH = 1.0, 24.0, 168.0, 730.5

#: Units of time from the longest, in hours.
_UNITS = (("month", MONTH), ("week", WEEK), ("day", DAY), ("hour", HOUR))

#: Ways of keeping, as a person reads them.
WAYS: Mapping[str, str] = {
    "room": "at room heat, uncovered or in paper",
    "airtight": "at room heat, airtight",
    "chilled": "chilled, covered",
    "frozen": "frozen, well wrapped",
    "filled": "filled",
}

_TABLE = "Food keeper tables of a retail trade body and of the US department of agriculture, quoted second-hand"
_GUIDE = "Food keeper guide of a US retail trade body and a state university"
_BUTTER = "Butter stored in the fridge and the freezer, J. Dairy Sci. 91:455, 2008 (abstract)"
_CONFECTIONERY = "A field guide to confectionery, quoted second-hand"
_MODEL = "US FDA Food Code 2022 (figures read in state codes that adopt it), 3-501.19(B)"
_PRACTICE = "Common practice"


@dataclass(frozen=True, slots=True)
class Keeping:
    """How long one component keeps in one way, least and most, in hours; ``contested`` is what other sources say."""

    component: str
    family: str
    way: str
    low_h: float
    high_h: float
    mind: str
    source: str
    contested: str = ""

    @property
    def published(self) -> bool:
        """Whether the figure is from a published source."""
        return self.source != _PRACTICE


KEEPING: tuple[Keeping, ...] = (
    Keeping("Raw choux paste", "choux", "room", 0, 2 * HOUR, "Cover it. Pipe within this time.", _PRACTICE),
    Keeping("Raw choux paste", "choux", "chilled", 0, DAY, "Press film on it. It rises a little less.", _PRACTICE),
    Keeping("Piped raw choux", "choux", "frozen", 0, MONTH, "Freeze covered. Thaw 30 minutes, spray, bake.", _PRACTICE),
    Keeping("Unfilled choux shells", "choux", "room", 0, DAY, "Only once they are cold and dry.", _PRACTICE),
    Keeping(
        "Unfilled choux shells", "choux", "airtight", DAY, 2 * DAY, "Refresh them in the oven before use.", _PRACTICE
    ),
    Keeping(
        "Unfilled choux shells", "choux", "frozen", WEEK, 4 * WEEK, "Freeze dry. Crisp them from frozen.", _PRACTICE
    ),
    Keeping("Filled choux", "choux", "filled", HOUR, 4 * HOUR, "Crisp for this long. Same day in any case.", _PRACTICE),
    Keeping(
        "Filled choux",
        "choux",
        "chilled",
        0,
        3 * DAY,
        "Safe for this long if it was never out. The shell is soft by then.",
        f"{_GUIDE}, pastry filled with dairy cream",
        "The same guide says 3 to 4 days. Common practice sells on the day only.",
    ),
    Keeping(
        "Raw whole egg, cracked",
        "choux",
        "chilled",
        0,
        2 * DAY,
        "Covered and dated.",
        f"{_GUIDE}, raw egg",
        "The same guide says 2 to 4 days.",
    ),
    Keeping("Shortbread dough", "shortbread", "chilled", 2 * DAY, 4 * DAY, "Wrap it well.", _TABLE),
    Keeping("Shortbread dough", "shortbread", "frozen", 0, 2 * MONTH, "Thaw it wrapped, in the fridge.", _TABLE),
    Keeping(
        "Baked shortbread",
        "shortbread",
        "airtight",
        2 * WEEK,
        3 * WEEK,
        "Best within 10 days. Box it cold.",
        _TABLE,
        "Web pages say 1 to 2 weeks.",
    ),
    Keeping("Baked shortbread", "shortbread", "chilled", 0, 2 * MONTH, "Airtight, or it takes up damp.", _GUIDE),
    Keeping(
        "Baked shortbread",
        "shortbread",
        "frozen",
        8 * MONTH,
        12 * MONTH,
        "Thaw it in its wrap.",
        _GUIDE,
        "Common practice is 2 to 3 months.",
    ),
    Keeping(
        "Biscuits with whipped cream", "shortbread", "filled", HOUR, 2 * HOUR, "Then the biscuit is soft.", _PRACTICE
    ),
    Keeping("Biscuits with buttercream or jam", "shortbread", "filled", 0, DAY, "Soft by the next day.", _PRACTICE),
    Keeping(
        "Butter, small packs",
        "shortbread",
        "chilled",
        0,
        6 * MONTH,
        "Off-notes from then on.",
        _BUTTER,
        f"1 to 3 months by the {_GUIDE[0].lower()}{_GUIDE[1:]}.",
    ),
    Keeping(
        "Butter, small packs",
        "shortbread",
        "frozen",
        0,
        12 * MONTH,
        "Off-notes from then on.",
        _BUTTER,
        f"6 to 9 months by the {_GUIDE[0].lower()}{_GUIDE[1:]}.",
    ),
    Keeping(
        "Opened carton of cream",
        "whipped-cream",
        "chilled",
        0,
        3 * DAY,
        "The use-by date wins if sooner.",
        _PRACTICE,
        f"Up to a week for long-life cream by the {_GUIDE[0].lower()}{_GUIDE[1:]}.",
    ),
    Keeping("Long-life cream, unopened", "whipped-cream", "chilled", 0, MONTH, "Do not freeze it unwhipped.", _GUIDE),
    Keeping("Whipped cream, plain", "whipped-cream", "chilled", 2 * HOUR, 8 * HOUR, "Best the same day.", _PRACTICE),
    Keeping("Whipped cream, sweetened", "whipped-cream", "chilled", 0, DAY, "It weeps a little overnight.", _GUIDE),
    Keeping(
        "Whipped cream, stabilised", "whipped-cream", "chilled", 8 * HOUR, DAY, "Gelatine or mascarpone.", _PRACTICE
    ),
    Keeping(
        "Whipped cream, sweetened", "whipped-cream", "frozen", MONTH, 2 * MONTH, "Piped and hard. Use it iced.", _GUIDE
    ),
    Keeping(
        "Anything with cream, out of the cold", "whipped-cream", "room", 0, 4 * HOUR, "Then throw it away.", _MODEL
    ),
    Keeping("Ganache", "melted-chocolate", "chilled", 3 * DAY, WEEK, "Film on its face. Date it.", _PRACTICE),
    Keeping("Ganache", "melted-chocolate", "frozen", 0, 2 * MONTH, "Thaw it in the fridge.", _PRACTICE),
    Keeping(
        "Coated plain biscuits, dark",
        "melted-chocolate",
        "airtight",
        2 * MONTH,
        6 * MONTH,
        "Kept at {c:12} to {c:20}.",
        _PRACTICE,
    ),
    Keeping("Glazed filled pieces", "melted-chocolate", "filled", 0, DAY, "Chilled. Same day.", _PRACTICE),
    Keeping(
        "Candied peel, dried and sugared",
        "candied-peel",
        "airtight",
        MONTH,
        3 * MONTH,
        "Dry, dark, cool.",
        _PRACTICE,
        "A week, a month, several months and up to a year are all printed. Its water activity decides.",
    ),
    Keeping("Candied peel in syrup", "candied-peel", "chilled", 0, 3 * MONTH, "Covered by the syrup.", _CONFECTIONERY),
    Keeping("Candied peel", "candied-peel", "frozen", 0, 12 * MONTH, "Keeps its aroma. Airtight.", _PRACTICE),
)


def keeps(component: str, way: str) -> Keeping:
    """Return how long a component keeps in a way.  Errors: an unknown component; a way in which it is not kept."""
    rows = [row for row in KEEPING if row.component == component]
    if not rows:
        raise AmountError(
            f"The components known here are {', '.join(dict.fromkeys(row.component for row in KEEPING))}."
        )
    found = next((row for row in rows if row.way == way), None)
    if found is None:
        raise AmountError(f"{component} is kept {' or '.join(WAYS[row.way] for row in rows)}.")
    return found


def span_in_words(row: Keeping) -> str:
    """Return the time a component keeps as people say it: "2 to 4 days", "up to 2 months"."""
    unit, hours = next(
        (unit for unit in _UNITS if _whole(row.low_h / unit[1]) and _whole(row.high_h / unit[1])), _UNITS[-1]
    )
    high, low = row.high_h / hours, row.low_h / hours
    ending = "" if high == 1 else "s"
    return f"up to {high:.3g} {unit}{ending}" if not low or low == high else f"{low:.3g} to {high:.3g} {unit}{ending}"


def _whole(number: float) -> bool:
    return abs(number - round(number)) < 1e-6
