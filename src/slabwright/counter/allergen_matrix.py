"""The allergens of the whole counter: slabs against the 14, each with its way."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from slabwright.label.allergen.allergens import SlabAllergens, State
from slabwright.larder.ingredient import ALLERGENS


@dataclass(frozen=True, slots=True)
class InKitchen:
    """An allergen that this kitchen works with in other slabs than this one."""

    allergen: str
    slabs: tuple[str, ...]
    """Those that contain it."""


@dataclass(frozen=True, slots=True)
class Cell:
    """How one of the 14 stands to a slab; empty if nothing is known of it."""

    group: str
    states: tuple[State, ...]
    """The surest first; the supplier's `may contain` and not the kitchen's own."""
    in_kitchen: bool
    """Whether the kitchen's own other slabs hold it."""
    in_it: tuple[str, ...]
    """Which cereals or nuts, where it contains any."""


@dataclass(frozen=True, slots=True)
class Row:
    """One slab."""

    found: SlabAllergens
    cells: tuple[Cell, ...]
    """In the order of the law."""
    in_kitchen: tuple[InKitchen, ...]


@dataclass(frozen=True, slots=True)
class AllergenMatrix:
    """Slabs against the 14, as they stand on a day."""

    on: date
    rows: tuple[Row, ...]
    others: tuple[str, ...] = ()
    """Slabs of this kitchen that were not asked for, and count as its own work."""

    @property
    def is_held(self) -> bool:
        """Whether a question about any slab is open."""
        return any(row.found.is_held for row in self.rows)


def allergen_matrix(
    slabs: Sequence[SlabAllergens], on: date, others: Sequence[SlabAllergens] = ()
) -> AllergenMatrix:
    """Lay the slabs of a counter against the 14.

    Args:
        slabs: in the order in which they are to stand.
        on: the day on which it holds.
        others: other slabs made in the same kitchen, for what they may leave behind.
    """
    made: dict[str, dict[str, None]] = {name: {} for name in ALLERGENS}
    for slab in (*slabs, *others):
        for allergen in slab.in_it:
            made[allergen][slab.slab] = None
    holders = {name: tuple(by) for name, by in made.items() if by}
    rows = tuple(_row(slab, holders) for slab in slabs)
    return AllergenMatrix(on, rows, tuple(one.slab for one in others))


def _row(slab: SlabAllergens, holders: dict[str, tuple[str, ...]]) -> Row:
    in_it = slab.in_it
    there = set(in_it)
    beside = tuple(
        InKitchen(name, by) for name, by in holders.items() if name not in there
    )
    worked = {one.allergen.partition(":")[0] for one in beside}
    return Row(slab, tuple(_cells(slab, worked, in_it)), beside)


def _cells(
    slab: SlabAllergens, worked: set[str], in_it: Sequence[str]
) -> Iterator[Cell]:
    for group, shown in slab.states().items():
        named = tuple(name for name in in_it if name.partition(":")[0] == group)
        yield Cell(group, shown, group in worked, named)
