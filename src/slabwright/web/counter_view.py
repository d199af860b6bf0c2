"""The slabs on the counter, worked out: who takes an ingredient, what each costs."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from functools import cached_property
from typing import Final

from slabwright.cost.prices import Use
from slabwright.spec.costing import uses_of_slab
from slabwright.spec.specification import Specification
from slabwright.spec.work_out import work_out
from slabwright.store import cards
from slabwright.store.cards import CardRow
from slabwright.web.house import Visit

MOST: Final = 200
"""So many slabs are looked through, those that changed last."""


@dataclass(frozen=True, slots=True)
class OnCounter:
    """A slab on the counter."""

    card: CardRow
    spec: Specification

    @property
    def address(self) -> str:
        """Its page."""
        return f"/slabs/{self.card.id}"

    @property
    def uses(self) -> tuple[Use, ...]:
        """What one slab takes, components opened; no water."""
        return uses_of_slab(self.spec)


@dataclass(frozen=True)
class Counter:
    """Slabs on the counter, and whether these are all."""

    slabs: tuple[OnCounter, ...]
    count: int

    @property
    def is_cut_short(self) -> bool:
        """Whether there are more than are looked through."""
        return self.count > len(self.slabs)

    def using(self, larder_id: str) -> Sequence[tuple[OnCounter, float]]:
        """Slabs that take an ingredient, and how much [g]."""
        return self._takers.get(larder_id, ())

    @cached_property
    def _takers(self) -> dict[str, list[tuple[OnCounter, float]]]:
        found: dict[str, list[tuple[OnCounter, float]]] = {}
        for slab in self.slabs:
            grams: dict[str, float] = {}
            for use in slab.uses:
                grams[use.larder_id] = grams.get(use.larder_id, 0.0) + use.grams
            for id, each in grams.items():
                found.setdefault(id, []).append((slab, each))
        return found


def counter_of(visit: Visit, on: date | None = None) -> Counter:
    """The slabs on the counter, at the prices of a day; of today if None."""
    c, kitchen_id = visit.connection, visit.kitchen_id
    rows = cards.listed(c, kitchen_id, "slab", is_aside=False, limit=MOST)
    count = cards.counted(c, kitchen_id, "slab", is_aside=False)
    return Counter(
        tuple(OnCounter(row, spec_on(visit, row, on)) for row in rows), count
    )


def spec_on(visit: Visit, row: CardRow, on: date | None) -> Specification:
    """A slab worked out at the prices of a day; of today if None."""
    desk = visit.desk
    worked = desk.worked(row.text)
    if on is None or on == desk.day:
        return worked.spec
    order = replace(desk.order(), on=on)
    mistakes = (*desk.folder.mistakes, *worked.read.mistakes)
    return work_out(worked.read.card, order, mistakes)
