"""Texts as this kitchen reads them: on its own oven's dial, and with the eggs that it buys."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from troubleshoot.advice.wording import Wording
from troubleshoot.egg_classes import EGG_CLASSES
from troubleshoot.kitchen.eggs import US_CONTENTS_G, eu_contents_g


def egg_contents_g(egg_class: str) -> float:
    """Return the grams of egg without shell in the middle of a class.  Raises KeyError for no class."""
    if egg_class.startswith("us-"):
        return US_CONTENTS_G[egg_class.removeprefix("us-").replace("-", " ")]
    low, high = eu_contents_g(egg_class)
    return (low + high) / 2.0


@dataclass(frozen=True, slots=True)
class HouseWording(Wording):
    """Wording that knows how far the oven is off (above nothing: hotter than its dial) and which eggs are bought."""

    oven_off_k: float = 0.0
    egg_class: str = ""

    def oven(self, conventional_c: float) -> str:
        """Return an oven setting as it stands on this kitchen's dial."""
        if not self.oven_off_k:
            return Wording.oven(self, conventional_c)
        return f"{Wording.oven(self, conventional_c - self.oven_off_k)} on your dial"

    def text(self, text: str, amounts: Mapping[str, float] | None = None) -> str:
        """Return ``text`` with every placeholder put into words; eggs are counted in the class that is bought."""
        if self.egg_class and amounts and {"medium_eggs", "egg_wanted_g"} <= set(amounts) and "{medium_eggs}" in text:
            eggs = math.ceil(amounts["egg_wanted_g"] / egg_contents_g(self.egg_class) - 1e-9)
            amounts = {**amounts, "medium_eggs": float(eggs)}
            text = text.replace("{medium_eggs} medium egg", f"{{medium_eggs}} {EGG_CLASSES[self.egg_class]} egg")
        return Wording.text(self, text, amounts)
