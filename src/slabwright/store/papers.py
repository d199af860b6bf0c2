"""The kitchen's own files as texts with their history."""

from dataclasses import dataclass
from datetime import datetime
from typing import Any, Final

import sqlalchemy as sa
from sqlalchemy.exc import IntegrityError

from slabwright.errors import Mistake
from slabwright.store import kitchens, sound
from slabwright.store.errors import EditedMeanwhileError, StoreError, missing
from slabwright.store.schema import PAPER, PAPER_REVISION
from slabwright.store.who import Who

NAMES: Final = ("kitchen.yaml", "larder.yaml", "prices.yaml")
"""What a kitchen may have, each once."""


@dataclass(frozen=True, slots=True)
class Paper:
    """One of a kitchen's files, as it was saved once."""

    name: str
    number: int
    text: str
    has_bom: bool
    author: str
    at: datetime
    note: str


def latest(c: sa.Connection, kitchen_id: int, name: str) -> Paper | None:
    """This paper as it is now, if the kitchen has it."""
    found = _of(kitchen_id, name).where(PAPER_REVISION.c.number == PAPER.c.latest)
    row = c.execute(found).one_or_none()
    return Paper(*row) if row else None


def listed(c: sa.Connection, kitchen_id: int) -> tuple[Paper, ...]:
    """The papers that the kitchen has, as they are now, by name."""
    found = (latest(c, kitchen_id, name) for name in NAMES)
    return tuple(paper for paper in found if paper is not None)


def history(
    c: sa.Connection,
    kitchen_id: int,
    name: str,
    *,
    start: int = 0,
    limit: int | None = None,
) -> tuple[Paper, ...]:
    """All that this paper was, newest first."""
    newest_first = _of(kitchen_id, name).order_by(PAPER_REVISION.c.number.desc())
    rows = c.execute(newest_first.offset(start).limit(limit))
    return tuple(Paper(*row) for row in rows)


def save(
    c: sa.Connection,
    kitchen_id: int,
    name: str,
    text: str,
    who: Who,
    *,
    based_on: int,
    has_bom: bool = False,
) -> Paper:
    """Add a revision to this paper, or begin it.

    Args:
        c: an open transaction.
        kitchen_id: whose paper it is.
        name: one of `NAMES`.
        text: what it says now.
        who: who saves it, when and why.
        based_on: the revision that was edited; 0 where there was none.
        has_bom: whether its file begins with a byte order mark.

    Raises:
        EditedMeanwhileError: if there is another revision by now.
        MissingError: if there is no such kitchen.
        StoreError: if it is no paper of a kitchen, or can't be kept.
    """
    paper = Paper(name, based_on + 1, text, has_bom, who.author, who.at, who.note)
    return add(c, kitchen_id, paper)


def add(c: sa.Connection, kitchen_id: int, paper: Paper) -> Paper:
    """Add this revision, with its number, author and time as they are.

    Raises:
        EditedMeanwhileError: if the one before it is not the latest.
        MissingError: if there is no such kitchen.
        StoreError: if it is no paper of a kitchen, or can't be kept.
    """
    _check(paper)
    if kitchens.one(c, kitchen_id) is None:
        raise missing("kitchen")
    before = latest(c, kitchen_id, paper.name)
    if paper.number != (before.number if before else 0) + 1:
        raise _overtaken(before, paper)
    try:
        with c.begin_nested():
            _insert(c, kitchen_id, paper)
    except IntegrityError as error:
        raise _overtaken(latest(c, kitchen_id, paper.name), paper) from error
    kitchens.move_mark(c, kitchen_id)
    return paper


_COLUMNS = [
    PAPER.c.name,
    *(PAPER_REVISION.c[field] for field in Paper.__slots__ if field != "name"),
]


def _of(kitchen_id: int, name: str) -> sa.Select[Any]:
    joined = sa.join(PAPER, PAPER_REVISION, PAPER_REVISION.c.paper_id == PAPER.c.id)
    return (
        sa.select(*_COLUMNS)
        .select_from(joined)
        .where(PAPER.c.kitchen_id == kitchen_id, PAPER.c.name == name)
    )


def _check(paper: Paper) -> None:
    if paper.name not in NAMES:
        raise StoreError(
            Mistake(
                f"'{paper.name}' is no file of a kitchen's own.",
                f"They are {', '.join(NAMES)}.",
            )
        )
    sound.text(paper.text, paper.name)
    sound.words(paper.author, "The name of who saves it", sound.MOST_NAME)
    sound.words(paper.note, "The note")


def _insert(c: sa.Connection, kitchen_id: int, paper: Paper) -> None:
    this = (PAPER.c.kitchen_id == kitchen_id, PAPER.c.name == paper.name)
    if paper.number == 1:
        row = {"kitchen_id": kitchen_id, "name": paper.name, "latest": 1}
        c.execute(sa.insert(PAPER), row)
    paper_id = c.execute(sa.select(PAPER.c.id).where(*this)).scalar_one()
    values: dict[str, Any] = {
        field: getattr(paper, field) for field in Paper.__slots__ if field != "name"
    }
    ids = {"paper_id": paper_id, "kitchen_id": kitchen_id}
    c.execute(sa.insert(PAPER_REVISION), values | ids)
    c.execute(sa.update(PAPER).where(*this).values(latest=paper.number))


def _overtaken(before: Paper | None, wanted: Paper) -> StoreError:
    if before is not None and wanted.number <= before.number:
        return EditedMeanwhileError(wanted.name, before)
    return missing("revision")
