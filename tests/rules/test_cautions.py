"""Every sentence of advice that can hurt carries its caution: found by plain word lists, hazard by hazard."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

import pytest

from troubleshoot.interview.shelf import Shelf
from troubleshoot.knowledge.model import Family, Remedy

FAMILIES = ("candied-peel", "choux", "melted-chocolate", "shortbread", "whipped-cream")


@dataclass(frozen=True)
class Hazard:
    """Words that tell of a hazard in a step, words that show it is not meant, and the cautions that answer it."""

    name: str
    words: str
    but_not: str
    cautions: frozenset[str]
    families: tuple[str, ...] = FAMILIES
    kinds: tuple[str, ...] = ("now", "other-use", "remake", "next-time")

    def found(self, step: str) -> bool:
        """Return whether a step holds the hazard."""
        return bool(
            re.search(self.words, re.sub(self.but_not, "", step.casefold()) if self.but_not else step.casefold())
        )


TODAY = ("now", "other-use", "remake")
HOT_LIQUID = frozenset(
    {"hot_pan", "hot_syrup", "peel_syrup_hot", "syrup_spits", "boiling_dip", "boiling_water_spits", "gelatine_scald"}
)
COLD_CHAIN = frozenset({"filled_cold", "ganache_is_perishable", "cool_fillings_fast", "throw_if_in_doubt"})
ALLERGENS = frozenset(
    {
        "allergens_choux",
        "allergens_cream",
        "allergens_shortbread",
        "peel_allergens",
        "coating_label",
        "dipped_bowl_allergens",
    }
)

HAZARDS = (
    Hazard(
        "hot sugar",
        r"hot syrup|caramel|syrup[^.]*\bboil|\bboil[^.]*(syrup|sugar)|\bsimmer[^.]*syrup|(syrup|paste|until it) reads \{c:1\d\d\}",
        r"colou?r of caramel|smell of caramel|chocolate or caramel|boiled sugar icing|boiled peel|cream and the sugar",
        HOT_LIQUID - {"hot_pan", "gelatine_scald"},
    ),
    Hazard(
        "boiling water, milk or cream",
        r"\bboil\b|\bsimmer\b|boiling (water|cream|milk)|hot (cream|milk)",
        r"where (your )?water boils|not over a simmer",
        HOT_LIQUID,
    ),
    Hazard(
        "steam and hot bowls",
        r"\bsteam (the|it|peel)|over steam|over (hot|warm|boiling|simmering|water)\b|in a bath\b|\bbowl on the pan|rest the bowl",
        r"over water of \{c:3\d\}",
        frozenset({"lift_bowl_from_steam", "boiling_dip", "hot_pan", "gelatine_scald"}),
    ),
    Hazard(
        "hot oven and hot trays",
        r"\{oven:[12]\d\d\}|hot tray|oven door|door (wedged|ajar)[^.]*\{oven:[12]",
        r"at \{c:50\}[^.]*door ajar|oven door ajar",
        frozenset({"hot_oven_steam", "hot_tray"}),
    ),
    Hazard(
        "baking today",
        r"\bbake\b",
        r"to bake with",
        frozenset({"hot_oven_steam", "hot_tray"}),
        ("choux", "shortbread"),
        TODAY,
    ),
    Hazard("microwave", r"microwave", r"", frozenset({"microwave_glass_hot", "chocolate_burns"})),
    Hazard(
        "hot chocolate",
        r"(dark|chocolate)[^.]*\{c:5\d\}|hot chocolate",
        r"over water of \{c:\d+\}( to \{c:\d+\})?",
        frozenset({"chocolate_burns"}),
        ("melted-chocolate",),
    ),
    Hazard(
        "raw egg and raw flour in paste",
        r"\b(taste|beat|pipe|spread|scrape|press|fold|weigh)\b[^.]*\b(paste|egg)\b|raw paste",
        r"scrape the pan|on the lowest heat[^.]*",
        frozenset({"raw_paste", "raw_paste_time", "never_thicken_raw", "raw_centre"}),
        ("choux",),
        TODAY,
    ),
    Hazard(
        "raw flour in dough",
        r"\b(taste|squeeze|knead|roll|press|rub|fold|work|mix|shape|cut)\b[^.]*\b(dough|crumbs|scraps)\b|raw dough",
        r"crush[^.]*crumbs|rub[^.]*grater|melted butter[^.]*|work the dough",
        frozenset({"raw_dough"}),
        ("shortbread",),
    ),
    Hazard(
        "raw egg in a mousse",
        r"\bmousse\b",
        r"under mousse|cream, mousse or chocolate",
        frozenset({"raw_egg_in_cream"}),
        ("whipped-cream",),
    ),
    Hazard(
        "cream kept, filled or warmed",
        r"\b(fill|pipe|layer|sandwich|fold|serve|stand|leave|warm|hold|boil|pour)\b[^.]*\b(cream|custard|curd|ganache|mascarpone)\b"
        r"|\bfilled (pieces|ones|shells|goods)",
        r"ice cream|soft, dry cream|dry cream|not filled|never filled|unfilled|nozzle|cream of tartar|the sweet cream|"
        r"throw the cream out",
        COLD_CHAIN,
        kinds=TODAY,
    ),
    Hazard(
        "mould and ferment",
        r"\bmouldy?\b|\bfuzz|\bfur\b|\bfroths?\b|smells? (of|for) wine",
        r"\b(a|the|carved|filled|lined|a lined|the filled) mould\b",
        frozenset({"mouldy_box", "peel_mould", "peel_ferment", "throw_mouldy_ganache", "throw_if_in_doubt"}),
    ),
    Hazard(
        "allergens",
        r"\bnuts?\b|almond|praline|peanut|sesame|\ballerg|\bsoya\b|change the label|gluten",
        r"",
        ALLERGENS | {"sulphites_declare", "dark_may_hold_milk"},
    ),
    Hazard(
        "allergens that come to plain peel",
        r"\bchocolate\b|\bcake\b|\bbatter\b|\bdough\b|\bcustard\b|\bcurd\b|\bbiscuits?\b",
        r"cake bench|the cake|on the cake|for cake",
        frozenset({"peel_allergens"}),
        ("candied-peel",),
        TODAY,
    ),
    Hazard(
        "sulphites",
        r"sulphi|struck matches|smells of matches",
        r"without (them|sulphites)",
        frozenset({"sulphites_declare"}),
    ),
    Hazard("gelatine melted hot", r"melt[^.]*gelatine|gelatine[^.]*\{c:[56]0\}|melt it (over|at)", r"", frozenset({"gelatine_scald"}), ("whipped-cream",)),
    Hazard("pressure", r"\bsiphon\b|charger|\bvent\b", r"siphon foam", frozenset({"siphon_pressure"}), ("whipped-cream",)),
    Hazard(
        "alcohol",
        r"\bspirit\b|liqueur|\brum\b|\bkirsch\b",
        r"",
        frozenset({"alcohol_stays", "spirit_near_heat", "coating_label"}),
    ),
)  # fmt: skip


def unanswered(family: Family, hazard: Hazard) -> Iterator[tuple[Remedy, str]]:
    """Yield each step that holds the hazard in a remedy without a caution for it."""
    if family.id not in hazard.families:
        return
    for remedy in family.remedies.values():
        if remedy.kind in hazard.kinds and not hazard.cautions & set(remedy.cautions):
            yield from ((remedy, step) for step in remedy.steps if hazard.found(step))


@pytest.mark.parametrize("hazard", HAZARDS, ids=[hazard.name for hazard in HAZARDS])
@pytest.mark.parametrize("family_id", FAMILIES)
def test_a_step_that_can_hurt_carries_its_caution(shelf: Shelf, family_id: str, hazard: Hazard):
    """A remedy that tells somebody to do what can hurt names the caution for it."""
    family = shelf.reasoner(family_id).family
    assert [f"{remedy.id}: {step}" for remedy, step in unanswered(family, hazard)] == []
