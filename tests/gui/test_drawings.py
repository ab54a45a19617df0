"""A drawing that is missing or broken shows nothing and breaks nothing."""

from __future__ import annotations

import pytest

from ui import drawings
from ui.widgets.cards import Card

GOOD = (
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 96 96">'
    '<rect x="8" y="8" width="80" height="80" fill="#d9a04e"/></svg>'
)


def test_missing_drawing(qtbot, tmp_path):
    """A card without its drawing still shows its words."""
    assert drawings.pixmap(None, 96, 1.0, False) is None
    assert drawings.pixmap(tmp_path / "none.svg", 96, 1.0, False) is None
    card = Card("It runs", drawing=tmp_path / "none.svg")
    qtbot.addWidget(card)
    assert not card.drawn
    assert card.heightForWidth(300) >= 44


@pytest.mark.parametrize(
    "content", ["", "no drawing", "<svg", "<svg><path d='M0 0'/>", "<svg xmlns='http://x'></wrong>"]
)
def test_broken_drawing(content, tmp_path):
    """A file that is no drawing shows nothing."""
    path = tmp_path / "broken.svg"
    path.write_text(content, encoding="utf-8")
    assert drawings.pixmap(path, 96, 1.0, False) is None


def test_bytes_that_are_no_text(tmp_path):
    """A file that cannot be read as text shows nothing."""
    path = tmp_path / "bytes.svg"
    path.write_bytes(b"\xff\xfe<svg")
    assert drawings.pixmap(path, 96, 1.0, False) is None


def test_rendered_sharp_on_a_fine_screen(tmp_path, qapp):
    """A drawing has as many pixels as the screen shows."""
    path = tmp_path / "good.svg"
    path.write_text(GOOD, encoding="utf-8")
    picture = drawings.pixmap(path, 96, 2.0, False)
    assert picture is not None
    assert (picture.width(), picture.devicePixelRatio()) == (192, 2.0)
    assert picture.toImage().pixelColor(96, 96).name() == "#d9a04e"
    assert picture.toImage().pixelColor(2, 2).alpha() == 0


def test_dark_drawing_has_dark_colours(tmp_path, qapp):
    """The dark palette's fill is shown in the dark."""
    path = tmp_path / "dark.svg"
    path.write_text(GOOD, encoding="utf-8")
    picture = drawings.pixmap(path, 96, 1.0, True)
    assert picture is not None
    assert picture.toImage().pixelColor(48, 48).name() == "#a0641c"
