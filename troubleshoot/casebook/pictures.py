"""Pictures of cases as rows of the book, so that a copy of it, and every kitchen that shares it, has them too.

A picture is kept once, under the digest of its bytes, however many cases name it.  What a book from elsewhere holds is
only taken for a picture when it is small enough and its bytes are those that its name stands for.
"""

from __future__ import annotations

import hashlib
from collections.abc import Collection, Iterable, Iterator

from sqlalchemy import ColumnElement, Connection, delete, func, literal_column, select
from sqlalchemy.dialects import postgresql, sqlite

from troubleshoot.casebook.tables import PICTURE_FILES, PICTURES
from troubleshoot.interview.pictures import is_name

#: A kept picture is at most 1600 pixels long and wide, which as a JPEG stays well below this.
MOST_BYTES = 4_000_000

_FILES = PICTURE_FILES.c


def is_sound(name: str, jpeg: bytes) -> bool:
    """Return whether the bytes are those that ``name`` stands for, and no more than the book takes."""
    return is_name(name) and len(jpeg) <= MOST_BYTES and f"{hashlib.sha256(jpeg).hexdigest()}.jpg" == name


def insert(connection: Connection, found: Iterable[tuple[str, bytes]]) -> int:
    """Put the sound ones of some pictures into the book, one after the other, and return how many are now in it."""
    dialect = sqlite if connection.dialect.name == "sqlite" else postgresql
    number = 0
    for name, jpeg in found:
        if is_sound(name, jpeg):
            connection.execute(dialect.insert(PICTURE_FILES).on_conflict_do_nothing(), {"name": name, "jpeg": jpeg})
            number += 1
    return number


def missing(connection: Connection, among: Collection[str] | None = None) -> tuple[str, ...]:
    """Return the names that cases give to pictures which the book does not hold, in order; ``among`` these names."""
    asked = select(PICTURES.c.name).distinct().where(PICTURES.c.name.not_in(select(_FILES.name)))
    if among is not None:
        asked = asked.where(PICTURES.c.name.in_(list(among)))
    return tuple(sorted(connection.scalars(asked)))


def read(connection: Connection, name: str) -> bytes | None:
    """Return a picture; None when the book has none of this name, or it is not what its name stands for."""
    asked = select(_FILES.jpeg).where(_FILES.name == name, *_bounded(connection))
    jpeg = connection.execute(asked).scalar_one_or_none()
    return jpeg if jpeg is not None and is_sound(name, jpeg) else None


def each(connection: Connection) -> Iterator[tuple[str, bytes]]:
    """Yield every sound picture in order of name, one in memory at a time."""
    for name in connection.scalars(select(_FILES.name).order_by(_FILES.name)).all():
        jpeg = read(connection, name)
        if jpeg is not None:
            yield name, jpeg


def unsound(connection: Connection) -> tuple[str, ...]:
    """Return the names under which something else lies than they stand for."""
    names = connection.scalars(select(_FILES.name).order_by(_FILES.name)).all()
    return tuple(name for name in names if read(connection, name) is None)


def count(connection: Connection) -> int:
    """Return how many pictures the book holds."""
    return connection.execute(select(func.count()).select_from(PICTURE_FILES)).scalar_one()


def remove_unnamed(connection: Connection, among: Collection[str] | None = None) -> None:
    """Remove pictures that no case names any more; ``among`` these names."""
    if among is not None and not among:
        return
    gone = delete(PICTURE_FILES).where(_FILES.name.not_in(select(PICTURES.c.name)))
    connection.execute(gone if among is None else gone.where(_FILES.name.in_(list(among))))


def _bounded(connection: Connection) -> list[ColumnElement[bool]]:
    """Return what holds back a value that must not be fetched: one too large, or in a file one that is no bytes."""
    bounds: list[ColumnElement[bool]] = [func.length(_FILES.jpeg) <= MOST_BYTES]
    if connection.dialect.name == "sqlite":
        # SQLite keeps any kind of value in any column; a number would be read as so many bytes of nothing.
        bounds.append(func.typeof(_FILES.jpeg) == literal_column("'blob'"))
    return bounds
