"""The first tables, and the guards of the revisions."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None

_GUARDED = ("revision", "paper_revision")


def upgrade() -> None:
    """Make them."""
    _kitchen_and_cards()
    _papers()
    _beside_the_cards()
    if op.get_bind().dialect.name == "sqlite":
        _guard_on_sqlite()
    else:
        _guard_on_postgresql()


def _kitchen_and_cards() -> None:
    op.create_table(
        "kitchen",
        _whole("id"),
        _text("name"),
        _whole("mark"),
        _moment("at"),
        sa.PrimaryKeyConstraint("id", name="pk_kitchen"),
        sqlite_autoincrement=True,
    )
    op.create_table(
        "card",
        _whole("id"),
        _whole("kitchen_id"),
        _text("kind"),
        _text("stem"),
        _text("stem_key"),
        _text("name"),
        _flag("is_aside"),
        _whole("current"),
        _whole("latest"),
        _moment("changed_at"),
        _text("search"),
        sa.PrimaryKeyConstraint("id", name="pk_card"),
        _owner("card"),
        sa.CheckConstraint("kind IN ('slab', 'component')", name="ck_card_kind"),
        sa.UniqueConstraint("kitchen_id", "id", name="uq_card_kitchen_id_id"),
        sa.UniqueConstraint(
            "kitchen_id", "kind", "stem_key", name="uq_card_kitchen_id_kind_stem_key"
        ),
        sqlite_autoincrement=True,
    )
    _index("card", "kitchen_id", "kind", "changed_at", "id")
    _index("card", "kitchen_id", "kind", "is_aside", "changed_at", "id")
    op.create_table(
        "revision",
        _whole("card_id"),
        _whole("number"),
        _whole("kitchen_id"),
        _text("text"),
        _flag("has_bom"),
        _text("author"),
        _moment("at"),
        _text("note"),
        _whole("from_number"),
        _flag("is_trial"),
        _flag("is_proved"),
        sa.PrimaryKeyConstraint("card_id", "number", name="pk_revision"),
        _owner("revision"),
        _of_kitchen("revision", "card_id", "card"),
        sa.CheckConstraint(
            "number >= 1 AND from_number < number", name="ck_revision_number"
        ),
    )


def _papers() -> None:
    op.create_table(
        "paper",
        _whole("id"),
        _whole("kitchen_id"),
        _text("name"),
        _whole("latest"),
        sa.PrimaryKeyConstraint("id", name="pk_paper"),
        _owner("paper"),
        sa.UniqueConstraint("kitchen_id", "id", name="uq_paper_kitchen_id_id"),
        sa.UniqueConstraint("kitchen_id", "name", name="uq_paper_kitchen_id_name"),
        sqlite_autoincrement=True,
    )
    op.create_table(
        "paper_revision",
        _whole("paper_id"),
        _whole("number"),
        _whole("kitchen_id"),
        _text("text"),
        _flag("has_bom"),
        _text("author"),
        _moment("at"),
        _text("note"),
        sa.PrimaryKeyConstraint("paper_id", "number", name="pk_paper_revision"),
        _owner("paper_revision"),
        _of_kitchen("paper_revision", "paper_id", "paper"),
        sa.CheckConstraint("number >= 1", name="ck_paper_revision_number"),
    )


def _beside_the_cards() -> None:
    op.create_table(
        "draft",
        _whole("kitchen_id"),
        _text("author"),
        _text("key"),
        sa.Column("card_id", sa.Integer),
        _text("text"),
        _whole("based_on"),
        _moment("at"),
        sa.PrimaryKeyConstraint("kitchen_id", "author", "key", name="pk_draft"),
        _owner("draft"),
        _of_kitchen("draft", "card_id", "card"),
    )
    op.create_table(
        "photo",
        _whole("id"),
        _whole("kitchen_id"),
        _whole("card_id"),
        sa.Column("revision", sa.Integer),
        sa.Column("step_line", sa.Integer),
        _text("file"),
        _text("file_key"),
        _text("media_type"),
        _whole("width"),
        _whole("height"),
        _whole("size"),
        _text("caption"),
        _text("author"),
        _moment("at"),
        sa.Column("data", sa.LargeBinary, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_photo"),
        _owner("photo"),
        _of_kitchen("photo", "card_id", "card"),
        sa.ForeignKeyConstraint(
            ["card_id", "revision"],
            ["revision.card_id", "revision.number"],
            name="fk_photo_card_id_revision",
        ),
        sa.UniqueConstraint(
            "kitchen_id", "file_key", name="uq_photo_kitchen_id_file_key"
        ),
        sqlite_autoincrement=True,
    )
    _index("photo", "kitchen_id", "card_id")
    op.create_table(
        "kept_file",
        _whole("kitchen_id"),
        _text("path"),
        _text("path_key"),
        _whole("size"),
        _moment("at"),
        sa.Column("data", sa.LargeBinary, nullable=False),
        sa.PrimaryKeyConstraint("kitchen_id", "path", name="pk_kept_file"),
        _owner("kept_file"),
        sa.UniqueConstraint(
            "kitchen_id", "path_key", name="uq_kept_file_kitchen_id_path_key"
        ),
    )
    op.create_table(
        "kept_result",
        _whole("kitchen_id"),
        _text("key"),
        _text("kind"),
        _text("value"),
        _moment("at"),
        sa.PrimaryKeyConstraint("kitchen_id", "key", name="pk_kept_result"),
        _owner("kept_result"),
    )
    _index("kept_result", "kitchen_id", "at")


def _guard_on_sqlite() -> None:
    for table in _GUARDED:
        for act in ("UPDATE", "DELETE"):
            op.execute(
                f"CREATE TRIGGER {table}_no_{act.lower()} BEFORE {act} ON {table}"
                " BEGIN SELECT RAISE(ABORT, 'revisions are only added'); END"
            )


def _guard_on_postgresql() -> None:
    op.execute(
        "CREATE FUNCTION slabwright_only_added() RETURNS trigger LANGUAGE plpgsql"
        " AS $$ BEGIN RAISE EXCEPTION 'revisions are only added'; END $$"
    )
    for table in _GUARDED:
        op.execute(
            f"CREATE TRIGGER {table}_only_added"
            f" BEFORE UPDATE OR DELETE OR TRUNCATE ON {table}"
            " FOR EACH STATEMENT EXECUTE FUNCTION slabwright_only_added()"
        )


def _whole(name: str) -> sa.Column[int]:
    return sa.Column(name, sa.Integer, nullable=False)


def _text(name: str) -> sa.Column[str]:
    return sa.Column(name, sa.Text, nullable=False)


def _flag(name: str) -> sa.Column[bool]:
    return sa.Column(name, sa.Boolean, nullable=False)


def _moment(name: str) -> sa.Column[object]:
    return sa.Column(name, sa.DateTime(timezone=True), nullable=False)


def _owner(table: str) -> sa.ForeignKeyConstraint:
    name = f"fk_{table}_kitchen_id"
    return sa.ForeignKeyConstraint(["kitchen_id"], ["kitchen.id"], name=name)


def _of_kitchen(table: str, column: str, other: str) -> sa.ForeignKeyConstraint:
    return sa.ForeignKeyConstraint(
        ["kitchen_id", column],
        [f"{other}.kitchen_id", f"{other}.id"],
        name=f"fk_{table}_kitchen_id_{column}",
    )


def _index(table: str, *columns: str) -> None:
    op.create_index("_".join(("ix", table, *columns)), table, list(columns))
