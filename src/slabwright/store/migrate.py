"""Brings the tables of a database up to what this program knows."""

from pathlib import Path
from typing import Final

import sqlalchemy as sa
from alembic import command
from alembic.config import Config
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory

from slabwright.errors import Mistake
from slabwright.store import migrations
from slabwright.store.errors import StoreError
from slabwright.store.migrations.env import VERSION_TABLE

_LOCK: Final = 7_512_077
"""PostgreSQL's advisory lock that is held meanwhile; any number of our own."""


def version(connection: sa.Connection) -> str | None:
    """Of the tables in this database; None where there are none of ours."""
    options = {"version_table": VERSION_TABLE}
    return MigrationContext.configure(connection, opts=options).get_current_revision()


def newest() -> str:
    """The version that this program works with."""
    head = ScriptDirectory.from_config(_config()).get_current_head()
    if head is None:
        raise RuntimeError("the steps of the tables are not installed")
    return head


def bring_up(connection: sa.Connection) -> None:
    """Make or change the tables, in the transaction that is open.

    Raises:
        StoreError: if they are another program's, or a newer one's.
    """
    if connection.dialect.name == "postgresql":
        connection.execute(sa.select(sa.func.pg_advisory_xact_lock(_LOCK)))
    found = version(connection)
    config = _config()
    if found is None and sa.inspect(connection).get_table_names():
        raise StoreError(
            Mistake(
                "The database holds tables, but is no store of slabwright's.",
                "Name another database; an empty one will do.",
            )
        )
    steps = ScriptDirectory.from_config(config).walk_revisions()
    if found is not None and found not in {step.revision for step in steps}:
        raise StoreError(
            Mistake(
                f"The store is newer than this program (its version is {found},"
                f" the program's {newest()}).",
                "Install the newest slabwright; nothing in the store was changed.",
            )
        )
    if found != newest():
        config.attributes["connection"] = connection
        command.upgrade(config, "head")


def _config() -> Config:
    config = Config()
    folder = str(Path(migrations.__file__).parent)
    config.set_main_option("script_location", folder.replace("%", "%%"))
    return config
