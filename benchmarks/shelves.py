"""The list of slabs, with ten in the kitchen and with ten thousand."""

from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from statistics import median
from time import perf_counter
from typing import Final

import httpx2
import sqlalchemy as sa

from benchmarks.cards import card
from benchmarks.served import fill, serving
from slabwright.store import kitchens
from slabwright.store.engine import open_store, sqlite_url, writing
from slabwright.web.shelf_pages import PAGE

SIZES: Final = (10, PAGE, 10_000)
"""The middle one fills a page, as ten thousand do: the fair one to compare with."""
_ROUNDS: Final = 7


@dataclass(frozen=True, slots=True)
class ShelfTaken:
    """How long the first page of the list takes [ms], by the clock on the wall."""

    slabs: int
    shown: int
    cold_ms: float
    """After something in the kitchen changed: every card is worked out anew."""
    warm_ms: float


def shelves(scratch: Path) -> tuple[ShelfTaken, ...]:
    """The lists of kitchens of these sizes by turns, each from a server of its own.

    Args:
        scratch: where stores may be written.
    """
    with ExitStack() as stack:
        found = [
            stack.enter_context(_shelf(scratch / f"shelf-{slabs}", slabs))
            for slabs in SIZES
        ]
        for _ in range(_ROUNDS):
            for shelf in found:
                shelf.measure()
    return tuple(
        ShelfTaken(
            shelf.slabs,
            min(shelf.slabs, PAGE),
            median(shelf.cold_ms),
            median(shelf.warm_ms),
        )
        for shelf in found
    )


@dataclass
class _Shelf:
    """A kitchen's list, and what was taken of it."""

    slabs: int
    engine: sa.Engine
    client: httpx2.Client
    cold_ms: list[float] = field(default_factory=list)
    warm_ms: list[float] = field(default_factory=list)

    def measure(self) -> None:
        _forget(self.engine)
        self.cold_ms.append(_ms(self.client))
        self.warm_ms += [_ms(self.client) for _ in range(3)]


@contextmanager
def _shelf(data: Path, slabs: int) -> Iterator[_Shelf]:
    fill(data, [card(n) for n in range(slabs)], with_demo=False)
    engine = open_store(sqlite_url(data / "kitchen.db"))
    with serving(data) as served, httpx2.Client(base_url=served.address) as client:
        yield _Shelf(slabs, engine, client)
    engine.dispose()


def _forget(engine: sa.Engine) -> None:
    """Have the app open the kitchen anew, as when a price changes."""
    with writing(engine) as c:
        kitchens.move_mark(c, kitchens.listed(c)[0].id)


def _ms(client: httpx2.Client) -> float:
    begun = perf_counter()
    answer = client.get("/slabs", timeout=120)
    took_ms = (perf_counter() - begun) * 1000
    answer.raise_for_status()
    return took_ms
