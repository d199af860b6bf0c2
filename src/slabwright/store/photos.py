"""Pictures of a slab, with the revision and step that they show."""

from dataclasses import dataclass
from datetime import datetime
from typing import Any, Final

import sqlalchemy as sa
from sqlalchemy.exc import IntegrityError

from slabwright.errors import Mistake
from slabwright.paths import alike, wrong_path
from slabwright.store import cards, paths, sound
from slabwright.store.errors import StoreError, missing
from slabwright.store.schema import KEPT_FILE, PHOTO, REVISION
from slabwright.store.who import Who

MOST_BYTES: Final = 12 * 1024 * 1024
"""Of one picture."""
MOST_PER_CARD: Final = 200
"""Pictures of one card."""
ENDS: Final = {"image/jpeg": ".jpg", "image/png": ".png", "image/webp": ".webp"}
"""How a file of each kind of picture ends; no other kinds are kept."""

_TRIES: Final = 50


@dataclass(frozen=True, slots=True)
class PhotoRow:
    """All about a picture but itself."""

    id: int
    kitchen_id: int
    card_id: int
    revision: int | None
    """The revision that it shows, if that was said."""
    step_line: int | None
    """The line of the step that it shows, from 1."""
    file: str
    """Its file's name in `photos/`."""
    media_type: str
    width: int
    height: int
    size: int
    """In bytes."""
    caption: str
    author: str
    at: datetime


def add(
    c: sa.Connection,
    kitchen_id: int,
    card_id: int,
    data: bytes,
    who: Who,
    *,
    media_type: str,
    width: int,
    height: int,
    caption: str = "",
    revision: int | None = None,
    step_line: int | None = None,
    file: str = "",
) -> PhotoRow:
    """Keep a picture of a card.

    Args:
        c: an open transaction.
        kitchen_id: whose card it is.
        card_id: that card.
        data: the picture, which was looked at and cleaned before.
        who: who adds it, and when.
        media_type: one of `ENDS`.
        width: of the picture [pixels].
        height: of the picture [pixels].
        caption: what it shows.
        revision: the card's revision that it shows.
        step_line: the line of the step that it shows, from 1.
        file: its file's name, if it has one; else it is made from the card's.

    Raises:
        MissingError: if there is no such card or revision in this kitchen.
        StoreError: if it is too large, of another kind, or one too many.
    """
    card = cards.one(c, kitchen_id, card_id)
    if card is None:
        raise missing("card")
    if revision is not None and not _is_saved(c, card_id, revision):
        raise missing("revision")
    _check(media_type, len(data), len(listed(c, kitchen_id, card_id)))
    row = {
        "kitchen_id": kitchen_id,
        "card_id": card_id,
        "revision": revision,
        "step_line": step_line,
        "media_type": media_type,
        "width": width,
        "height": height,
        "size": len(data),
        "caption": sound.words(caption, "The caption"),
        "author": sound.words(who.author, "The author's name", sound.MOST_NAME),
        "at": who.at,
        "data": data,
    }
    photo = one(c, kitchen_id, _inserted(c, row, card.stem, file))
    if photo is None:
        raise missing("photo")
    return photo


def one(c: sa.Connection, kitchen_id: int, photo_id: int) -> PhotoRow | None:
    """All about this picture, if this kitchen has it."""
    found = _of(kitchen_id).where(PHOTO.c.id == photo_id)
    row = c.execute(found).one_or_none()
    return PhotoRow(*row) if row else None


def listed(c: sa.Connection, kitchen_id: int, card_id: int) -> tuple[PhotoRow, ...]:
    """A card's pictures, oldest first."""
    found = _of(kitchen_id).where(PHOTO.c.card_id == card_id)
    return tuple(PhotoRow(*row) for row in c.execute(found.order_by(PHOTO.c.id)))


def all_of_kitchen(c: sa.Connection, kitchen_id: int) -> tuple[PhotoRow, ...]:
    """Every picture of a kitchen, oldest first."""
    rows = c.execute(_of(kitchen_id).order_by(PHOTO.c.id))
    return tuple(PhotoRow(*row) for row in rows)


def data(c: sa.Connection, kitchen_id: int, photo_id: int) -> bytes | None:
    """The picture itself, if this kitchen has it."""
    found = sa.select(PHOTO.c.data).where(
        PHOTO.c.kitchen_id == kitchen_id, PHOTO.c.id == photo_id
    )
    return c.execute(found).scalar_one_or_none()


def drop(c: sa.Connection, kitchen_id: int, photo_id: int) -> None:
    """Remove a picture and all about it, if this kitchen has it."""
    c.execute(
        sa.delete(PHOTO).where(PHOTO.c.kitchen_id == kitchen_id, PHOTO.c.id == photo_id)
    )


_COLUMNS = [PHOTO.c[field] for field in PhotoRow.__slots__]


def _of(kitchen_id: int) -> sa.Select[Any]:
    return sa.select(*_COLUMNS).where(PHOTO.c.kitchen_id == kitchen_id)


def _is_saved(c: sa.Connection, card_id: int, number: int) -> bool:
    found = sa.select(REVISION.c.number).where(
        REVISION.c.card_id == card_id, REVISION.c.number == number
    )
    return c.execute(found).one_or_none() is not None


def _check(media_type: str, size: int, others: int) -> None:
    if media_type not in ENDS:
        raise StoreError(
            Mistake(
                f"A picture of the kind '{media_type}' is not kept.",
                "Give a JPEG, PNG or WebP.",
            )
        )
    if size > MOST_BYTES:
        raise StoreError(
            Mistake(
                f"The picture has {size / 1024**2:.1f} MiB;"
                f" at most {MOST_BYTES // 1024**2} are kept.",
                "Make it smaller.",
            )
        )
    if others >= MOST_PER_CARD:
        raise StoreError(
            Mistake(f"The card has {others} pictures already.", "Drop one first.")
        )


def _inserted(c: sa.Connection, row: dict[str, Any], stem: str, file: str) -> int:
    """The new picture's id. Its file's name is free among pictures and kept files."""
    for _ in range(_TRIES):
        chosen = _free(c, row["kitchen_id"], stem, ENDS[row["media_type"]], file)
        named = {"file": chosen, "file_key": alike(chosen)}
        try:
            with c.begin_nested():
                added = sa.insert(PHOTO).values(row | named).returning(PHOTO.c.id)
                return int(c.execute(added).scalar_one())
        except IntegrityError:
            continue
    raise StoreError(Mistake("Others keep adding pictures.", "Try again."))


def _free(c: sa.Connection, kitchen_id: int, stem: str, end: str, file: str) -> str:
    ours = sa.select(PHOTO.c.file_key).where(PHOTO.c.kitchen_id == kitchen_id)
    kept = sa.select(KEPT_FILE.c.path_key).where(KEPT_FILE.c.kitchen_id == kitchen_id)
    folder = f"{paths.PHOTOS}/"
    taken = {f"{folder}{key}" for key in c.execute(ours).scalars()}
    taken |= {f"{key}.yaml" for key in taken} | set(c.execute(kept).scalars())

    def is_free(name: str) -> bool:
        path = f"{folder}{alike(name)}"
        return path not in taken and f"{path}.yaml" not in taken

    if file and "/" not in file and not wrong_path(folder + file) and is_free(file):
        return file
    number = 1
    while not is_free(f"{stem}-{number}{end}"):
        number += 1
    return f"{stem}-{number}{end}"
