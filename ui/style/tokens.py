"""Every colour, size and space of the window.  Nothing else in ``ui`` names one."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType


@dataclass(frozen=True, slots=True)
class Colours:
    """One set of colours, as ``#rrggbb``.

    ``line`` only decorates; ``edge`` bounds a control.  ``accent`` marks the action to
    take, ``caution`` a danger; everything else is paper and ink.
    """

    ground: str
    card: str
    ink: str
    soft: str
    line: str
    edge: str
    accent: str
    on_accent: str
    accent_ground: str
    caution: str
    on_caution: str
    caution_ground: str
    bar: str
    track: str
    focus: str


LIGHT = Colours(
    ground="#f6efe0",
    card="#fffbf2",
    ink="#2e1d14",
    soft="#5c4638",
    line="#dccdb3",
    edge="#87705d",
    accent="#1f5b4d",
    on_accent="#ffffff",
    accent_ground="#e2ebdd",
    caution="#982c0e",
    on_caution="#ffffff",
    caution_ground="#fbe7d8",
    bar="#6b5140",
    track="#e3d6be",
    focus="#2e1d14",
)

DARK = Colours(
    ground="#1c1410",
    card="#291e18",
    ink="#f4e9da",
    soft="#cfbda9",
    line="#46372c",
    edge="#a08a76",
    accent="#8fd0b8",
    on_accent="#10261f",
    accent_ground="#2b3d34",
    caution="#ffb28d",
    on_caution="#3a1204",
    caution_ground="#44271a",
    bar="#d9c3a8",
    track="#4a3b30",
    focus="#f4e9da",
)

#: Text colour on the ground it is written on: at least 4.5 : 1.
TEXT_PAIRS = (
    ("ink", "ground"),
    ("ink", "card"),
    ("ink", "accent_ground"),
    ("ink", "caution_ground"),
    ("soft", "ground"),
    ("soft", "card"),
    ("soft", "accent_ground"),
    ("accent", "card"),
    ("accent", "ground"),
    ("on_accent", "accent"),
    ("caution", "caution_ground"),
    ("caution", "card"),
    ("on_caution", "caution"),
)

#: A control, a bar or the focus against what lies beside it: at least 3 : 1.
CONTROL_PAIRS = (
    ("edge", "ground"),
    ("edge", "card"),
    ("accent", "card"),
    ("accent", "ground"),
    ("accent", "accent_ground"),
    ("caution", "caution_ground"),
    ("caution", "card"),
    ("bar", "track"),
    ("focus", "ground"),
    ("focus", "card"),
    ("focus", "accent_ground"),
    ("focus", "caution_ground"),
)

#: The colours a drawing is made of: as written in the SVG file, and what stands for each in the dark.
DRAWING: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        "ink": ("#3b2a20", "#f4e9da"),
        "paper": ("#fbf6ec", "#3d3028"),
        "paste": ("#f3dfb0", "#8c7a54"),
        "crust": ("#d9a04e", "#a0641c"),
        "dark crust": ("#8a5a2b", "#5a3413"),
        "chocolate": ("#5a3524", "#3b2014"),
        "cream": ("#fff4d6", "#6f664f"),
        "metal": ("#b9b4ab", "#5d5852"),
        "accent": ("#a8452c", "#d9704d"),
        "water": ("#8fb3c4", "#3f7288"),
    }
)

#: Type: the base in pixels at 100 %, and the ratio from one step to the next.
BASE = 16
RATIO = 1.25

#: Each kind of text: its step on the scale, whether it is bold, whether it is set in the heading face.
TYPE: Mapping[str, tuple[int, bool, bool]] = MappingProxyType(
    {
        "small": (-1, False, False),
        "body": (0, False, False),
        "strong": (0, True, False),
        "lead": (1, False, False),
        "heading": (1, True, True),
        "title": (2, True, True),
        "display": (3, True, True),
    }
)
TEXT_FACES = ("Noto Sans", "Segoe UI", "Helvetica Neue", "DejaVu Sans", "sans-serif")
HEADING_FACES = ("Noto Serif", "Georgia", "DejaVu Serif", "serif")

#: Space: everything is a multiple of half the grid.
GRID = 8
HALF = 4
GAP = 2 * GRID
WIDE = 3 * GRID

TARGET = 44
LINE_CHARACTERS = 70
RADIUS = 6
HAIR = 1
STROKE = 2
RING = 3
#: Room that a control keeps around itself for the ring that shows focus.
RING_ROOM = 5
ARROW = 20
BAR = 12
BADGE = 24
DRAWING_SIZE = 96
TILE_DRAWING = 104
PICTURE = 208

CARD_WIDTH = 264
TILE_WIDTH = 176
FAULT_WIDTH = 304
FIELD_WIDTH = 128
MAIN_WIDTH = 480
SIDE_WIDTH = 296
CONTENT_WIDTH = 1240
WINDOW = (1180, 760)
PLOT_HEIGHT = 280
LEAST_WINDOW = (480, 400)
