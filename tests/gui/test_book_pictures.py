"""The pictures of a case, as somebody sees them who opens it in the Case book."""

from __future__ import annotations

import shutil
import struct
from dataclasses import replace

import pytest
from book_person import case, press, ready, shown_cases
from PySide6.QtCore import QBuffer, QIODevice
from PySide6.QtGui import QColor, QImage
from PySide6.QtWidgets import QLabel

from troubleshoot.casebook import entry
from troubleshoot.casebook.store import Book
from troubleshoot.interview.pictures import PictureStore
from ui.book_pictures import decoded


def jpeg(colour: str, width: int = 800, height: int = 400) -> bytes:
    """A picture of one colour."""
    image = QImage(width, height, QImage.Format.Format_RGB32)
    image.fill(QColor(colour))
    made = QBuffer()
    made.open(QIODevice.OpenModeFlag.WriteOnly)
    image.save(made, "JPEG")
    return bytes(made.data().data())


def put(*jpegs: bytes) -> None:
    """Put a case with these pictures into the kitchen's book."""
    names = tuple(PictureStore().keep(one) for one in jpegs)
    with Book.open() as book:
        entry.put(book, replace(case(1), pictures=names))


def pictures(person) -> list[QLabel]:
    """The pictures on show."""
    labels = person.window.findChildren(QLabel)
    return [label for label in labels if label.isVisible() and label.accessibleName().startswith("Picture ")]


@pytest.fixture
def open_case(open_window):
    """Return a function that opens a window and, in the Case book, the only case."""

    def go():
        person = open_window()
        person.window.go("book")
        ready(person)
        press(person, shown_cases(person)[0])
        return person

    return go


def test_a_case_shows_its_pictures_from_the_book(open_case):
    """With nothing left in the folder of pictures they come from the book, in order and in their shape."""
    put(jpeg("red"), jpeg("blue", 400, 800))
    shutil.rmtree(PictureStore().folder)
    first, second = pictures(open_case())
    assert first.pixmap().width() == 2 * first.pixmap().height()
    assert second.pixmap().height() == 2 * second.pixmap().width()
    middle = first.pixmap().toImage().pixelColor(20, 20)
    assert middle.red() > 200
    assert middle.blue() < 60


def test_pictures_stay_on_show_when_something_is_noted(open_case):
    """Saying whether the verdict was right takes no picture away."""
    put(jpeg("red"))
    person = open_case()
    press(person, "It was right")
    assert len(pictures(person)) == 1


def test_a_picture_that_lies_elsewhere_is_said(open_case):
    """A picture that neither the book nor this machine has is named as missing, and the rest is shown."""
    with Book.open() as book:
        book.add(replace(case(1), pictures=(PictureStore().keep(jpeg("red")), f"{'0' * 64}.jpg")))
    person = open_case()
    assert len(pictures(person)) == 1
    assert person.sees("Picture 2 is not in the book. It may lie on the machine it was attached on.")


def test_a_picture_that_says_it_is_giant_is_not_decoded(qapp):
    """The head of a JPEG that promises 65,000 by 65,000 pixels is refused; the same without it is shown."""
    raw = jpeg("red", 64, 64)
    # Height and width stand after the mark of the frame, its length and its precision (ITU-T T.81, B.2.2).
    frame = raw.index(b"\xff\xc0") + 5
    giant = raw[:frame] + struct.pack(">HH", 65_000, 65_000) + raw[frame + 4 :]
    assert decoded(raw, 32) is not None
    assert decoded(giant, 32) is None


def test_a_damaged_picture_is_said(open_case):
    """Bytes that are no picture, under a name that is theirs, are told as damaged."""
    put(b"no picture at all")
    assert open_case().sees("Picture 1 is damaged and cannot be shown.")
