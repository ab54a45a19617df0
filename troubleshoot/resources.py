"""The only place that knows where data lies: beside the package, or inside it once installed."""

from __future__ import annotations

import os
from functools import cache
from importlib.resources import files
from pathlib import Path

import platformdirs

APP_NAME = "batchmend"


@cache
def folder(name: str) -> Path:
    """Return the folder of packaged data called ``name`` (``rules`` or ``assets``).

    In a wheel it lies inside the package; in a checkout beside it, where
    ``pyproject.toml`` stands too.  Raises FileNotFoundError when it is nowhere.
    """
    package = Path(str(files("troubleshoot")))
    inside = package / name
    if inside.is_dir():
        return inside
    beside = package.parent / name
    if beside.is_dir() and (package.parent / "pyproject.toml").is_file():
        return beside
    if not package.is_dir():
        raise FileNotFoundError(f"the program cannot run from inside a zip file ({package}); unpack it, or install it")
    raise FileNotFoundError(f"the installation is incomplete: there is no folder '{name}' at {inside} or {beside}")


def drawing(name: str) -> Path:
    """Return the path of a drawing named as in the rules (``choux/profile/disc``); it may not exist.

    Raises FileNotFoundError for a name that leads out of the folder of drawings.
    """
    root = (folder("assets") / "drawings").resolve()
    path = (root / f"{name}.svg").resolve()
    if not path.is_relative_to(root):
        raise FileNotFoundError(f"the drawing '{name}' does not lie in {root}")
    return path


def user_data() -> Path:
    """Return the folder for cases in hand; ``BATCHMEND_DATA`` overrides the system's choice."""
    override = os.environ.get("BATCHMEND_DATA")
    return Path(override) if override else Path(platformdirs.user_data_path(APP_NAME, appauthor=False))


def user_settings() -> Path:
    """Return the folder for settings; ``BATCHMEND_SETTINGS`` overrides the system's choice."""
    override = os.environ.get("BATCHMEND_SETTINGS")
    return Path(override) if override else Path(platformdirs.user_config_path(APP_NAME, appauthor=False))


def user_cache() -> Path | None:
    """Return the folder for what can be made again; ``BATCHMEND_CACHE`` overrides it, or switches it ``off``."""
    override = os.environ.get("BATCHMEND_CACHE")
    if override == "off":
        return None
    return Path(override) if override else Path(platformdirs.user_cache_path(APP_NAME, appauthor=False))
