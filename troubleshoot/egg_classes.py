"""The classes in which eggs are bought."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

#: Egg classes that can be chosen: EU and UK by letter, US by name, with the words that stand before "eggs".
EGG_CLASSES: Mapping[str, str] = MappingProxyType(
    {
        "S": "small (S)",
        "M": "medium (M)",
        "L": "large (L)",
        "XL": "very large (XL)",
        "us-small": "US small",
        "us-medium": "US medium",
        "us-large": "US large",
        "us-extra-large": "US extra large",
        "us-jumbo": "US jumbo",
    }
)
