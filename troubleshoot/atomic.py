"""Writing a small file so that a crash leaves the old one or the new one, never half of either."""

from __future__ import annotations

import contextlib
import errno
import os
import tempfile
from pathlib import Path


def own_folder(path: Path) -> None:
    """Make a folder, with those above it that are missing, each open to its owner only.

    Raises OSError when it cannot; NotADirectoryError names the file that stands in a folder's place.
    """
    # The rights that pathlib takes hold for the last folder alone, not for those it makes on the way.
    if path.is_dir():
        return
    if path.parent != path:
        own_folder(path.parent)
    try:
        path.mkdir(mode=0o700)
    except FileExistsError:
        if not path.is_dir():  # else another process came first
            raise NotADirectoryError(errno.ENOTDIR, os.strerror(errno.ENOTDIR), str(path)) from None


def write_text(path: Path, text: str) -> None:
    """Write ``text`` to ``path`` at once; readable by its owner only.  Raises OSError when it cannot."""
    write_bytes(path, text.encode("utf-8"))


def write_bytes(path: Path, raw: bytes, *, folders: bool = True) -> None:
    """Write bytes to ``path`` at once; readable by its owner only.  Raises OSError when it cannot.

    With ``folders`` off, a folder that is not there is an error: whoever typed its name may have meant another.
    """
    if folders:
        own_folder(path.parent)
    try:
        _write(path, raw)
    except OSError as error:
        # The system names no file when the disk is full, or one that nobody knows.
        raise OSError(error.errno, error.strerror, str(path)) from error


def _write(path: Path, raw: bytes) -> None:
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
