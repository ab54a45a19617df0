"""What a kitchen sets once: units, look, and its profile.  A broken file is kept aside, and said."""

from __future__ import annotations

import dataclasses
import json
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from troubleshoot import atomic, resources
from troubleshoot.egg_classes import EGG_CLASSES

if TYPE_CHECKING:
    from troubleshoot.house_wording import HouseWording

#: Text sizes that can be chosen, in per cent.
TEXT_SIZES = (100, 125, 150, 175, 200)
THEMES = ("system", "light", "dark")
OVENS = ("unknown", "fan", "no-fan")
EGGS = ("unknown", *EGG_CLASSES)
FOOD_RULES = ("unknown", "uk", "us", "own")
CHOCOLATES = ("dark", "milk", "white", "compound")

#: Numbers of the profile, each with the span in which it can lie.
SPANS: Mapping[str, tuple[float, float]] = {
    "altitude_m": (-400.0, 5000.0),
    "oven_off_k": (-80.0, 80.0),
    "flour_protein": (4.0, 18.0),
    "own_cold_c": (-5.0, 15.0),
    "own_out_h": (0.0, 12.0),
}
#: Fat figures of cream that can be in the house, in per cent.
CREAM_SPAN = (3.0, 70.0)
#: The longest name of a kitchen or a role.
LONGEST_LABEL = 60


@dataclass(frozen=True, slots=True)
class Settings:
    """The settings in force.  ``welcomed`` is whether the two first questions were shown.

    From ``altitude_m`` on stands the profile of the kitchen; None and "unknown" say nothing.  ``oven_off_k`` is how
    much hotter the oven is than its dial, ``creams`` are fat figures, ``own_*`` the house's own food-safety limits.
    ``kitchen`` and ``role`` (on shift, never a person's name) stand with each case in the case book.
    """

    fahrenheit: bool = False
    oven: str = "unknown"
    text_size: int = 100
    theme: str = "system"
    welcomed: bool = False
    altitude_m: float | None = None
    oven_off_k: float | None = None
    egg_class: str = "unknown"
    flour_protein: float | None = None
    creams: tuple[float, ...] = ()
    chocolates: tuple[str, ...] = ()
    food_rules: str = "unknown"
    own_cold_c: float | None = None
    own_out_h: float | None = None
    kitchen: str = ""
    role: str = ""
    learn: bool = True

    def wording(self) -> HouseWording:
        """Return how temperatures, oven settings and eggs are shown under these settings."""
        # Imported when it is wanted: the window reads its settings before it can afford the kitchen's arithmetic.
        from troubleshoot.house_wording import HouseWording

        fan = {"fan": True, "no-fan": False}.get(self.oven)
        eggs = "" if self.egg_class == "unknown" else self.egg_class
        return HouseWording(self.fahrenheit, fan, self.oven_off_k or 0.0, eggs)


@dataclass(frozen=True, slots=True)
class Loaded:
    """Settings as read, and what to tell the person when the file could not be used."""

    settings: Settings
    message: str | None = None


def path() -> Path:
    """Return where the settings are kept."""
    return resources.user_settings() / "settings.json"


def load(file: Path | None = None) -> Loaded:
    """Read the settings; a file that cannot be used is kept aside and the usual settings hold."""
    file = file or path()
    try:
        data = json.loads(file.read_text(encoding="utf-8"))
        return Loaded(_checked(data))
    except FileNotFoundError:
        return Loaded(Settings())
    except (OSError, ValueError, TypeError, RecursionError) as error:
        try:
            kept = atomic.set_aside(file)
        except OSError:
            return Loaded(
                Settings(), f"The settings at {file} cannot be read ({_reason(error)}). The usual ones are in force."
            )
        return Loaded(
            Settings(), f"The settings could not be read. They were kept as {kept}; the usual ones are in force."
        )


def _reason(error: Exception) -> str:
    return error.strerror or str(error) if isinstance(error, OSError) else str(error)


def save(settings: Settings, file: Path | None = None) -> None:
    """Keep the settings.  Raises OSError when the folder cannot be written."""
    atomic.write_text(file or path(), json.dumps(dataclasses.asdict(settings), indent=2) + "\n")


def _checked(data: Any) -> Settings:
    if isinstance(data, dict):
        lists = {key: tuple(data[key]) for key in ("creams", "chocolates") if isinstance(data.get(key), list)}
        data = {**data, **lists}
    settings = Settings(**data)
    if not all(isinstance(switch, bool) for switch in (settings.fahrenheit, settings.welcomed, settings.learn)):
        raise TypeError("a switch must be true or false")
    if settings.oven not in OVENS or settings.theme not in THEMES or settings.text_size not in TEXT_SIZES:
        raise ValueError("a setting has a value that cannot be chosen")
    if settings.egg_class not in EGGS or settings.food_rules not in FOOD_RULES:
        raise ValueError("the profile has a word that cannot be chosen")
    for name, (low, high) in SPANS.items():
        _number(getattr(settings, name), low, high)
    for fat in settings.creams:
        _number(fat, *CREAM_SPAN)
    if not set(settings.chocolates) <= set(CHOCOLATES):
        raise ValueError("the profile has a chocolate that is not known")
    for words in (settings.kitchen, settings.role):
        if not isinstance(words, str) or not is_label(words):
            raise ValueError("the profile has a name that is too long or not plain text")
    return settings


def is_label(text: str) -> bool:
    """Return whether a text can name a kitchen or a role: one line, plain characters, not too long."""
    return len(text) <= LONGEST_LABEL and text.isprintable()


def _number(value: object, low: float, high: float) -> None:
    if value is None:
        return
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise TypeError("the profile has a word where a number belongs")
    if not low <= value <= high:
        raise ValueError("the profile has a number out of its span")
