"""How tables stand in a backup: a line of JSON for each row, pictures apart."""

import hashlib
import json
from collections.abc import Generator
from dataclasses import dataclass
from datetime import datetime
from typing import Any, Final

import sqlalchemy as sa

from slabwright.store.schema import METADATA, Utc
from slabwright.store.sound import is_text

TABLES: Final = tuple(METADATA.sorted_tables)
"""Each after those that it leans on."""

Row = dict[str, Any]

_LARGEST: Final = 2**31


class OddRowError(ValueError):
    """A line that is no row of its table."""


@dataclass(frozen=True, slots=True)
class Blob:
    """A picture or file that lies in a part of its own."""

    sha256: str


def part_name(table: sa.Table) -> str:
    """What a table's part of a backup is called."""
    return f"{table.name}.jsonl"


def blob_name(sha256: str) -> str:
    """What the part of a picture or file is called."""
    return f"blobs/{sha256}"


def holds_blobs(table: sa.Table) -> bool:
    """Whether rows of this table have pictures or files."""
    return any(isinstance(column.type, sa.LargeBinary) for column in table.columns)


def rows(c: sa.Connection, table: sa.Table) -> Generator[Row, None, None]:
    """Every row, in the same order on every engine, a few in memory at a time."""
    order = (_by_bytes(c, column) for column in table.primary_key)
    few = 4 if holds_blobs(table) else 500
    found = sa.select(table).order_by(*order).execution_options(yield_per=few)
    with c.execute(found) as result:
        for row in result.mappings():
            yield dict(row)


def line_of(row: Row) -> bytes:
    """A row as a line: the same row always gives the same bytes."""
    said = {name: _said(value) for name, value in row.items()}
    text = json.dumps(said, ensure_ascii=False, separators=(",", ":"))
    return f"{text}\n".encode()


def digest(c: sa.Connection, table: sa.Table) -> str:
    """SHA-256 of a table's lines."""
    found = hashlib.sha256()
    for row in rows(c, table):
        found.update(line_of(row))
    return found.hexdigest()


def row_of(table: sa.Table, line: bytes) -> Row:
    """The row on a line, its pictures and files as `Blob`.

    Raises:
        OddRowError: if the line is no row of this table.
    """
    try:
        said = json.loads(line)
    except (ValueError, RecursionError) as error:
        raise OddRowError("it is no JSON") from error
    names = {column.name for column in table.columns}
    if not isinstance(said, dict) or said.keys() != names:
        raise OddRowError("it has other columns")
    return {column.name: _value(column, said[column.name]) for column in table.columns}


def _by_bytes(c: sa.Connection, column: sa.Column[Any]) -> sa.ColumnElement[Any]:
    """SQLite compares text by its bytes; PostgreSQL by a language, unless told."""
    is_text_there = isinstance(column.type, sa.Text) and c.dialect.name == "postgresql"
    return column.collate("C") if is_text_there else column


def _said(value: object) -> object:
    if isinstance(value, datetime):
        return value.isoformat()
    if isinstance(value, bytes):
        return {"sha256": hashlib.sha256(value).hexdigest()}
    return value


def _value(column: sa.Column[Any], said: object) -> object:
    if said is None and column.nullable:
        return None
    value = _read(column, said)
    if value is None:
        raise OddRowError(f"its '{column.name}' is odd")
    return value


def _read(column: sa.Column[Any], said: object) -> object:
    """What it says; None if that can't stand in this column."""
    match column.type, said:
        case sa.Boolean(), bool():
            return said
        case sa.Integer(), int() if not isinstance(said, bool):
            return said if -_LARGEST <= said < _LARGEST else None
        case sa.Text(), str():
            return said if is_text(said) else None
        case Utc(), str():
            return _moment(said)
        case sa.LargeBinary(), {"sha256": str(sha256), **rest} if not rest:
            return Blob(sha256)
    return None


def _moment(said: str) -> datetime | None:
    try:
        found = datetime.fromisoformat(said)
    except ValueError:
        return None
    return found if found.tzinfo is not None else None
