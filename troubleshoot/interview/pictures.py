"""Pictures of a batch: what may be taken in, and where it is kept.

A picture comes from outside, so it is looked at before anything decodes it.  What is kept is not the file itself but
a smaller JPEG made of it, named after its own bytes; places and dates that a camera writes into a file are not kept.
"""

from __future__ import annotations

import hashlib
import os
import re
import stat
import struct
from collections.abc import Collection, Iterable
from pathlib import Path

from troubleshoot import atomic, resources
from troubleshoot.errors import UserError

#: A file larger than this, or a picture of more pixels, is refused before it can cost time or memory.
MAX_FILE_BYTES = 40_000_000
MAX_PIXELS = 50_000_000

#: So many pictures are kept with one case.
MOST_PICTURES = 12

#: A kept picture is at most so long and so wide.
KEPT_PIXELS = 1600

#: What can be attached: the endings of file names by kind.
ENDINGS = {"jpeg": (".jpg", ".jpeg"), "png": (".png",), "webp": (".webp",)}

_NAME = re.compile(r"[0-9a-f]{64}\.jpg")
_PNG = b"\x89PNG\r\n\x1a\n"
_START_OF_SCAN, _END_OF_IMAGE = 0xDA, b"\xff\xd9"


class PictureError(UserError):
    """A file cannot be taken as a picture; the message says why and what to do."""


def is_name(name: str) -> bool:
    """Return whether ``name`` could be the name of a kept picture; no path can."""
    return _NAME.fullmatch(name) is not None


def read_file(path: Path) -> tuple[bytes, str]:
    """Return the bytes of a picture file and its kind: jpeg, png or webp.

    Raises PictureError for a link, a folder, a device, a file that is too large, one that holds no such picture or
    another kind than its name says, and one that was cut off.
    """
    if path.is_symlink():
        raise PictureError(f"“{path.name}” is a link to another file. Choose the picture itself.")
    raw = _raw(path)
    kind = kind_of(raw)
    if kind is None:
        raise PictureError(f"“{path.name}” holds no PNG, JPEG or WebP picture. Save it as one of these first.")
    if path.suffix.casefold() not in ENDINGS[kind]:
        right = ENDINGS[kind][0]
        raise PictureError(
            f"“{path.name}” holds a {kind.upper()} picture under another name. Rename it to end in {right}."
        )
    if not is_whole(raw, kind):
        raise PictureError(f"“{path.name}” was cut off: its end is missing. Copy it again from the camera or phone.")
    return raw, kind


def _raw(path: Path) -> bytes:
    flags = os.O_RDONLY | getattr(os, "O_BINARY", 0) | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0)
    try:
        with os.fdopen(os.open(path, flags), "rb") as stream:
            about = os.fstat(stream.fileno())
            if not stat.S_ISREG(about.st_mode):
                raise PictureError(f"“{path.name}” is no file. Choose a picture file.")
            if about.st_size > MAX_FILE_BYTES:
                most = MAX_FILE_BYTES // 1_000_000
                raise PictureError(
                    f"“{path.name}” is larger than {most} MB. Save a smaller copy of it and choose that."
                )
            return stream.read(MAX_FILE_BYTES + 1)
    except OSError as error:
        reason = error.strerror or error
        raise PictureError(f"“{path.name}” cannot be read ({reason}). Choose a file you may read.") from error


def kind_of(raw: bytes) -> str | None:
    """Return what kind of picture the first bytes tell of; None when it is none of those taken."""
    if raw.startswith(_PNG):
        return "png"
    if raw.startswith(b"\xff\xd8\xff"):
        return "jpeg"
    return "webp" if raw[:4] == b"RIFF" and raw[8:12] == b"WEBP" else None


def is_whole(raw: bytes, kind: str) -> bool:
    """Return whether a picture's end is there.  A decoder would fill what is missing with grey and say nothing.

    Source of the marks: PNG (Third Edition) 5.6, ITU-T T.81 annex B, RFC 9649 section 2.
    """
    if kind == "png":
        return b"IEND" in raw[-4096:]
    if kind == "webp":
        return len(raw) >= 8 + int(struct.unpack("<I", raw[4:8])[0])
    scan = _first_scan(raw)
    # Inside a scan 0xff is always followed by 0 or a restart mark, so the end mark can only be the end.
    return scan is not None and raw.find(_END_OF_IMAGE, scan) >= 0


def _first_scan(raw: bytes) -> int | None:
    """Return where the first scan of a JPEG begins; a small picture inside a segment before it is passed over."""
    at = 2
    while at + 4 <= len(raw) and raw[at] == 0xFF:
        mark, length = raw[at + 1], int(struct.unpack(">H", raw[at + 2 : at + 4])[0])
        if mark == _START_OF_SCAN:
            return at
        at += 1 if mark == 0xFF else 2 + length
    return None


class PictureStore:
    """The folder of kept pictures, each under the digest of its bytes."""

    def __init__(self, folder: Path | None = None) -> None:
        self.folder = folder or resources.user_data() / "pictures"

    def keep(self, jpeg: bytes) -> str:
        """Keep a picture and return its name; the same picture is kept once.  Raises OSError when it cannot."""
        name = f"{hashlib.sha256(jpeg).hexdigest()}.jpg"
        if self.read(name) is None:
            atomic.write_bytes(self.folder / name, jpeg)
        return name

    def read(self, name: str) -> bytes | None:
        """Return a kept picture; None when it is gone or its bytes are not those that its name stands for."""
        if not is_name(name):
            return None
        try:
            raw = (self.folder / name).read_bytes()
        except OSError:
            return None
        return raw if f"{hashlib.sha256(raw).hexdigest()}.jpg" == name else None

    def remove(self, names: Iterable[str], still_used: Collection[str] = ()) -> None:
        """Remove pictures that nothing uses any more.  Raises OSError when one cannot be removed."""
        for name in names:
            if is_name(name) and name not in still_used:
                (self.folder / name).unlink(missing_ok=True)
