"""Ganache by the kind of chocolate that is named in an answer: ratio, chocolate or cream still missing for a glaze.

Weights in grams; a ratio is chocolate to cream.
"""

from __future__ import annotations

from collections.abc import Mapping

from troubleshoot.errors import AmountError
from troubleshoot.kitchen.amounts import positive
from troubleshoot.kitchen.chocolate import ganache_span
from troubleshoot.kitchen.registry import kitchen_function


@kitchen_function
def ganache_ratio(chocolate_g: float, cream_g: float) -> Mapping[str, float]:
    """Return the chocolate for each gram of cream: C / L.

    Units: g in, g per g out.  Limits: both above nothing.
    Source: worked; dark 0.5 to 1 for a glaze, milk 1.5, white 2 (common practice).
    """
    return {"ganache_ratio": positive(chocolate_g, "The chocolate", "g") / positive(cream_g, "The cream", "g")}


@kitchen_function
def ganache_off_span(
    chocolate_g: float, cream_g: float, coating: str = "dark", use: str = "glaze"
) -> Mapping[str, float]:
    """Return how far a ganache lies outside the span for its kind and use: C / L less the nearer end, 0 inside.

    Units: g in, g per g out; below nothing there is too little chocolate.  Errors: an unknown kind or use.
    Source: as for ganache chocolate.  Contested: as for ganache chocolate.
    """
    low, high = ganache_span(coating, use)
    ratio = ganache_ratio(chocolate_g, cream_g)["ganache_ratio"]
    return {"off_ratio": min(0.0, ratio - low) + max(0.0, ratio - high), "ratio_low": low, "ratio_high": high}


@kitchen_function
def chocolate_for_glaze(chocolate_g: float, cream_g: float, coating: str = "dark") -> Mapping[str, float]:
    """Return the chocolate to melt into a ganache that is too soft to glaze: r L - C, r 1 dark, 1.5 milk, 2 white.

    Units: g.  Errors: the ganache holds that much chocolate; an unknown kind.
    Source: common practice for the ratios; worked (mass balance).
    """
    wanted = ganache_span(coating, "glaze")[1]
    ratio = ganache_ratio(chocolate_g, cream_g)["ganache_ratio"]
    if ratio >= wanted:
        raise AmountError(
            f"This ganache holds {ratio:.2f} g of chocolate to each gram of cream, which is enough. Add none."
        )
    return {"more_chocolate_g": wanted * cream_g - chocolate_g, "wanted_ratio": wanted}


@kitchen_function
def cream_for_glaze(chocolate_g: float, coating: str = "dark") -> Mapping[str, float]:
    """Return the cream that makes chocolate a glaze: C / r, r 1 for dark, 1.5 for milk, 2 for white.

    Units: g.  Errors: an unknown kind.  Source: common practice for the ratios; worked.
    """
    chocolate = positive(chocolate_g, "The chocolate", "g")
    return {"glaze_cream_g": chocolate / ganache_span(coating, "glaze")[1]}
