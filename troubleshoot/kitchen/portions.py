"""Shortbread: round pieces out of a weight of dough or out of a rolled sheet, with the trimmings rolled again.

Weights in grams, sizes in millimetres.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

from troubleshoot.errors import AmountError
from troubleshoot.kitchen.amounts import positive, within
from troubleshoot.kitchen.registry import kitchen_function
from troubleshoot.kitchen.shortbread import SALT_TO_FLOUR

#: Weight of rolled dough, g to the cm3 (worked from butter 0.91, flour 1.45, sugar 1.59, with a twentieth of air).
DOUGH_DENSITY = 1.15

#: Share of a sheet that round cutters take at one rolling, nested close (worked: 0.91 at most for touching circles).
ROUND_YIELD = 0.75

#: What a cutter leaves between two pieces, in millimetres (common practice).
CUT_GAP_MM = 2.0


@kitchen_function
def portions(
    dough_g: float, thickness_mm: float, cutter_mm: float, rerolled_times: float = 1.0, kept_share: float = ROUND_YIELD
) -> Mapping[str, float]:
    """Return the round pieces that a dough gives, with its trimmings rolled again, and what is left over.

    Formula: piece = pi / 4 d2 t 1.15; each rolling cuts the kept share of the sheet and the rest is rolled again:
    cut = 1 - (1 - kept)^(1 + times).  Units: g and mm in; whole pieces, pairs and g out.
    Limits: 2 to 30 mm thick, cutter 10 to 300 mm, trimmings rolled 0 to 2 times more, kept 0.3 to 0.91.
    Source: worked; one more rolling is common practice, each makes tougher pieces.
    """
    dough = positive(dough_g, "The dough", "g")
    piece = _piece_g(thickness_mm, cutter_mm)
    times = within(rerolled_times, 0, 2, "The times trimmings are rolled again")
    kept = within(kept_share, 0.3, 0.91, "The share kept at one rolling")
    pieces = math.floor(dough * (1.0 - (1.0 - kept) ** (1.0 + times)) / piece + 1e-9)
    return {
        "pieces": float(pieces),
        "sandwiches": float(pieces // 2),
        "piece_g": piece,
        "left_over_g": dough - pieces * piece,
    }


@kitchen_function
def dough_for_pieces(
    pieces: float, thickness_mm: float, cutter_mm: float, rerolled_times: float = 1.0, kept_share: float = ROUND_YIELD
) -> Mapping[str, float]:
    """Return the dough to make for so many round pieces, with flour, butter and sugar at 3 : 2 : 1 and its salt.

    Units: pieces and mm in, g out.  Limits: as for portions.  Source: worked.
    """
    times = within(rerolled_times, 0, 2, "The times trimmings are rolled again")
    kept = within(kept_share, 0.3, 0.91, "The share kept at one rolling")
    net = positive(pieces, "The pieces") * _piece_g(thickness_mm, cutter_mm)
    dough = net / (1.0 - (1.0 - kept) ** (1.0 + times))
    return {
        "dough_g": dough,
        "flour_g": dough / 2.0,
        "butter_g": dough / 3.0,
        "sugar_g": dough / 6.0,
        "salt_g": SALT_TO_FLOUR * dough / 2.0,
    }


@kitchen_function
def portions_from_sheet(
    sheet_long_mm: float, sheet_wide_mm: float, thickness_mm: float, cutter_mm: float, rerolled_times: float = 1.0
) -> Mapping[str, float]:
    """Return the round pieces that a rolled sheet gives, the first ones and those from its trimmings, and what is left.

    Formula: first, whole circles in straight or in staggered rows 2 mm apart, whichever holds more, the sheet either
    way round.  Then each rolling of the trimmings cuts three quarters of what is left.  Dough is 1.15 g to the ml.
    Units: mm in; whole pieces, pairs and g out.
    Limits: sheet 20 to 2000 mm, 2 to 30 mm thick, cutter 10 to 300 mm, trimmings rolled 0 to 2 times more.
    Errors: a cutter wider than the sheet.
    Source: worked; check value by common practice: 5 cm cutter, one batch of 225 g flour, about 30 biscuits.
    """
    long, wide = (
        within(side, 20, 2000, what, "mm")
        for side, what in ((sheet_long_mm, "The length of the sheet"), (sheet_wide_mm, "The width of the sheet"))
    )
    piece = _piece_g(thickness_mm, cutter_mm)
    if cutter_mm > min(long, wide):
        raise AmountError("The cutter is wider than the sheet. Roll the sheet wider or take a smaller cutter.")
    dough = long * wide * thickness_mm / 1000.0 * DOUGH_DENSITY
    first = max(count(*sides, cutter_mm) for count in (_straight, _staggered) for sides in ((long, wide), (wide, long)))
    pieces, left = first, dough - first * piece
    for _ in range(int(within(rerolled_times, 0, 2, "The times trimmings are rolled again"))):
        more = math.floor(ROUND_YIELD * left / piece + 1e-9)
        pieces, left = pieces + more, left - more * piece
    return {
        "first_pieces": float(first),
        "pieces": float(pieces),
        "sandwiches": float(pieces // 2),
        "piece_g": piece,
        "dough_g": dough,
        "left_over_g": left,
    }


def _straight(long: float, wide: float, cutter: float) -> int:
    """Return the circles in straight rows."""
    return _in_a_row(long, cutter) * _in_a_row(wide, cutter)


def _staggered(long: float, wide: float, cutter: float) -> int:
    """Return the circles in rows each set off by half a circle, so that they nest."""
    pitch = cutter + CUT_GAP_MM
    rows = 1 + math.floor((wide - cutter) / (pitch * math.sqrt(3.0) / 2.0) + 1e-9)
    whole, set_off = _in_a_row(long, cutter), _in_a_row(long - pitch / 2.0, cutter)
    return (rows + 1) // 2 * whole + rows // 2 * set_off


def _in_a_row(length: float, cutter: float) -> int:
    return max(0, 1 + math.floor((length - cutter) / (cutter + CUT_GAP_MM) + 1e-9))


def _piece_g(thickness_mm: float, cutter_mm: float) -> float:
    thick = within(thickness_mm, 2, 30, "The thickness", "mm")
    across = within(cutter_mm, 10, 300, "The cutter", "mm")
    return math.pi / 4.0 * across**2 * thick / 1000.0 * DOUGH_DENSITY
