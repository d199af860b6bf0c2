"""The store: how saving and listing go from ten cards to ten thousand; fifty kills.

Run by itself, `python -m benchmarks.store`: it takes minutes, most of them killing.
"""

import random
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory
from time import perf_counter
from typing import Final

import sqlalchemy as sa
from tests.postgres import server
from tests.store.kill import Left, killed
from tests.store.kitchen import DAY, later

from benchmarks.cards import card
from slabwright.store import cards, kitchens, revisions
from slabwright.store.backup import back_up
from slabwright.store.cards import CardRow
from slabwright.store.engine import open_store, reading, sqlite_url, writing
from slabwright.store.folder import taken_out

SIZES: Final = (10, 100, 1000, 10_000)
KILLS: Final = 50
ROUNDS: Final = 15
_FIRST: Final = 1_000_000
"""Minutes after the first day, so that what is saved here is the newest."""


@dataclass(frozen=True, slots=True)
class StoreTaken:
    """How long the store took with so many cards [ms], by the clock on the wall."""

    slabs: int
    times_ms: dict[str, float]


def growing(url: str) -> tuple[StoreTaken, ...]:
    """Each act's median time, in a store that grows.

    Args:
        url: of an empty database.
    """
    engine = open_store(url)
    with writing(engine) as c:
        kitchen = kitchens.add(c, "Bench", DAY).id
    found = []
    for size in SIZES:
        _grow(engine, kitchen, size)
        acts = _acts(engine, kitchen, size)
        found.append(StoreTaken(size, {name: _ms(act) for name, act in acts.items()}))
    engine.dispose()
    return tuple(found)


def kills(number: int = KILLS) -> tuple[Left, ...]:
    """What so many killed processes left, each within its saves."""
    chance = random.Random(2026)  # noqa: S311 # moments, no secrets
    found = []
    for _ in range(number):
        with TemporaryDirectory() as folder:
            found.append(killed(Path(folder), chance))
    return tuple(found)


def _grow(engine: sa.Engine, kitchen: int, size: int) -> None:
    with writing(engine) as c:
        for number in range(cards.counted(c, kitchen, "slab"), size):
            text = card(number)
            cards.add(c, kitchen, "slab", f"Slab {number}", text, later(number))
    if engine.dialect.name == "postgresql":
        with engine.connect() as c:
            c.execution_options(isolation_level="AUTOCOMMIT").exec_driver_sql("ANALYZE")


def _acts(
    engine: sa.Engine, kitchen: int, size: int
) -> dict[str, Callable[[], object]]:
    with reading(engine) as c:
        (one,) = cards.listed(c, kitchen, "slab", limit=1)
    state = {"card": one}

    def save() -> None:
        before: CardRow = state["card"]
        with writing(engine) as c:
            text = f"{before.text}# {before.latest}\n"
            revisions.save(
                c,
                kitchen,
                before.id,
                text[:4000],
                later(_FIRST + before.latest),
                based_on=before.current,
            )
        with reading(engine) as c:
            after = cards.one(c, kitchen, before.id)
        if after is None:
            message = "the card is gone"
            raise RuntimeError(message)
        state["card"] = after

    def add() -> None:
        with writing(engine) as c:
            cards.add(c, kitchen, "component", "Lemon curd", card(0), later(0))

    def listed(**asked: object) -> Callable[[], object]:
        def look() -> object:
            with reading(engine) as c:
                return cards.listed(c, kitchen, "slab", **asked)  # type: ignore[arg-type]

        return look

    def counted() -> int:
        with reading(engine) as c:
            return cards.counted(c, kitchen, "slab", is_aside=False)

    return {
        "save": save,
        "add": add,
        "list": listed(is_aside=False),
        "last page": listed(start=max(size - 24, 0)),
        "count": counted,
        "find many": listed(find="butter"),
        "find one": listed(find=f"slab {size - 1}"),
        "find none": listed(find="zzz"),
    }


def _ms(act: Callable[[], object]) -> float:
    times = []
    for _ in range(ROUNDS):
        begun = perf_counter()
        act()
        times.append((perf_counter() - begun) * 1000)
    return median(times)


def _whole(url: str, folder: Path) -> tuple[float, float, int]:
    """Backing up and taking out what `growing` made [s], and the backup's size."""
    engine = open_store(url)
    begun = perf_counter()
    facts = back_up(engine, folder / "bench.backup")
    backed_up = perf_counter()
    with reading(engine) as c:
        for _ in taken_out(c, kitchens.listed(c)[0].id):
            pass
    out = perf_counter()
    engine.dispose()
    return backed_up - begun, out - backed_up, facts.size


def _main() -> None:
    with TemporaryDirectory() as scratch, server() as postgres:
        folder = Path(scratch)
        for name, url in (
            ("SQLite", sqlite_url(folder / "store.db")),
            ("PostgreSQL, not synced", postgres.new_database()),
        ):
            _table(name, growing(url))
            backup_s, out_s, size = _whole(url, folder)
            _say(
                f"  back up, looked over: {backup_s:.1f} s, {size / 1e6:.0f} MB;"
                f" taken out as a folder: {out_s:.1f} s\n"
            )
    left = kills()
    lost = sum(one.kept < one.said for one in left)
    faults = sum(bool(one.faults) for one in left)
    said = sum(one.said for one in left)
    _say(
        f"{sum(one.was_killed for one in left)} kills in {said:,} acknowledged saves:"
        f" {lost} lost, {faults} stores with faults."
    )


def _table(heading: str, rows: tuple[StoreTaken, ...]) -> None:
    names = tuple(rows[0].times_ms)
    _say(f"{heading}: medians [ms]")
    _say(f"{'slabs':>8}" + "".join(f"{name:>11}" for name in names))
    for row in rows:
        times = (f"{row.times_ms[name]:11.1f}" for name in names)
        _say(f"{row.slabs:8,}{''.join(times)}")


def _say(line: str) -> None:
    sys.stdout.write(f"{line}\n")
    sys.stdout.flush()


if __name__ == "__main__":
    _main()
