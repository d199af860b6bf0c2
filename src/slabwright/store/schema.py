"""The tables. Every row belongs to a kitchen, and the engine holds it to that."""

from datetime import UTC, datetime
from typing import Final

import sqlalchemy as sa
from sqlalchemy import Boolean, CheckConstraint, Column, Index, Integer, Text

METADATA: Final = sa.MetaData(
    naming_convention={
        "ix": "ix_%(table_name)s_%(column_0_N_name)s",
        "uq": "uq_%(table_name)s_%(column_0_N_name)s",
        "ck": "ck_%(table_name)s_%(constraint_name)s",
        "fk": "fk_%(table_name)s_%(column_0_N_name)s",
        "pk": "pk_%(table_name)s",
    }
)


class Utc(sa.types.TypeDecorator[datetime]):
    """A moment: given with a time zone, kept and given back in UTC."""

    impl = sa.DateTime(timezone=True)
    cache_ok = True

    def process_bind_param(
        self, value: datetime | None, dialect: sa.Dialect
    ) -> datetime | None:
        """What the engine keeps."""
        if value is None:
            return None
        if value.tzinfo is None:
            raise ValueError(f"{value} has no time zone")
        moment = value.astimezone(UTC)
        return moment.replace(tzinfo=None) if dialect.name == "sqlite" else moment

    def process_result_value(
        self, value: datetime | None, dialect: sa.Dialect
    ) -> datetime | None:
        """What it stands for."""
        if value is None:
            return None
        return (
            value.replace(tzinfo=UTC)
            if dialect.name == "sqlite"
            else value.astimezone(UTC)
        )


def _id() -> Column[int]:
    return Column("id", Integer, primary_key=True)


def _kitchen_id(*, primary_key: bool = False) -> Column[int]:
    owner = sa.ForeignKey("kitchen.id")
    return Column("kitchen_id", Integer, owner, nullable=False, primary_key=primary_key)


def _text(name: str, *, primary_key: bool = False) -> Column[str]:
    return Column(name, Text, nullable=False, primary_key=primary_key)


def _number(name: str, *, primary_key: bool = False) -> Column[int]:
    return Column(name, Integer, nullable=False, primary_key=primary_key)


def _flag(name: str) -> Column[bool]:
    return Column(name, Boolean, nullable=False)


def _moment(name: str = "at") -> Column[datetime]:
    return Column(name, Utc, nullable=False)


def _of_kitchen(column: str, table: str) -> sa.ForeignKeyConstraint:
    """Both lie in one kitchen, or the row is refused."""
    return sa.ForeignKeyConstraint(
        ["kitchen_id", column], [f"{table}.kitchen_id", f"{table}.id"]
    )


KITCHEN: Final = sa.Table(
    "kitchen",
    METADATA,
    _id(),
    _text("name"),
    _number("mark"),  # grows when what cards lean on changes
    _moment(),
    sqlite_autoincrement=True,
)

CARD: Final = sa.Table(
    "card",
    METADATA,
    _id(),
    _kitchen_id(),
    _text("kind"),
    _text("stem"),
    _text("stem_key"),  # as file systems without capitals see it
    _text("name"),
    _flag("is_aside"),
    _number("current"),
    _number("latest"),
    _moment("changed_at"),
    _text("search"),
    CheckConstraint("kind IN ('slab', 'component')", "kind"),
    sa.UniqueConstraint("kitchen_id", "id"),
    sa.UniqueConstraint("kitchen_id", "kind", "stem_key"),
    Index(None, "kitchen_id", "kind", "changed_at", "id"),
    Index(None, "kitchen_id", "kind", "is_aside", "changed_at", "id"),
    sqlite_autoincrement=True,
)

REVISION: Final = sa.Table(
    "revision",
    METADATA,
    _number("card_id", primary_key=True),
    _number("number", primary_key=True),
    _kitchen_id(),
    _text("text"),
    _flag("has_bom"),
    _text("author"),
    _moment(),
    _text("note"),
    _number("from_number"),
    _flag("is_trial"),
    _flag("is_proved"),
    CheckConstraint("number >= 1 AND from_number < number", "number"),
    _of_kitchen("card_id", "card"),
)

PAPER: Final = sa.Table(
    "paper",
    METADATA,
    _id(),
    _kitchen_id(),
    _text("name"),
    _number("latest"),
    sa.UniqueConstraint("kitchen_id", "id"),
    sa.UniqueConstraint("kitchen_id", "name"),
    sqlite_autoincrement=True,
)

PAPER_REVISION: Final = sa.Table(
    "paper_revision",
    METADATA,
    _number("paper_id", primary_key=True),
    _number("number", primary_key=True),
    _kitchen_id(),
    _text("text"),
    _flag("has_bom"),
    _text("author"),
    _moment(),
    _text("note"),
    CheckConstraint("number >= 1", "number"),
    _of_kitchen("paper_id", "paper"),
)

DRAFT: Final = sa.Table(
    "draft",
    METADATA,
    _kitchen_id(primary_key=True),
    _text("author", primary_key=True),
    _text("key", primary_key=True),
    Column("card_id", Integer),
    _text("text"),
    _number("based_on"),
    _moment(),
    _of_kitchen("card_id", "card"),
)

PHOTO: Final = sa.Table(
    "photo",
    METADATA,
    _id(),
    _kitchen_id(),
    _number("card_id"),
    Column("revision", Integer),
    Column("step_line", Integer),
    _text("file"),
    _text("file_key"),
    _text("media_type"),
    _number("width"),
    _number("height"),
    _number("size"),
    _text("caption"),
    _text("author"),
    _moment(),
    Column("data", sa.LargeBinary, nullable=False),
    _of_kitchen("card_id", "card"),
    sa.ForeignKeyConstraint(
        ["card_id", "revision"], ["revision.card_id", "revision.number"]
    ),
    sa.UniqueConstraint("kitchen_id", "file_key"),
    Index(None, "kitchen_id", "card_id"),
    sqlite_autoincrement=True,
)

KEPT_FILE: Final = sa.Table(
    "kept_file",
    METADATA,
    _kitchen_id(primary_key=True),
    _text("path", primary_key=True),
    _text("path_key"),
    _number("size"),
    _moment(),
    Column("data", sa.LargeBinary, nullable=False),
    sa.UniqueConstraint("kitchen_id", "path_key"),
)

KEPT_RESULT: Final = sa.Table(
    "kept_result",
    METADATA,
    _kitchen_id(primary_key=True),
    _text("key", primary_key=True),
    _text("kind"),
    _text("value"),
    _moment(),
    Index(None, "kitchen_id", "at"),
)
