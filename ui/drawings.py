"""Drawings: an SVG file, recoloured for the dark, rendered sharp and kept."""

from __future__ import annotations

import re
from functools import lru_cache
from pathlib import Path

from PySide6.QtCore import QByteArray, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPixmap
from PySide6.QtSvg import QSvgRenderer

from ui.style import tokens

_DARK = {light.casefold(): dark for light, dark in tokens.DRAWING.values()}
_HEX = re.compile(r"#[0-9a-fA-F]{6}\b")


def pixmap(path: Path | None, size: int, ratio: float, dark: bool) -> QPixmap | None:
    """Return a drawing fitted into a square of ``size``; None when the file is missing or no drawing."""
    return None if path is None else _rendered(path, size, ratio, dark)


@lru_cache(maxsize=256)
def _rendered(path: Path, size: int, ratio: float, dark: bool) -> QPixmap | None:
    try:
        text = path.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError):
        return None
    if "<svg" not in text:
        return None
    renderer = QSvgRenderer(QByteArray(recoloured(text, dark).encode()))
    if not renderer.isValid():
        return None
    picture = QPixmap(QSize(size, size) * ratio)
    picture.setDevicePixelRatio(ratio)
    picture.fill(Qt.GlobalColor.transparent)
    natural = renderer.defaultSize()
    fitted = QSize(natural).scaled(size, size, Qt.AspectRatioMode.KeepAspectRatio)
    painter = QPainter(picture)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    left, top = (size - fitted.width()) / 2, (size - fitted.height()) / 2
    renderer.render(painter, QRectF(left, top, fitted.width(), fitted.height()))
    painter.end()
    return picture


def recoloured(svg: str, dark: bool) -> str:
    """Return the text of a drawing with its colours put into those of the dark, when asked."""
    if not dark:
        return svg
    return _HEX.sub(lambda match: _DARK.get(match[0].casefold(), match[0]), svg)
