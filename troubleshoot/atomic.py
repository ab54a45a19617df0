"""Writing a small file so that a crash leaves the old one or the new one, never half of either."""

from __future__ import annotations

import contextlib
import os
import tempfile
from pathlib import Path


def write_text(path: Path, text: str) -> None:
    """Write ``text`` to ``path`` at once; readable by its owner only.  Raises OSError when it cannot."""
    write_bytes(path, text.encode("utf-8"))


def write_bytes(path: Path, raw: bytes) -> None:
    """Write bytes to ``path`` at once; readable by its owner only.  Raises OSError when it cannot."""
    path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=path.name, suffix=".part")
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(raw)
            stream.flush()
            os.fsync(stream.fileno())
        Path(name).replace(path)
    except BaseException:
        with contextlib.suppress(OSError):
            Path(name).unlink()
        raise


def set_aside(path: Path) -> Path:
    """Move a file that cannot be read out of the way, keeping it, and return where it is now."""
    number = 1
    while True:
        kept = path.with_name(f"{path.name}.unreadable{number}")
        if not kept.exists():
            path.replace(kept)
            return kept
        number += 1
