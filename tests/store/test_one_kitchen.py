"""No query crosses kitchens: with another's id there is nothing to see or to change."""

import inspect
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
import sqlalchemy as sa

from slabwright.store import (
    cards,
    drafts,
    folder,
    kept_files,
    papers,
    photos,
    results,
    revisions,
)
from slabwright.store.backup_parts import TABLES, line_of, rows
from slabwright.store.errors import MissingError
from tests.store.kitchen import DAY, NOOR, TEXT, a_card, later, read_card, saved

ROOMS = (cards, drafts, folder, kept_files, papers, photos, results, revisions)

Act = Callable[[sa.Connection, int], Any]

FINDS: dict[Act, object] = {
    lambda c, k: cards.one(c, k, 1): None,
    lambda c, k: cards.by_stem(c, k, "slab", "lantern-walk"): None,
    lambda c, k: cards.listed(c, k, "slab", limit=9): (),
    lambda c, k: cards.counted(c, k, "slab"): 0,
    lambda c, k: cards.all_texts(c, k, "slab"): (),
    cards.revision_mark: 0,
    lambda c, k: revisions.one(c, k, 1, 1): None,
    lambda c, k: revisions.listed(c, k, 1): (),
    lambda c, k: revisions.trials(c, k, 1): (),
    lambda c, k: drafts.one(c, k, "new", "Noor"): None,
    lambda c, k: drafts.listed(c, k, "Noor"): (),
    lambda c, k: drafts.drop(c, k, "new", "Noor"): None,
    lambda c, k: papers.latest(c, k, "larder.yaml"): None,
    papers.listed: (),
    lambda c, k: papers.history(c, k, "larder.yaml"): (),
    lambda c, k: photos.one(c, k, 1): None,
    lambda c, k: photos.listed(c, k, 1): (),
    photos.all_of_kitchen: (),
    lambda c, k: photos.data(c, k, 1): None,
    lambda c, k: photos.drop(c, k, 1): None,
    kept_files.listed: (),
    lambda c, k: kept_files.data(c, k, "README.md"): None,
    lambda c, k: kept_files.drop(c, k, "README.md"): None,
    lambda c, k: results.kept(c, k, "key"): None,
    lambda c, k: results.forget_older(c, k, later(999).at): 0,
    lambda c, k: tuple(folder.taken_out(c, k)): (),
    lambda c, k: folder.put_in(c, k, [], NOOR, read_card).came: (),
}
REFUSES: tuple[Act, ...] = (
    lambda c, k: cards.set_aside(c, k, 1, True),
    lambda c, k: cards.rename(c, k, 1, "Mine"),
    lambda c, k: revisions.save(c, k, 1, "mine", NOOR, based_on=1),
    lambda c, k: revisions.save(c, k, 1, "mine", NOOR, based_on=1, as_trial=True),
    lambda c, k: revisions.take_up(c, k, 1, 2, NOOR),
    lambda c, k: revisions.restore(c, k, 1, 1, NOOR),
    lambda c, k: revisions.keep_beside(
        c, k, revisions.Revision(1, 9, "x", False, "", DAY, "", 0, True, False)
    ),
    lambda c, k: drafts.keep(c, k, "new", "Noor", "mine", DAY, card_id=1),
    lambda c, k: photos.add(
        c, k, 1, b"", NOOR, media_type="image/png", width=1, height=1
    ),
)
NO_KITCHEN: tuple[Act, ...] = (
    a_card,
    lambda c, k: cards.add_with_history(c, k, "slab", "x", []),
    lambda c, k: papers.save(c, k, "larder.yaml", "mine", NOOR, based_on=0),
    lambda c, k: papers.add(
        c, k, papers.Paper("larder.yaml", 1, "", False, "", DAY, "")
    ),
    lambda c, k: kept_files.keep(c, k, "README.md", b"", DAY),
    lambda c, k: results.keep(c, k, "key", "kind", {}, DAY),
    lambda c, k: drafts.keep(c, k, "new", "Noor", "mine", DAY),
)


@pytest.fixture
def full(c: sa.Connection, kitchen: int) -> int:
    """A kitchen with something of everything."""
    card = a_card(c, kitchen)
    saved(c, card, "trial", 1, is_trial=True)
    a_card(c, kitchen, "Ganache", kind="component")
    drafts.keep(c, kitchen, "new", "Noor", TEXT, DAY, card_id=card.id)
    papers.save(c, kitchen, "larder.yaml", "[]", NOOR, based_on=0)
    photos.add(
        c, kitchen, card.id, b"x", NOOR, media_type="image/png", width=1, height=1
    )
    kept_files.keep(c, kitchen, "README.md", b"x", DAY)
    results.keep(c, kitchen, "key", "kind", {"a": 1}, DAY)
    assert (card.id, len(photos.listed(c, kitchen, card.id))) == (1, 1)
    return kitchen


def everything(c: sa.Connection) -> list[bytes]:
    return [line_of(row) for table in TABLES for row in rows(c, table)]


def test_another_kitchen_finds_nothing_and_changes_nothing(
    c: sa.Connection, full: int, theirs: int
) -> None:
    before = everything(c)

    for act, nothing in FINDS.items():
        found = act(c, theirs)
        assert found == nothing, inspect.getsource(act)
    assert everything(c) == before
    for act, nothing in FINDS.items():  # with its own id there is something
        is_silent = re.search(r"drop|put_in", inspect.getsource(act))
        assert act(c, full) != nothing or is_silent


@pytest.mark.parametrize("act", REFUSES, ids=range(len(REFUSES)))
def test_another_kitchen_is_refused_and_changes_nothing(
    c: sa.Connection, full: int, theirs: int, act: Act
) -> None:
    before = everything(c)

    with pytest.raises(MissingError, match="This kitchen has no such"):
        act(c, theirs)
    assert everything(c) == before
    act(c, full)  # its own may
    assert everything(c) != before


@pytest.mark.parametrize("act", NO_KITCHEN, ids=range(len(NO_KITCHEN)))
def test_what_is_no_kitchen_gets_nothing(
    c: sa.Connection, full: int, theirs: int, act: Act
) -> None:
    before = everything(c)

    with pytest.raises(MissingError, match="no such kitchen"):
        act(c, theirs + 1)
    assert everything(c) == before


def test_every_function_that_takes_a_kitchen_is_tried_above() -> None:
    tried = Path(__file__).read_text("utf-8") + inspect.getsource(a_card)
    for room in ROOMS:
        for name, function in inspect.getmembers(room, inspect.isfunction):
            is_ours = function.__module__ == room.__name__
            if is_ours and "kitchen_id" in inspect.signature(function).parameters:
                called = f"{room.__name__.rpartition('.')[2]}.{name}"
                if not name.startswith("_") and name != "insert":
                    assert re.search(rf"{called}\b[(:]", tried)
