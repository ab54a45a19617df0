"""What a kitchen sets once: units, kind of oven, text size, light or dark.  A broken file is kept aside, and said."""

from __future__ import annotations

import dataclasses
import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from troubleshoot import atomic, resources
from troubleshoot.advice.wording import Wording

#: Text sizes that can be chosen, in per cent.
TEXT_SIZES = (100, 125, 150, 175, 200)
THEMES = ("system", "light", "dark")
OVENS = ("unknown", "fan", "no-fan")


@dataclass(frozen=True, slots=True)
class Settings:
    """The settings in force.  ``welcomed`` is whether the two first questions were shown."""

    fahrenheit: bool = False
    oven: str = "unknown"
    text_size: int = 100
    theme: str = "system"
    welcomed: bool = False

    def wording(self) -> Wording:
        """Return how temperatures and oven settings are shown under these settings."""
        return Wording(self.fahrenheit, {"fan": True, "no-fan": False}.get(self.oven))


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
    except (OSError, ValueError, TypeError) as error:
        try:
            kept = atomic.set_aside(file)
        except OSError:
            return Loaded(Settings(), f"The settings at {file} cannot be read ({error}). The usual ones are in force.")
        return Loaded(
            Settings(), f"The settings could not be read. They were kept as {kept}; the usual ones are in force."
        )


def save(settings: Settings, file: Path | None = None) -> None:
    """Keep the settings.  Raises OSError when the folder cannot be written."""
    atomic.write_text(file or path(), json.dumps(dataclasses.asdict(settings), indent=2) + "\n")


def _checked(data: Any) -> Settings:
    settings = Settings(**data)
    if not isinstance(settings.fahrenheit, bool) or not isinstance(settings.welcomed, bool):
        raise TypeError("a switch must be true or false")
    if settings.oven not in OVENS or settings.theme not in THEMES or settings.text_size not in TEXT_SIZES:
        raise ValueError("a setting has a value that cannot be chosen")
    return settings
