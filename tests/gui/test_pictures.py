"""Pictures of the batch, attached to a case as a person attaches them."""

from __future__ import annotations

import struct
import zlib
from pathlib import Path

import pypdf
import pytest
from PySide6.QtGui import QColor, QImage
from PySide6.QtWidgets import QFileDialog, QLabel

from troubleshoot.casebook.store import Book


@pytest.fixture
def photo(tmp_path, qapp) -> Path:
    """A photograph larger than what is kept, as a camera writes it."""
    return made(tmp_path / "photo.jpg", "red", 2400, 1200)


def made(path: Path, colour: str, width: int = 40, height: int = 30) -> Path:
    """A picture of one colour."""
    image = QImage(width, height, QImage.Format.Format_RGB32)
    image.fill(QColor(colour))
    assert image.save(str(path))
    return path


def attach(person, qtbot, monkeypatch, *paths: Path) -> None:
    """Press the button and choose files."""
    chosen = [str(path) for path in paths]
    monkeypatch.setattr(QFileDialog, "getOpenFileNames", lambda *_: (chosen, ""))
    person.click("Attach pictures")
    qtbot.waitUntil(lambda: not person.page.attaching.busy)
    person.settle()


def thumbnails(person) -> list[QLabel]:
    """The small pictures on show."""
    labels = person.window.findChildren(QLabel)
    return [label for label in labels if label.isVisible() and label.accessibleName().startswith("Picture ")]


def test_attached_shown_and_kept(person, qtbot, monkeypatch, photo):
    """A photograph is shown small, kept smaller in the data folder, and saved with the case."""
    person.to_question("paste_runny")
    attach(person, qtbot, monkeypatch, photo)
    (shown,) = thumbnails(person)
    assert shown.pixmap().width() == 2 * shown.pixmap().height()
    (name,) = person.interview.state.pictures
    kept = QImage(str(person.desk.store.pictures.folder / name))
    assert (kept.width(), kept.height()) == (1600, 800)
    (saved,) = list(person.desk.store.folder.glob("*.json"))
    assert name in saved.read_text("utf-8")


def test_still_there_after_a_restart(open_window, qtbot, monkeypatch, photo):
    """Taken up again, the case shows its pictures, on the verdict's page too."""
    person = open_window()
    person.to_question("paste_runny")
    attach(person, qtbot, monkeypatch, photo)
    person.window.close()
    again = open_window()
    again.desk.take_up(again.desk.unfinished()[0])
    qtbot.waitUntil(lambda: again.interview.step == "question")
    again.settle()
    assert len(thumbnails(again)) == 1
    again.desk.act(again.interview.to_verdict)
    again.settle()
    assert len(thumbnails(again)) == 1


def test_removed_by_hand_and_with_the_case(person, qtbot, monkeypatch, photo, tmp_path):
    """A picture taken out is gone from the disk; the others go with their case."""
    person.to_question("paste_runny")
    attach(person, qtbot, monkeypatch, photo, made(tmp_path / "second.png", "blue"))
    folder = person.desk.store.pictures.folder
    assert len(list(folder.iterdir())) == 2
    person.click("Remove picture 1")
    assert len(thumbnails(person)) == 1
    assert len(list(folder.iterdir())) == 1
    person.desk.new_case()
    assert list(folder.iterdir()) == []


def test_kept_for_the_book(person, qtbot, monkeypatch, photo):
    """A case that goes into the case book takes its pictures along."""
    person.to_question("paste_runny")
    attach(person, qtbot, monkeypatch, photo)
    (name,) = person.interview.state.pictures
    person.desk.act(person.interview.to_verdict)
    person.settle()
    person.click("New case")
    qtbot.waitUntil(lambda: not person.desk.book.busy)
    with Book.open() as book:
        assert book.picture(name) == person.desk.store.pictures.read(name) is not None


def test_the_same_picture_twice(person, qtbot, monkeypatch, photo):
    """Attaching a picture again changes nothing."""
    person.to_question("paste_runny")
    attach(person, qtbot, monkeypatch, photo, photo)
    assert len(thumbnails(person)) == 1


def test_printed_with_the_verdict(person, qtbot, monkeypatch, photo, tmp_path):
    """The PDF of the verdict holds the picture under a heading."""
    person.to_question("paste_runny")
    attach(person, qtbot, monkeypatch, photo)
    person.desk.act(person.interview.to_verdict)
    person.settle()
    path = tmp_path / "verdict.pdf"
    assert person.page.save_pdf_as(path)
    pages = pypdf.PdfReader(path).pages
    assert "Pictures" in pages[-1].extract_text() or "Pictures" in pages[-2].extract_text()
    assert sum(len(page.images) for page in pages) == 1


def test_a_giant_picture_is_refused_by_its_head(person, qtbot, monkeypatch, tmp_path):
    """A small file that says it is 100,000 pixels wide and high is never decoded."""
    path = tmp_path / "giant.png"
    head = struct.pack(">IIBBBBB", 100_000, 100_000, 8, 0, 0, 0, 0)
    parts = [(b"IHDR", head), (b"IDAT", zlib.compress(b"")), (b"IEND", b"")]
    chunks = [struct.pack(">I", len(d)) + n + d + struct.pack(">I", zlib.crc32(n + d)) for n, d in parts]
    path.write_bytes(b"\x89PNG\r\n\x1a\n" + b"".join(chunks))
    assert is_refused(person, qtbot, monkeypatch, path, "is too large (100000 by 100000 pixels)")


def test_a_renamed_file_is_refused(person, qtbot, monkeypatch, tmp_path):
    """A text with a picture's name is no picture."""
    path = tmp_path / "recipe.png"
    path.write_text("flour 150 g")
    assert is_refused(person, qtbot, monkeypatch, path, "holds no PNG, JPEG or WebP picture")


def test_a_cut_off_photograph_is_refused(person, qtbot, monkeypatch, photo):
    """Half a photograph is not shown half grey."""
    raw = photo.read_bytes()
    photo.write_bytes(raw[: len(raw) // 2])
    assert is_refused(person, qtbot, monkeypatch, photo, "was cut off")


def test_a_link_is_refused(person, qtbot, monkeypatch, photo, tmp_path):
    """A link is not followed."""
    link = tmp_path / "link.jpg"
    link.symlink_to(photo)
    assert is_refused(person, qtbot, monkeypatch, link, "is a link to another file")


def is_refused(person, qtbot, monkeypatch, path: Path, words: str) -> bool:
    """Attach a file; return whether it was refused in these words, and nothing was attached or kept."""
    person.to_question("paste_runny")
    attach(person, qtbot, monkeypatch, path)
    told = "The picture was not attached." in person.window.shown_strips() and person.sees(words)
    return told and thumbnails(person) == []
