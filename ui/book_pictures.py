"""The pictures of a case of the book, shown small enough that one without end, from elsewhere, costs nothing."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QSize, Qt
from PySide6.QtGui import QImage, QImageReader, QPixmap
from PySide6.QtWidgets import QLabel, QWidget

from troubleshoot.interview.pictures import KEPT_PIXELS, is_whole, kind_of
from ui.style import tokens
from ui.style.sheet import look
from ui.widgets.basic import Panel, Text
from ui.widgets.layouts import WrapRow


def decoded(jpeg: bytes, side: int) -> QImage | None:
    """Return a picture no wider or higher than ``side`` pixels; None for what cannot be one that was kept."""
    if kind_of(jpeg) != "jpeg" or not is_whole(jpeg, "jpeg"):
        return None
    buffer = QBuffer()
    buffer.setData(QByteArray(jpeg))
    buffer.open(QIODevice.OpenModeFlag.ReadOnly)
    reader = QImageReader(buffer, QByteArray(b"jpeg"))
    reader.setAutoDetectImageFormat(False)
    size = reader.size()
    if not size.isValid() or max(size.width(), size.height()) > KEPT_PIXELS:
        return None
    if max(size.width(), size.height()) > side:
        reader.setScaledSize(size.scaled(QSize(side, side), Qt.AspectRatioMode.KeepAspectRatio))
    image = reader.read()
    return None if image.isNull() else image


class CasePictures(Panel):
    """The pictures of a case in order; in the place of one that cannot be shown it says why."""

    def __init__(self, pictures: Sequence[bytes | None], parent: QWidget | None = None) -> None:
        super().__init__(parent=parent)
        self.add(Text(self.tr("Pictures of the batch"), "heading"))
        shown = []
        for number, jpeg in enumerate(pictures, 1):
            image = None if jpeg is None else self._image(jpeg)
            if image is not None:
                shown.append(self._label(number, image))
            elif jpeg is None:
                missing = self.tr("Picture {0} is not in the book. It may lie on the machine it was attached on.")
                self.add(Text(missing.format(number)))
            else:
                self.add(Text(self.tr("Picture {0} is damaged and cannot be shown.").format(number)))
        if shown:
            self.add(WrapRow(*shown))

    def _image(self, jpeg: bytes) -> QImage | None:
        ratio = self.devicePixelRatioF()
        image = decoded(jpeg, round(look().px(tokens.PICTURE) * ratio))
        if image is not None:
            image.setDevicePixelRatio(ratio)
        return image

    def _label(self, number: int, image: QImage) -> QLabel:
        label = QLabel()
        label.setPixmap(QPixmap.fromImage(image))
        label.setAccessibleName(self.tr("Picture {0} of the batch").format(number))
        return label
