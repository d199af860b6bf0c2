"""Other files of a kitchen folder, kept so that it can be given back as it came."""

from dataclasses import dataclass
from datetime import datetime
from typing import Any, Final

import sqlalchemy as sa

from slabwright.errors import Mistake, Where
from slabwright.paths import alike, wrong_path
from slabwright.store import kitchens, paths
from slabwright.store.errors import StoreError, missing
from slabwright.store.schema import KEPT_FILE, PHOTO
from slabwright.store.upsert import keep_newest

MOST_BYTES: Final = 16 * 1024 * 1024
"""Of one file."""
MOST_FILES: Final = 5000
"""In one kitchen."""
MOST_BYTES_IN_ALL: Final = 512 * 1024 * 1024
"""In one kitchen."""


@dataclass(frozen=True, slots=True)
class KeptFile:
    """All about a file but what is in it."""

    path: str
    """Within the kitchen's folder."""
    size: int
    """In bytes."""
    at: datetime
    """When it came."""


def keep(
    c: sa.Connection, kitchen_id: int, path: str, data: bytes, at: datetime
) -> KeptFile:
    """Keep a file, in place of the one at this path.

    Raises:
        MissingError: if there is no such kitchen.
        StoreError: if that is no path for it, or it is too large or one too many.
    """
    mistake = wrong_path(path) or _taken(c, kitchen_id, path)
    if mistake:
        raise StoreError(mistake)
    if kitchens.one(c, kitchen_id) is None:
        raise missing("kitchen")
    _check_room(c, kitchen_id, path, len(data))
    file = KeptFile(path, len(data), at)
    row: dict[str, Any] = {
        "kitchen_id": kitchen_id,
        "path": path,
        "path_key": alike(path),
        "size": file.size,
        "at": at,
        "data": data,
    }
    keep_newest(c, KEPT_FILE, row)
    return file


def listed(c: sa.Connection, kitchen_id: int) -> tuple[KeptFile, ...]:
    """A kitchen's kept files, in the order of their paths."""
    columns = [KEPT_FILE.c[field] for field in KeptFile.__slots__]
    found = sa.select(*columns).where(KEPT_FILE.c.kitchen_id == kitchen_id)
    files = (KeptFile(*row) for row in c.execute(found))
    return tuple(sorted(files, key=lambda file: file.path))


def data(c: sa.Connection, kitchen_id: int, path: str) -> bytes | None:
    """What is in this file, if this kitchen has it."""
    found = sa.select(KEPT_FILE.c.data).where(*_this(kitchen_id, path))
    return c.execute(found).scalar_one_or_none()


def drop(c: sa.Connection, kitchen_id: int, path: str) -> None:
    """Remove it, if this kitchen has it."""
    c.execute(sa.delete(KEPT_FILE).where(*_this(kitchen_id, path)))


def _this(kitchen_id: int, path: str) -> tuple[sa.ColumnElement[bool], ...]:
    return (KEPT_FILE.c.kitchen_id == kitchen_id, KEPT_FILE.c.path == path)


def _taken(c: sa.Connection, kitchen_id: int, path: str) -> Mistake | None:
    """That another file lies there, or might on a file system without capitals."""
    if paths.is_ours(path):
        what = "A file of this name belongs to a card, a paper or a history."
        return Mistake(what, "Keep it under another name.", Where(path))
    clash = sa.select(KEPT_FILE.c.path).where(
        KEPT_FILE.c.kitchen_id == kitchen_id,
        KEPT_FILE.c.path_key == alike(path),
        KEPT_FILE.c.path != path,
    )
    other = c.execute(clash).scalar_one_or_none()
    if other is None and _is_picture(c, kitchen_id, path):
        other = path
    if other is None:
        return None
    what = f"There is '{other}' already, which is the same to some file systems."
    return Mistake(what, "Rename one of them.", Where(path))


def _is_picture(c: sa.Connection, kitchen_id: int, path: str) -> bool:
    folder, _, file = path.rpartition("/")
    if folder.casefold() != paths.PHOTOS:
        return False
    keys = {alike(file), alike(file).removesuffix(".yaml")}
    found = sa.select(sa.func.count()).where(
        PHOTO.c.kitchen_id == kitchen_id, PHOTO.c.file_key.in_(keys)
    )
    return bool(c.execute(found).scalar_one())


def _check_room(c: sa.Connection, kitchen_id: int, path: str, size: int) -> None:
    if size > MOST_BYTES:
        what = f"The file has {size / 1024**2:.1f} MiB; at most 16 are kept."
        raise StoreError(Mistake(what, "Leave it out.", Where(path)))
    others = sa.select(
        sa.func.count(), sa.func.coalesce(sa.func.sum(KEPT_FILE.c.size), 0)
    ).where(KEPT_FILE.c.kitchen_id == kitchen_id, KEPT_FILE.c.path != path)
    number, in_all = c.execute(others).one()
    if number >= MOST_FILES or in_all + size > MOST_BYTES_IN_ALL:
        what = f"The kitchen keeps {number:,} files with {in_all / 1024**2:.0f} MiB."
        raise StoreError(Mistake(what, "Leave out what isn't needed.", Where(path)))
