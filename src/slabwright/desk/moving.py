"""A whole kitchen in and out: from a folder, a packed folder, and back again."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import Literal

import sqlalchemy as sa

from slabwright.errors import FileError, Mistake
from slabwright.files.folder import folder_from
from slabwright.files.kitchen_file import sound_kitchen
from slabwright.files.packed import folder_files
from slabwright.files.raw import Text, decoded
from slabwright.store import kitchens
from slabwright.store.engine import writing
from slabwright.store.folder import PutIn, put_in
from slabwright.store.who import Who

UNNAMED = "Kitchen"
"""What a kitchen is called until somebody names it."""
_FOLDER = folder_from({})


def first_kitchen(engine: sa.Engine, demo: Path | None, at: datetime) -> int:
    """The store's kitchen; a new store gets one, empty or from a folder.

    Args:
        engine: an open store.
        demo: a kitchen folder for a new store; None for an empty kitchen.
        at: now.
    """
    with writing(engine) as connection:
        there = kitchens.listed(connection)
        if there:
            return there[0].id
        row = kitchens.add(connection, UNNAMED, at)
        if demo is not None:
            take_in_folder(connection, row.id, demo, at)
        return row.id


def take_in_folder(
    connection: sa.Connection, kitchen_id: int, path: Path, at: datetime
) -> PutIn:
    """Everything in a kitchen folder on disk."""
    files, mistakes = folder_files(path)
    came = take_in(connection, kitchen_id, files, Who("", at, "from a folder"))
    return replace(came, refused=(*mistakes, *came.refused))


def take_in(
    connection: sa.Connection,
    kitchen_id: int,
    files: Iterable[tuple[str, bytes]],
    who: Who,
) -> PutIn:
    """The files of a kitchen folder, by their paths in it.

    The kitchen takes the name that its kitchen.yaml says, if it has none yet.

    Raises:
        FileError: if there are files, and none of them is a kitchen's.
    """
    every = list(files)
    came = put_in(connection, kitchen_id, every, who, facts_of)
    if came.kept and not (came.came or came.unchanged or came.refused):
        what = "There is no kitchen in it: no card, and none of a kitchen's papers."
        do = "Name the folder in which slabs/ or kitchen.yaml stands; nothing was kept."
        raise FileError(Mistake(what, do))
    paper = next((data for name, data in every if name == "kitchen.yaml"), None)
    row = kitchens.one(connection, kitchen_id)
    if paper is not None and row is not None and row.name == UNNAMED:
        name = _name_of(paper)
        if name:
            kitchens.rename(connection, kitchen_id, name)
    return came


def _name_of(paper: bytes) -> str:
    """What a kitchen.yaml calls its kitchen, whatever else is wrong with it."""
    try:
        kitchen, _ = sound_kitchen(decoded(paper, "kitchen.yaml"))
    except FileError:
        return ""
    return kitchen.name


def facts_of(text: str) -> tuple[str, Literal["slab", "component"], bool]:
    """What the store must know of a card: its name, its kind, whether it is proved."""
    card = _FOLDER.read(Text(text)).card
    return card.name, "component" if card.is_component else "slab", bool(card.proved)
