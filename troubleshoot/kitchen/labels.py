"""What a chocolate label must hold to bear its name: least shares by EU, US and Codex standards, in % of weight."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from troubleshoot.errors import AmountError
from troubleshoot.kitchen.amounts import within
from troubleshoot.kitchen.registry import kitchen_function

_EU = "Directive 2000/36/EC, Annex I"
_US = "US 21 CFR 163"
_CODEX = "Codex Standard 87-1981 (rev. 2003), on dry matter"


@dataclass(frozen=True, slots=True)
class Standard:
    """The least shares that a name needs, and where they are published."""

    least: Mapping[str, float]
    source: str


@dataclass(frozen=True, slots=True)
class Shortfall:
    """A share that is too small, or that the label does not give (``found`` is None)."""

    part: str
    least: float
    found: float | None


STANDARDS: Mapping[str, Standard] = {
    "eu_chocolate": Standard({"cocoa_solids": 35, "cocoa_butter": 18, "fat_free_cocoa": 14}, f"{_EU} A.3"),
    "eu_couverture": Standard({"cocoa_solids": 35, "cocoa_butter": 31, "fat_free_cocoa": 2.5}, f"{_EU} A.3(b)"),
    "eu_vermicelli": Standard({"cocoa_solids": 32, "cocoa_butter": 12, "fat_free_cocoa": 14}, f"{_EU} A.3(a)"),
    "eu_quality_dark": Standard({"cocoa_solids": 43, "cocoa_butter": 26}, "Directive 2000/36/EC, Article 3(5)"),
    "eu_quality_milk": Standard(
        {"cocoa_solids": 30, "milk_solids": 18, "milk_fat": 4.5}, "Directive 2000/36/EC, Article 3(5)"
    ),
    "eu_milk_chocolate": Standard(
        {"cocoa_solids": 25, "milk_solids": 14, "fat_free_cocoa": 2.5, "milk_fat": 3.5, "total_fat": 25}, f"{_EU} A.4"
    ),
    "eu_family_milk_chocolate": Standard(
        {"cocoa_solids": 20, "milk_solids": 20, "fat_free_cocoa": 2.5, "milk_fat": 5, "total_fat": 25}, f"{_EU} A.5"
    ),
    "eu_white_chocolate": Standard({"cocoa_butter": 20, "milk_solids": 14}, f"{_EU} A.6"),
    "us_sweet_chocolate": Standard({"chocolate_liquor": 15}, f"{_US}.123(a)(2)"),
    "us_semisweet": Standard({"chocolate_liquor": 35}, f"{_US}.123(a)(3)"),
    "us_milk_chocolate": Standard({"chocolate_liquor": 10, "milk_fat": 3.39, "milk_solids": 12}, f"{_US}.130(a)(2)"),
    "us_white_chocolate": Standard({"cocoa_butter": 20, "milk_fat": 3.5, "milk_solids": 14}, f"{_US}.124(a)(2)"),
    "codex_chocolate": Standard({"cocoa_solids": 35, "cocoa_butter": 18, "fat_free_cocoa": 14}, f"{_CODEX}, 2.1.1"),
    "codex_sweet": Standard({"cocoa_solids": 30, "cocoa_butter": 18, "fat_free_cocoa": 12}, f"{_CODEX}, 2.1.2"),
    "codex_family_milk": Standard(
        {"cocoa_solids": 20, "fat_free_cocoa": 2.5, "milk_solids": 20, "milk_fat": 5}, f"{_CODEX}, 2.1.5"
    ),
    "codex_couverture": Standard({"cocoa_solids": 35, "cocoa_butter": 31, "fat_free_cocoa": 2.5}, f"{_CODEX}, 2.1.3"),
    "codex_milk_couverture": Standard(
        {"cocoa_solids": 25, "fat_free_cocoa": 2.5, "milk_solids": 14, "milk_fat": 3.5, "total_fat": 31},
        f"{_CODEX}, 2.1.6",
    ),
}

#: Most vegetable fat beside cocoa butter, % of the finished product (Directive 2000/36/EC, Article 2; Codex 87, 2).
VEGETABLE_FAT_MOST = 5.0

#: Fat of cocoa powder in the US, % from and to under (21 CFR 163.113).
US_COCOA_FAT = (10.0, 22.0)


def shortfalls(standard: str, label: Mapping[str, float]) -> tuple[Shortfall, ...]:
    """Return what a label lacks for a name, in the order of the standard; nothing means that it bears the name.

    ``label`` maps parts (cocoa_solids, cocoa_butter, ...) to % of weight.
    Limits: 0 to 100 % each.  Errors: an unknown standard, a share out of limits, fat-free cocoa or cocoa butter over
    all cocoa.  Source: see :data:`STANDARDS`.
    """
    if standard not in STANDARDS:
        raise AmountError(f"The names known here are {', '.join(STANDARDS)}.")
    found = {part: within(value, 0, 100, part.replace("_", " ").capitalize(), "%") for part, value in label.items()}
    cocoa = found.get("cocoa_solids", 100.0)
    if found.get("cocoa_butter", 0.0) + found.get("fat_free_cocoa", 0.0) > cocoa + 1e-9:
        raise AmountError("Cocoa butter and fat-free cocoa together cannot be more than all cocoa.")
    return tuple(
        Shortfall(part, least, found.get(part))
        for part, least in STANDARDS[standard].least.items()
        if found.get(part, -1.0) < least
    )


def bears_name(standard: str, label: Mapping[str, float]) -> bool:
    """Tell whether a label reaches every share that a name needs; see :func:`shortfalls`."""
    return not shortfalls(standard, label)


@kitchen_function
def label_check(
    standard: str,
    cocoa_solids_percent: float = 0.0,
    cocoa_butter_percent: float = 0.0,
    fat_free_cocoa_percent: float = 0.0,
    milk_solids_percent: float = 0.0,
    milk_fat_percent: float = 0.0,
    total_fat_percent: float = 0.0,
    chocolate_liquor_percent: float = 0.0,
) -> Mapping[str, float]:
    """Return how far each part of a label is over the least that a name wants; below nothing it may not bear the name.

    Formula: share on the label less the least share.  A share that the label does not give counts as nothing.
    Units: % of weight in and out; ``parts_short`` counts the parts that are too small.
    Limits: 0 to 100 % each.  Errors: an unknown name; cocoa butter and fat-free cocoa over all cocoa.
    Source: Directive 2000/36/EC, Annex I; US 21 CFR 163; Codex Standard 87-1981.
    """
    given = {
        "cocoa_solids": cocoa_solids_percent,
        "cocoa_butter": cocoa_butter_percent,
        "fat_free_cocoa": fat_free_cocoa_percent,
        "milk_solids": milk_solids_percent,
        "milk_fat": milk_fat_percent,
        "total_fat": total_fat_percent,
        "chocolate_liquor": chocolate_liquor_percent,
    }
    label = {part: value for part, value in given.items() if value}
    short = shortfalls(standard, label)
    least = STANDARDS[standard].least
    margins = {f"{part}_over_percent": float(label.get(part, 0.0) - wanted) for part, wanted in least.items()}
    return {**margins, "parts_short": float(len(short))}
