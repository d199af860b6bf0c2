"""Kitchens: whose everything else is."""

from dataclasses import dataclass
from datetime import datetime

import sqlalchemy as sa

from slabwright.store import sound
from slabwright.store.errors import missing
from slabwright.store.schema import KITCHEN


@dataclass(frozen=True, slots=True)
class KitchenRow:
    """One kitchen."""

    id: int
    name: str


def add(c: sa.Connection, name: str, at: datetime) -> KitchenRow:
    """A new kitchen, empty.

    Raises:
        StoreError: if that is no name.
    """
    sound.name(name, "The kitchen")
    added = sa.insert(KITCHEN).values(name=name, mark=0, at=at)
    return KitchenRow(_new_id(c, added), name)


def listed(c: sa.Connection) -> tuple[KitchenRow, ...]:
    """All of them, oldest first."""
    rows = c.execute(_KITCHENS.order_by(KITCHEN.c.id))
    return tuple(KitchenRow(*row) for row in rows)


def one(c: sa.Connection, kitchen_id: int) -> KitchenRow | None:
    """This kitchen, if there is one."""
    row = c.execute(_KITCHENS.where(KITCHEN.c.id == kitchen_id)).one_or_none()
    return KitchenRow(*row) if row else None


def rename(c: sa.Connection, kitchen_id: int, name: str) -> None:
    """Give it another name.

    Raises:
        MissingError: if there is no such kitchen.
        StoreError: if that is no name.
    """
    sound.name(name, "The kitchen")
    renamed = sa.update(KITCHEN).where(KITCHEN.c.id == kitchen_id).values(name=name)
    if not c.execute(renamed).rowcount:
        raise missing("kitchen")


def mark(c: sa.Connection, kitchen_id: int) -> int:
    """A number that grows when what its slabs lean on changes; 0 for no kitchen."""
    found = sa.select(KITCHEN.c.mark).where(KITCHEN.c.id == kitchen_id)
    return c.execute(found).scalar_one_or_none() or 0


def move_mark(c: sa.Connection, kitchen_id: int) -> None:
    """Tell everybody that what its slabs lean on has changed."""
    moved = sa.update(KITCHEN).where(KITCHEN.c.id == kitchen_id)
    c.execute(moved.values(mark=KITCHEN.c.mark + 1))


_KITCHENS = sa.select(KITCHEN.c.id, KITCHEN.c.name)


def _new_id(c: sa.Connection, added: sa.Insert) -> int:
    return int(c.execute(added.returning(KITCHEN.c.id)).scalar_one())
