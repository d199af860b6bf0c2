"""What is being typed and not yet saved, so that nothing is lost meanwhile."""

from dataclasses import dataclass
from datetime import datetime
from typing import Any

import sqlalchemy as sa

from slabwright.store import kitchens, sound
from slabwright.store.errors import missing
from slabwright.store.schema import CARD, DRAFT
from slabwright.store.upsert import keep_newest


@dataclass(frozen=True, slots=True)
class Draft:
    """One person's unsaved text."""

    card_id: int | None
    key: str
    """What it is of, such as "new" or "card-12"."""
    author: str
    text: str
    based_on: int
    """The revision that is edited; 0 for none."""
    at: datetime


def keep(
    c: sa.Connection,
    kitchen_id: int,
    key: str,
    author: str,
    text: str,
    at: datetime,
    *,
    card_id: int | None = None,
    based_on: int = 0,
) -> Draft:
    """Keep this in place of what the author typed under that key before.

    Raises:
        MissingError: if there is no such kitchen, or the card isn't its.
        StoreError: if the text can't be kept.
    """
    draft = Draft(
        card_id=card_id,
        key=sound.words(key, "The draft's key", sound.MOST_NAME),
        author=sound.words(author, "The author's name", sound.MOST_NAME),
        text=sound.text(text, "The draft"),
        based_on=based_on,
        at=at,
    )
    if kitchens.one(c, kitchen_id) is None:
        raise missing("kitchen")
    if card_id is not None and not _is_here(c, kitchen_id, card_id):
        raise missing("card")
    row: dict[str, Any] = {field: getattr(draft, field) for field in Draft.__slots__}
    keep_newest(c, DRAFT, {**row, "kitchen_id": kitchen_id})
    return draft


def one(c: sa.Connection, kitchen_id: int, key: str, author: str) -> Draft | None:
    """What this author typed under that key."""
    row = c.execute(
        sa.select(*_COLUMNS).where(*_this(kitchen_id, key, author))
    ).one_or_none()
    return Draft(*row) if row else None


def listed(c: sa.Connection, kitchen_id: int, author: str) -> tuple[Draft, ...]:
    """All that this author has not saved, newest first."""
    found = sa.select(*_COLUMNS).where(
        DRAFT.c.kitchen_id == kitchen_id, DRAFT.c.author == author
    )
    rows = c.execute(found.order_by(DRAFT.c.at.desc(), DRAFT.c.key))
    return tuple(Draft(*row) for row in rows)


def drop(c: sa.Connection, kitchen_id: int, key: str, author: str) -> None:
    """Forget it, if there is such a draft."""
    c.execute(sa.delete(DRAFT).where(*_this(kitchen_id, key, author)))


_COLUMNS = [DRAFT.c[field] for field in Draft.__slots__]


def _this(kitchen_id: int, key: str, author: str) -> tuple[sa.ColumnElement[bool], ...]:
    return (
        DRAFT.c.kitchen_id == kitchen_id,
        DRAFT.c.key == key,
        DRAFT.c.author == author,
    )


def _is_here(c: sa.Connection, kitchen_id: int, card_id: int) -> bool:
    found = sa.select(CARD.c.id).where(
        CARD.c.kitchen_id == kitchen_id, CARD.c.id == card_id
    )
    return c.execute(found).one_or_none() is not None
