"""Pictures of the batch: attached from files, shown small, kept with the case."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from pathlib import Path

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QObject, QSize, Qt, Signal
from PySide6.QtGui import QColor, QImage, QImageReader, QPainter, QPixmap
from PySide6.QtWidgets import QFileDialog, QLabel, QWidget

from troubleshoot.interview.pictures import (
    ENDINGS,
    KEPT_PIXELS,
    MAX_PIXELS,
    MOST_PICTURES,
    PictureError,
    read_file,
)
from ui.desk import Desk
from ui.rules_watch import Background
from ui.style import tokens
from ui.style.sheet import look
from ui.widgets.basic import Button, Panel, Text
from ui.widgets.layouts import Column, WrapRow

#: A decoder may take no more memory than this, in megabytes: room for the most pixels at four bytes each.
MOST_MEMORY_MB = 4 * MAX_PIXELS // 1_000_000
QUALITY = 85


def small_jpeg(path: Path) -> bytes:
    """Return a picture file as a JPEG no larger than is kept, upright, on white.

    Raises PictureError for a file that cannot be taken or holds too many pixels.
    """
    raw, kind = read_file(path)
    QImageReader.setAllocationLimit(MOST_MEMORY_MB)
    buffer = QBuffer()
    buffer.setData(QByteArray(raw))
    buffer.open(QIODevice.OpenModeFlag.ReadOnly)
    reader = QImageReader(buffer, QByteArray(kind.encode()))
    reader.setAutoDetectImageFormat(False)
    reader.setAutoTransform(True)
    size = reader.size()
    if not size.isValid():
        raise PictureError(_broken(path))
    if size.width() * size.height() > MAX_PIXELS:
        shown = f"{size.width()} by {size.height()}"
        raise PictureError(f"“{path.name}” is too large ({shown} pixels). Save a smaller copy of it and choose that.")
    if max(size.width(), size.height()) > KEPT_PIXELS:
        reader.setScaledSize(size.scaled(KEPT_PIXELS, KEPT_PIXELS, Qt.AspectRatioMode.KeepAspectRatio))
    image = reader.read()
    if image.isNull():
        raise PictureError(_broken(path))
    return _jpeg(image)


def _broken(path: Path) -> str:
    return f"“{path.name}” is damaged and cannot be shown. Take the picture again, or copy it again."


def _jpeg(image: QImage) -> bytes:
    paper = QImage(image.size(), QImage.Format.Format_RGB32)
    paper.fill(QColor(Qt.GlobalColor.white))
    painter = QPainter(paper)
    painter.drawImage(0, 0, image)
    painter.end()
    made = QBuffer()
    made.open(QIODevice.OpenModeFlag.WriteOnly)
    paper.save(made, "JPEG", QUALITY)
    return bytes(made.data().data())


def images(desk: Desk, names: Sequence[str]) -> tuple[QImage, ...]:
    """Return the kept pictures of these names; what is gone from the folder is left out."""
    raws = (desk.store.pictures.read(name) for name in names)
    found = (QImage.fromData(QByteArray(raw), "JPEG") for raw in raws if raw is not None)
    return tuple(image for image in found if not image.isNull())


class Attaching(QObject):
    """Takes pictures into the case that is open, off the event loop; it outlives the panel that shows them."""

    changed = Signal()

    def __init__(self, desk: Desk, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.desk = desk
        self._background = Background(self)

    @property
    def busy(self) -> bool:
        """Whether a picture is being made smaller."""
        return self._background.busy

    def attach(self, paths: Sequence[Path]) -> None:
        """Attach picture files to the case that is open now; what cannot be taken is said."""
        case_id = self.desk.case_id
        for path in paths:
            self._background.do(partial(small_jpeg, path), partial(self._have, case_id))

    def _have(self, case_id: str, brought: object) -> None:
        if case_id != self.desk.case_id:
            return
        kept = self.tr("The pictures before are kept.")
        if isinstance(brought, PictureError):
            self.desk.say(self.tr("The picture was not attached."), kept, str(brought))
        elif isinstance(brought, Exception):
            raise brought
        elif len(self.desk.interview.state.pictures) >= MOST_PICTURES:
            advice = self.tr("Remove one first: a case takes {0}.").format(MOST_PICTURES)
            self.desk.say(self.tr("The picture was not attached."), kept, advice)
        else:
            assert isinstance(brought, bytes)
            self._keep(brought)

    def _keep(self, jpeg: bytes) -> None:
        try:
            name = self.desk.store.pictures.keep(jpeg)
        except OSError as error:
            happened = self.tr("The picture could not be kept ({0}).").format(error.strerror or error)
            folder = self.desk.store.pictures.folder
            self.desk.say(happened, self.tr("Your answers are kept."), self.tr("Make room in {0}.").format(folder))
            return
        self.desk.interview.attach(name)
        self.changed.emit()

    def remove(self, name: str) -> None:
        """Take a picture out of the case."""
        self.desk.interview.detach(name)
        try:
            self.desk.store.forget_picture(name)
        except OSError as error:
            self.desk.say(self.tr("The picture's file could not be removed ({0}).").format(error.strerror or error))
        self.changed.emit()


class Pictures(Panel):
    """A button to attach pictures of the batch, and those that are attached."""

    def __init__(self, attaching: Attaching, parent: QWidget | None = None) -> None:
        super().__init__("card", parent)
        self.attaching = attaching
        self._shown: tuple[str, ...] | None = None
        attaching.changed.connect(self.show_now)
        self.add(Text(self.tr("Pictures of the batch"), "strong"))
        self._row = Column()
        add = Button(self.tr("Attach pictures …"), name=self.tr("Attach pictures"))
        add.clicked.connect(self.choose)
        about = Text(self.tr("They stay with the case, and go into the case book with it."), tone="soft")
        self.add(self._row, WrapRow(add), about)
        self.show_now()

    def show_now(self) -> None:
        """Show the pictures that the case has now."""
        names = self.attaching.desk.interview.state.pictures
        if names == self._shown:
            return
        self._shown = names
        while (item := self._row.column.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        self._row.setVisible(bool(names))
        if names:
            self._row.add(WrapRow(*(self._thumbnail(number, name) for number, name in enumerate(names, 1))))

    def choose(self) -> None:
        """Ask for picture files and attach them."""
        endings = " ".join(f"*{ending}" for endings in ENDINGS.values() for ending in endings)
        kinds = self.tr("Pictures ({0})").format(endings)
        chosen, _ = QFileDialog.getOpenFileNames(self, self.tr("Attach pictures"), "", kinds)
        self.attaching.attach([Path(path) for path in chosen])

    def _thumbnail(self, number: int, name: str) -> QWidget:
        side = look().px(tokens.TILE_DRAWING)
        shown = QLabel()
        shown.setTextFormat(Qt.TextFormat.PlainText)
        found = images(self.attaching.desk, [name])
        if found:
            ratio = self.devicePixelRatioF()
            room = QSize(side, side) * ratio
            small = found[0].scaled(
                room, Qt.AspectRatioMode.KeepAspectRatio, Qt.TransformationMode.SmoothTransformation
            )
            small.setDevicePixelRatio(ratio)
            shown.setPixmap(QPixmap.fromImage(small))
        else:
            shown.setText(self.tr("The file is gone."))
        shown.setAccessibleName(self.tr("Picture {0} of the batch").format(number))
        away = Button(self.tr("Remove"), name=self.tr("Remove picture {0}").format(number))
        away.clicked.connect(partial(self.attaching.remove, name))
        return Column(shown, away, gap=tokens.HALF)
