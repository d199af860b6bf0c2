"""Opening the store, and the two ways of standing in it: reading and writing."""

import sqlite3
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, Final

import sqlalchemy as sa
from sqlalchemy.exc import ArgumentError, DatabaseError, OperationalError

from slabwright.errors import Mistake
from slabwright.store.errors import StoreError
from slabwright.store.migrate import bring_up

PRAGMAS: Final = (
    "busy_timeout=10000",
    "journal_mode=WAL",  # who reads doesn't wait for who writes
    "synchronous=FULL",  # what is committed is on the disk
    "foreign_keys=ON",
    "recursive_triggers=ON",  # or REPLACE would slip past those that guard revisions
)
"""What every connection to SQLite is told first."""

_WAITS_S: Final = (0.01, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0)
_READS: Final = "slabwright_reads"


def sqlite_url(path: Path) -> str:
    """The address of a store in this file, whatever characters its path has."""
    return sa.URL.create("sqlite", database=str(path)).render_as_string()


def open_store(url: str) -> sa.Engine:
    """The store at this address, made if need be, its tables the newest.

    Args:
        url: as `sqlite_url` gives it, or `postgresql+psycopg://…`.

    Raises:
        StoreError: if it can't be opened, is no store of ours, or a newer one.
    """
    engine = _engine(url)
    try:
        with engine.begin() as connection:
            bring_up(connection)
    except DatabaseError as error:
        engine.dispose()
        raise StoreError(
            Mistake(
                f"'{_shown(engine.url)}' can't be opened: {_reason(error)}.",
                "Check the address; the file or database must be a store.",
            )
        ) from error
    except StoreError:
        engine.dispose()
        raise
    return engine


@contextmanager
def reading(engine: sa.Engine) -> Iterator[sa.Connection]:
    """A look at the store as it is now: it stays so meanwhile, and can't be changed.

    Raises:
        StoreError: if the engine gives out.
    """
    options: dict[str, Any] = {_READS: True}
    if engine.dialect.name == "postgresql":
        options |= {"isolation_level": "REPEATABLE READ", "postgresql_readonly": True}
    with (
        _in_words(),
        engine.connect() as plain,
        plain.execution_options(**options) as connection,
        connection.begin(),
    ):
        yield connection


@contextmanager
def writing(engine: sa.Engine) -> Iterator[sa.Connection]:
    """One act of the user in one transaction: all of it is kept, or nothing.

    Raises:
        StoreError: if the engine gives out, e.g. for want of room.
    """
    with _in_words(), engine.begin() as connection:
        yield connection


@contextmanager
def _in_words() -> Iterator[None]:
    try:
        yield
    except OperationalError as error:
        raise StoreError(
            Mistake(
                f"The store can't do it: {_reason(error)}.",
                "Nothing was changed. See that its disk has room, then try again.",
            )
        ) from error


def _engine(url: str) -> sa.Engine:
    try:
        address = sa.make_url(url)
    except ArgumentError as error:
        raise _no_address(url.partition(":")[0]) from error
    if address.drivername == "sqlite" and address.database not in {None, ":memory:"}:
        _make_folder(Path(str(address.database)).parent)
        engine = sa.create_engine(address)
        sa.event.listen(engine, "connect", _connect)
        sa.event.listen(engine, "begin", _begin)
        return engine
    if address.drivername == "postgresql+psycopg":
        return sa.create_engine(address, pool_pre_ping=True)
    raise _no_address(address.drivername)


def _connect(connection: Any, _record: object) -> None:
    connection.isolation_level = None  # or it would begin transactions of its own
    for pragma in PRAGMAS:
        _tell(connection, pragma)


def _tell(connection: Any, pragma: str) -> None:
    """SQLite doesn't wait with a new file's journal while another opens it too."""
    for wait_s in _WAITS_S:
        try:
            connection.execute(f"PRAGMA {pragma}")
        except sqlite3.OperationalError:
            time.sleep(wait_s)
        else:
            return
    connection.execute(f"PRAGMA {pragma}")


def _begin(connection: sa.Connection) -> None:
    reads = connection.get_execution_options().get(_READS, False)
    connection.exec_driver_sql(f"PRAGMA query_only={int(reads)}")
    # A writer that began as a reader could be told in its middle to begin again.
    connection.exec_driver_sql("BEGIN" if reads else "BEGIN IMMEDIATE")


def _make_folder(folder: Path) -> None:
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise StoreError(
            Mistake(
                f"The folder '{folder}' can't be made: {error.strerror}.",
                "Name another place for the store.",
            )
        ) from error


def _no_address(scheme: str) -> StoreError:
    return StoreError(
        Mistake(
            f"'{scheme}' is no address of a store.",
            "Write sqlite:/// and a path, or postgresql+psycopg:// and a database.",
        )
    )


def _shown(url: sa.URL) -> str:
    return url.render_as_string(hide_password=True)


def _reason(error: DatabaseError) -> str:
    return " ".join(str(error.orig).split()).rstrip(".")
