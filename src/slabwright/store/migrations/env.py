"""Runs the steps on the connection that `store.migrate` hands over."""

from typing import Final

from alembic import context

VERSION_TABLE: Final = "slabwright_schema"
"""Holds the version of the tables; its presence tells a store of ours."""


def run() -> None:
    """Every step that is wanting, in the transaction that is open."""
    context.configure(
        connection=context.config.attributes["connection"],
        version_table=VERSION_TABLE,
        transactional_ddl=True,
    )
    context.run_migrations()


if __name__ == "env_py":  # the name under which alembic runs this file
    run()
