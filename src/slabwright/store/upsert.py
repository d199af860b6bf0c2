"""Keeping the newest of what may be overwritten: drafts, results, kept files."""

from typing import Any

import sqlalchemy as sa
from sqlalchemy.dialects import postgresql, sqlite


def keep_newest(c: sa.Connection, table: sa.Table, row: dict[str, Any]) -> None:
    """Insert this row, or put it in place of the one with its primary key."""
    keys = [column.name for column in table.primary_key]
    values = {name: value for name, value in row.items() if name not in keys}
    if c.dialect.name == "sqlite":
        on_sqlite = sqlite.insert(table).values(row)
        c.execute(on_sqlite.on_conflict_do_update(index_elements=keys, set_=values))
    else:
        on_postgresql = postgresql.insert(table).values(row)
        c.execute(on_postgresql.on_conflict_do_update(index_elements=keys, set_=values))
