"""Everything that the question of costs is answered with."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from slabwright.cost.change import PriceChange
from slabwright.cost.prices import Moved
from slabwright.counter.costing import Priced, SlabCost
from slabwright.counter.price_change import Effect


@dataclass(frozen=True, slots=True)
class Costs:
    """Slabs costed, which prices moved, and what a change of prices does."""

    on: date
    currency: str
    slabs: tuple[SlabCost, ...]
    names: Mapping[str, str] = field(default_factory=dict)
    """Names of ingredients by larder id."""
    since: date | None = None
    moved: tuple[Moved, ...] = ()
    changes: tuple[PriceChange, ...] = ()
    effects: tuple[Effect, ...] = ()

    @property
    def priced(self) -> tuple[Priced, ...]:
        """What counts for each ingredient of these slabs, once."""
        every = {one.larder_id: one for slab in self.slabs for one in slab.priced}
        return tuple(every.values())
