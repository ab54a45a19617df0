"""Text and controls stand out from their ground, in light and in dark, by calculation."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from ui import drawings
from ui.style import tokens

UI = Path(tokens.__file__).parents[1]
PALETTES = {"light": tokens.LIGHT, "dark": tokens.DARK}


def luminance(colour: str) -> float:
    """Return the relative luminance of a colour (WCAG 2.2)."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Return the contrast ratio of two colours (WCAG 2.2)."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_contrast_of_known_colours():
    """Black on white is 21 to 1, and the order of the two does not matter."""
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#777777", "#ffffff") == contrast("#ffffff", "#777777") == pytest.approx(4.48, abs=0.01)


@pytest.mark.parametrize("palette", PALETTES)
@pytest.mark.parametrize(("text", "ground"), tokens.TEXT_PAIRS)
def test_text_is_readable(palette, text, ground):
    """Every text colour has at least 4.5 : 1 on every ground it is written on."""
    colours = PALETTES[palette]
    assert contrast(getattr(colours, text), getattr(colours, ground)) >= 4.5


@pytest.mark.parametrize("palette", PALETTES)
@pytest.mark.parametrize(("control", "ground"), tokens.CONTROL_PAIRS)
def test_controls_and_focus_are_visible(palette, control, ground):
    """Every control's edge, bar and focus ring has at least 3 : 1 against what lies beside it."""
    colours = PALETTES[palette]
    assert contrast(getattr(colours, control), getattr(colours, ground)) >= 3


@pytest.mark.parametrize("palette", PALETTES)
def test_drawings_keep_their_lines(palette):
    """The ink line shows on every fill that lines are drawn in, and on the card behind the drawing."""
    place = 0 if palette == "light" else 1
    ink = tokens.DRAWING["ink"][place]
    assert contrast(ink, PALETTES[palette].card) >= 4.5
    for name in ("paper", "paste", "crust", "cream", "metal", "water"):
        assert contrast(ink, tokens.DRAWING[name][place]) >= 3, name


def test_colours_are_named_in_the_tokens_alone():
    """No other file of the window writes a colour."""
    found = [
        f"{path.name}: {line.strip()}"
        for path in UI.rglob("*.py")
        if path.name != "tokens.py"
        for line in path.read_text(encoding="utf-8").splitlines()
        if re.search(r"""["']#[0-9a-fA-F]{3,8}\b|rgba?\(""", line)
    ]
    assert not found


def test_every_colour_of_the_drawings_has_one_for_the_dark():
    """No colour of a drawing stays light in the dark by mistake."""
    known = {light for light, _ in tokens.DRAWING.values()}
    folder = UI.parent / "assets" / "drawings"
    used = {
        colour
        for path in folder.rglob("*.svg")
        for colour in re.findall(r"#[0-9a-fA-F]{3,8}\b", path.read_text("utf-8"))
    }
    assert used
    assert used <= known


def test_recolouring_for_the_dark_leaves_no_light_colour():
    """Every token is swapped, and nothing else."""
    light = " ".join(light for light, _ in tokens.DRAWING.values())
    dark = " ".join(dark for _, dark in tokens.DRAWING.values())
    assert drawings.recoloured(light, dark=True) == dark
    assert drawings.recoloured(light, dark=False) == light
    assert drawings.recoloured("#123456", dark=True) == "#123456"
