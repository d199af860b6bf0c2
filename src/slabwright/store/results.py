"""What took long to work out, kept under a key made from all that went into it."""

import json
from collections.abc import Mapping
from datetime import datetime
from typing import Any

import sqlalchemy as sa

from slabwright.store import kitchens
from slabwright.store.errors import missing
from slabwright.store.schema import KEPT_RESULT
from slabwright.store.upsert import keep_newest


def kept(c: sa.Connection, kitchen_id: int, key: str) -> dict[str, Any] | None:
    """The result under this key, if this kitchen has it."""
    found = sa.select(KEPT_RESULT.c.value).where(
        KEPT_RESULT.c.kitchen_id == kitchen_id, KEPT_RESULT.c.key == key
    )
    value = c.execute(found).scalar_one_or_none()
    return None if value is None else dict(json.loads(value))


def keep(
    c: sa.Connection,
    kitchen_id: int,
    key: str,
    kind: str,
    value: Mapping[str, Any],
    at: datetime,
) -> None:
    """Keep a result, in place of one under the same key.

    Args:
        c: an open transaction.
        kitchen_id: whose it is.
        key: the hash of its inputs and its model's version.
        kind: what was worked out.
        value: the result, in JSON's values.
        at: when.

    Raises:
        MissingError: if there is no such kitchen.
        ValueError: if JSON can't hold the value, e.g. for an infinity in it.
    """
    if kitchens.one(c, kitchen_id) is None:
        raise missing("kitchen")
    row: dict[str, Any] = {
        "kitchen_id": kitchen_id,
        "key": key,
        "kind": kind,
        "value": json.dumps(value, allow_nan=False),
        "at": at,
    }
    keep_newest(c, KEPT_RESULT, row)


def forget_older(c: sa.Connection, kitchen_id: int, than: datetime) -> int:
    """Drop what was worked out before then, and say how many that were."""
    dropped = sa.delete(KEPT_RESULT).where(
        KEPT_RESULT.c.kitchen_id == kitchen_id, KEPT_RESULT.c.at < than
    )
    return c.execute(dropped).rowcount
