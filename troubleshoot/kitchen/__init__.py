"""The arithmetic and physics behind the remedies; it stands alone and knows nothing of rules or windows.

Importing the package fills ``registry.FUNCTIONS`` with every calculation that rules may name.
"""

from __future__ import annotations

from troubleshoot.kitchen import (
    air,
    allergens,
    balance,
    chocolate,
    choux,
    cream,
    cream_checks,
    dough_sheet,
    eggs,
    ganache,
    growth,
    heat,
    labels,
    oven,
    parts,
    paste_water,
    plans,
    portions,
    safety,
    service,
    shortbread,
    storage,
    sucrose,
    syrup,
    time_record,
)

__all__ = [
    "air",
    "allergens",
    "balance",
    "chocolate",
    "choux",
    "cream",
    "cream_checks",
    "dough_sheet",
    "eggs",
    "ganache",
    "growth",
    "heat",
    "labels",
    "oven",
    "parts",
    "paste_water",
    "plans",
    "portions",
    "safety",
    "service",
    "shortbread",
    "storage",
    "sucrose",
    "syrup",
    "time_record",
]
