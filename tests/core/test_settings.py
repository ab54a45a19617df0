"""Settings survive, and a broken settings file is kept aside and said."""

from __future__ import annotations

from pathlib import Path

import pytest

from troubleshoot import settings
from troubleshoot.settings import Settings


def test_settings_come_back_as_saved(tmp_path: Path):
    """What was set is in force the next time."""
    chosen = Settings(fahrenheit=True, oven="fan", text_size=150, theme="dark", welcomed=True)
    settings.save(chosen, tmp_path / "settings.json")
    assert settings.load(tmp_path / "settings.json") == settings.Loaded(chosen)


@pytest.mark.parametrize(
    "text", ["", "{", "[1]", '{"oven": "steam engine"}', '{"text_size": 1000}', '{"unknown": 1}', '{"learn": 1}']
)
def test_a_broken_file_is_kept_aside(tmp_path: Path, text: str):
    """A file that makes no sense is kept under another name, and the usual settings hold."""
    file = tmp_path / "settings.json"
    file.write_text(text, encoding="utf-8")
    loaded = settings.load(file)
    assert loaded.settings == Settings()
    (kept,) = tmp_path.glob("settings.json.unreadable*")
    assert kept.read_text(encoding="utf-8") == text
    assert str(kept) in (loaded.message or "")


def test_no_file_is_no_trouble(tmp_path: Path):
    """The first start has the usual settings and says nothing."""
    assert settings.load(tmp_path / "settings.json") == settings.Loaded(Settings())
