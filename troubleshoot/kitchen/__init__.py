"""The arithmetic and physics behind the remedies; it stands alone and knows nothing of rules or windows.

Importing the package fills ``registry.FUNCTIONS`` with every calculation that rules may name.
"""

from __future__ import annotations

from troubleshoot.kitchen import (
    air,
    balance,
    chocolate,
    choux,
    cream,
    dough_sheet,
    eggs,
    ganache,
    heat,
    labels,
    oven,
    parts,
    paste_water,
    safety,
    service,
    shortbread,
    storage,
    sucrose,
    syrup,
)

__all__ = [
    "air",
    "balance",
    "chocolate",
    "choux",
    "cream",
    "dough_sheet",
    "eggs",
    "ganache",
    "heat",
    "labels",
    "oven",
    "parts",
    "paste_water",
    "safety",
    "service",
    "shortbread",
    "storage",
    "sucrose",
    "syrup",
]
