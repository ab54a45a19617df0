"""What may be taken as a picture, decided before anything decodes it, and where pictures are kept."""

from __future__ import annotations

import hashlib
import os
import struct
import zlib
from pathlib import Path

import pytest

from troubleshoot.interview.pictures import MAX_FILE_BYTES, PictureError, PictureStore, read_file
from troubleshoot.interview.state import VERDICT, State
from troubleshoot.interview.store import CaseStore, from_data, to_data

#: Start, a segment that holds a whole small picture, start of a scan with one byte of data, end (ITU-T T.81, annex B).
THUMBNAIL = b"\xff\xd8\xff\xda\x00\x02\x11\xff\xd9"
JPEG = (
    b"\xff\xd8\xff\xe1"
    + struct.pack(">H", 2 + len(THUMBNAIL))
    + THUMBNAIL
    + b"\xff\xda\x00\x02\x00\x10\xff\x00\xff\xd9"
)
WEBP = b"RIFF" + struct.pack("<I", 12) + b"WEBPVP8 \x00\x00\x00\x00"


def png(width: int = 1, height: int = 1) -> bytes:
    """A PNG of black pixels (PNG, Third Edition, 5.3: length, name, data, check sum)."""

    def chunk(name: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))

    head = struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)
    rows = zlib.compress(b"\x00" * (height * (width + 1)))
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", rows) + chunk(b"IEND", b"")


@pytest.mark.parametrize(
    ("name", "raw", "kind"),
    [("a.png", png(), "png"), ("a.JPG", JPEG, "jpeg"), ("a.jpeg", JPEG, "jpeg"), ("a.webp", WEBP, "webp")],
)
def test_pictures_are_taken(tmp_path, name, raw, kind):
    """PNG, JPEG and WebP by their usual names."""
    (tmp_path / name).write_bytes(raw)
    assert read_file(tmp_path / name) == (raw, kind)


@pytest.mark.parametrize(
    ("name", "raw", "words"),
    [
        ("notes.png", b"egg 250 g", "holds no PNG, JPEG or WebP picture"),
        ("drawing.png", b"<svg xmlns='http://www.w3.org/2000/svg'/>", "holds no PNG, JPEG or WebP picture"),
        ("photo.jpg", png(), "holds a PNG picture under another name"),
        ("photo.png", JPEG, "holds a JPEG picture under another name"),
        ("photo.jpg", JPEG[:-2], "was cut off"),
        ("photo.jpg", JPEG[:20], "was cut off"),
        ("photo.png", png()[:-12], "was cut off"),
        ("photo.webp", WEBP[:-2], "was cut off"),
        ("photo.png", b"", "holds no PNG, JPEG or WebP picture"),
    ],
)
def test_what_is_no_whole_picture_is_refused(tmp_path, name, raw, words):
    """The message names the file and says what is wrong with it."""
    (tmp_path / name).write_bytes(raw)
    with pytest.raises(PictureError, match=words) as error:
        read_file(tmp_path / name)
    assert name in str(error.value)


def test_a_link_is_refused(tmp_path):
    """A link may lead anywhere, so it is not followed."""
    (tmp_path / "real.png").write_bytes(png())
    (tmp_path / "link.png").symlink_to(tmp_path / "real.png")
    with pytest.raises(PictureError, match="is a link"):
        read_file(tmp_path / "link.png")


def test_a_huge_file_is_refused_unread(tmp_path):
    """A file beyond the bound is refused by its size alone."""
    with (tmp_path / "huge.png").open("wb") as stream:
        stream.truncate(MAX_FILE_BYTES + 1)
    with pytest.raises(PictureError, match="larger than 40 MB"):
        read_file(tmp_path / "huge.png")


def test_a_folder_a_pipe_and_nothing_are_refused(tmp_path):
    """What is no file is refused at once; a pipe that nobody writes to does not hold the program up."""
    (tmp_path / "folder.png").mkdir()
    os.mkfifo(tmp_path / "pipe.png")
    for name in ("folder.png", "pipe.png", "missing.png"):
        with pytest.raises(PictureError, match=name):
            read_file(tmp_path / name)


def test_kept_under_its_own_digest_once(tmp_path):
    """The name is the SHA-256 of the bytes; the same picture is kept once."""
    store = PictureStore(tmp_path)
    name = store.keep(b"picture")
    assert name == f"{hashlib.sha256(b'picture').hexdigest()}.jpg"
    assert store.keep(b"picture") == name
    assert [path.name for path in tmp_path.iterdir()] == [name]
    assert store.read(name) == b"picture"


def test_a_changed_or_foreign_file_is_not_read(tmp_path):
    """Bytes that are not those of the name are not shown, and no name leads out of the folder."""
    store = PictureStore(tmp_path / "pictures")
    name = store.keep(b"picture")
    (tmp_path / "pictures" / name).write_bytes(b"another")
    (tmp_path / "secret.jpg").write_bytes(b"secret")
    assert store.read(name) is None
    assert store.read("../secret.jpg") is None


def _case(*pictures: str) -> State:
    return State(step=VERDICT, family="choux", fault="pale", pictures=pictures)


def test_removed_with_the_last_case_that_names_it(tmp_path: Path):
    """A picture goes with its case, unless another case names it or something else keeps it."""
    store = CaseStore(tmp_path / "cases")
    shared, own, booked = (store.pictures.keep(raw) for raw in (b"shared", b"own", b"booked"))
    store.save("one", _case(shared, own))
    store.save("two", _case(shared))
    store.save("three", _case(booked))
    store.discard("one")
    assert store.pictures.read(shared) == b"shared"
    assert store.pictures.read(own) is None
    store.discard("two")
    assert store.pictures.read(shared) is None
    store.discard("three", keep_pictures=True)
    assert store.pictures.read(booked) == b"booked"


def test_a_case_saved_before_there_were_pictures(tmp_path):
    """Old case files are read as they are."""
    data = to_data(_case())
    del data["pictures"]
    assert from_data(data) == _case()


def test_a_case_file_that_names_a_path(tmp_path):
    """A case file cannot make the program read or remove anything but a kept picture."""
    data = {**to_data(_case()), "pictures": ["../../settings.json"]}
    with pytest.raises(ValueError, match="no picture has such a name"):
        from_data(data)
