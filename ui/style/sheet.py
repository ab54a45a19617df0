"""What Qt is told about the tokens: fonts, palette and style sheet, made afresh when a setting changes."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QFont, QGuiApplication, QPalette
from PySide6.QtWidgets import QApplication, QStyleFactory

from troubleshoot.settings import Settings
from ui.style import tokens
from ui.style.tokens import Colours


@dataclass(frozen=True, slots=True)
class Look:
    """The look in force: colours, text size in per cent."""

    colours: Colours = tokens.LIGHT
    percent: int = 100

    @property
    def dark(self) -> bool:
        """Whether the dark colours are in force."""
        return self.colours is tokens.DARK

    def px(self, size: float) -> int:
        """Return a size of the tokens at the text size in force."""
        return round(size * self.percent / 100)

    def colour(self, name: str) -> QColor:
        """Return a colour by its name in the tokens."""
        return QColor(getattr(self.colours, name))

    def font(self, role: str = "body") -> QFont:
        """Return the font for a kind of text."""
        return QFont(_font(role, self.percent))

    def text_px(self, role: str = "body") -> int:
        """Return the size of a kind of text in pixels."""
        return round(tokens.BASE * tokens.RATIO ** tokens.TYPE[role][0] * self.percent / 100)


@lru_cache(maxsize=64)
def _font(role: str, percent: int) -> QFont:
    _, bold, heading = tokens.TYPE[role]
    font = QFont()
    font.setFamilies(list(tokens.HEADING_FACES if heading else tokens.TEXT_FACES))
    font.setPixelSize(Look(percent=percent).text_px(role))
    font.setBold(bold)
    return font


_look = Look()


def look() -> Look:
    """Return the look in force."""
    return _look


def wants_dark(settings: Settings) -> bool:
    """Return whether the settings, or the system when they leave it open, ask for dark colours."""
    if settings.theme == "system":
        return QGuiApplication.styleHints().colorScheme() == Qt.ColorScheme.Dark
    return settings.theme == "dark"


def apply(app: QApplication, settings: Settings) -> Look:
    """Put the settings' look in force for the whole program and return it."""
    global _look
    _look = Look(tokens.DARK if wants_dark(settings) else tokens.LIGHT, settings.text_size)
    if app.style().objectName().casefold() != "fusion":
        app.setStyle(QStyleFactory.create("Fusion"))
    app.setPalette(palette(_look))
    app.setFont(_look.font())
    app.setStyleSheet(stylesheet(_look))
    return _look


def palette(look: Look) -> QPalette:
    """Return the palette of a look."""
    made = QPalette()
    roles = {
        QPalette.ColorRole.Window: "ground",
        QPalette.ColorRole.WindowText: "ink",
        QPalette.ColorRole.Base: "card",
        QPalette.ColorRole.AlternateBase: "ground",
        QPalette.ColorRole.Text: "ink",
        QPalette.ColorRole.Button: "card",
        QPalette.ColorRole.ButtonText: "ink",
        QPalette.ColorRole.BrightText: "caution",
        QPalette.ColorRole.Highlight: "accent",
        QPalette.ColorRole.HighlightedText: "on_accent",
        QPalette.ColorRole.Link: "accent",
        QPalette.ColorRole.ToolTipBase: "card",
        QPalette.ColorRole.ToolTipText: "ink",
        QPalette.ColorRole.PlaceholderText: "soft",
    }
    for role, name in roles.items():
        made.setColor(role, look.colour(name))
    for role in (QPalette.ColorRole.WindowText, QPalette.ColorRole.Text, QPalette.ColorRole.ButtonText):
        made.setColor(QPalette.ColorGroup.Disabled, role, look.colour("soft"))
    return made


def stylesheet(look: Look) -> str:
    """Return the style sheet of a look: what the palette alone cannot say."""
    c, px = look.colours, look.px
    return f"""
    QScrollArea, QScrollArea > QWidget > QWidget#sheet {{ background: {c.ground}; border: none; }}
    QFrame[kind="card"] {{
        background: {c.card}; border: {tokens.HAIR}px solid {c.line}; border-radius: {tokens.RADIUS}px;
    }}
    QFrame[kind="caution"] {{
        background: {c.caution_ground}; border: {tokens.STROKE}px solid {c.caution}; border-radius: {tokens.RADIUS}px;
    }}
    QFrame[kind="notice"] {{
        background: {c.accent_ground}; border: {tokens.STROKE}px solid {c.accent}; border-radius: {tokens.RADIUS}px;
    }}
    QFrame[kind="bar"] {{ background: {c.card}; border: none; }}
    QLineEdit {{
        background: {c.card}; color: {c.ink}; border: {tokens.STROKE}px solid {c.edge};
        border-radius: {tokens.RADIUS}px; min-height: {max(tokens.TARGET, look.text_px("lead") * 2)}px;
        padding: {tokens.RING - tokens.STROKE}px {px(tokens.GRID)}px; placeholder-text-color: {c.soft};
        selection-background-color: {c.accent}; selection-color: {c.on_accent};
    }}
    QLineEdit:focus {{ border: {tokens.RING}px solid {c.focus}; padding: 0 {px(tokens.GRID)}px; }}
    QTableView {{ background: {c.card}; color: {c.ink}; border: {tokens.STROKE}px solid {c.line}; }}
    QTableView:focus {{ border-color: {c.focus}; }}
    QHeaderView {{ background: {c.ground}; border: none; }}
    QHeaderView::section {{
        background: {c.ground}; color: {c.ink}; border: none; border-bottom: {tokens.STROKE}px solid {c.edge};
        padding: 0 {px(tokens.HALF)}px;
    }}
    QScrollBar:vertical {{ background: {c.ground}; width: {px(tokens.GAP)}px; margin: 0; }}
    QScrollBar:horizontal {{ background: {c.ground}; height: {px(tokens.GAP)}px; margin: 0; }}
    QScrollBar::handle {{ background: {c.edge}; border-radius: {tokens.HALF}px; margin: {tokens.HALF}px; }}
    QScrollBar::handle:vertical {{ min-height: {tokens.TARGET}px; }}
    QScrollBar::handle:horizontal {{ min-width: {tokens.TARGET}px; }}
    QScrollBar::add-line, QScrollBar::sub-line {{ width: 0; height: 0; }}
    QScrollBar::add-page, QScrollBar::sub-page {{ background: none; }}
    """
