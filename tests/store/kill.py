"""Kills a process that saves, at any moment, and looks at what is left."""

import random
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

import sqlalchemy as sa

from slabwright.store import cards, kitchens, revisions
from slabwright.store.engine import open_store, reading, sqlite_url, writing
from tests.store.kitchen import later
from tests.store.saver import text_of

ROOT = Path(__file__).parents[2]
MOST = 200
"""Saves after which the process would end by itself."""


@dataclass(frozen=True, slots=True)
class Left:
    """What one killed process left behind."""

    said: int
    """The last number that it said was kept."""
    kept: int
    """The last number that is there."""
    was_killed: bool
    faults: tuple[str, ...]


def killed(folder: Path, chance: random.Random) -> Left:
    """A process killed within its saves, its store opened again and looked over."""
    url = sqlite_url(folder / "store.db")
    said = chance.randrange(1, MOST)
    command = [sys.executable, "-m", "tests.store.saver", url, str(MOST)]
    with subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE) as saver:  # noqa: S603
        assert saver.stdout is not None
        for _ in range(said):
            saver.stdout.readline()
        # the next save is somewhere within now
        try:
            saver.wait(chance.random() * 0.004)
        except subprocess.TimeoutExpired:
            saver.kill()
        rest = saver.stdout.read().split()
    if rest:
        said = int(rest[-1])
    return _left(url, said, was_killed=saver.returncode < 0)


def _left(url: str, said: int, *, was_killed: bool) -> Left:
    store = open_store(url)
    faults = []
    with reading(store) as c:
        (kitchen,) = kitchens.listed(c)
        (card,) = cards.all_texts(c, kitchen.id, "slab")
        found = revisions.listed(c, kitchen.id, card.id)
        for pragma, wanted in (("integrity_check", ["ok"]), ("foreign_key_check", [])):
            said_there = [str(row[0]) for row in c.execute(sa.text(f"PRAGMA {pragma}"))]
            if said_there != wanted:
                faults.append(f"{pragma}: {said_there}")
    if [one.number for one in found] != list(range(len(found), 0, -1)):
        faults.append("a number is missing")
    if any(one.text != text_of(one.number) for one in found):
        faults.append("a text is not as it was typed")
    if (card.current, card.latest) != (len(found), len(found)):
        faults.append("the card doesn't know its newest revision")
    with writing(store) as c:
        revisions.save(c, kitchen.id, card.id, "on", later(0), based_on=card.current)
    store.dispose()
    return Left(said, len(found), was_killed, tuple(faults))
