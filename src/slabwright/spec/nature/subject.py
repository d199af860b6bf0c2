"""A layer as physics sees it: what it is made of, and where it will lie."""

from dataclasses import dataclass, field

from slabwright.composition import Masses, amount, total, water
from slabwright.errors import Span
from slabwright.formula.batch import Batch
from slabwright.formula.step import Band
from slabwright.kitchen import Kitchen
from slabwright.spec.nature.inside import Thing, things


@dataclass(frozen=True, slots=True)
class Keeping:
    """A place where the slab lies, and how warm it is there."""

    text: str
    """As the card says it; `room` if it says nothing."""
    temperature_C: Band
    days: float | None = None
    is_assumed: bool = False
    """Whether no card and no kitchen says how warm it is."""


@dataclass(frozen=True, slots=True)
class Subject:
    """One layer, or a component alone."""

    name: str
    number: int | None
    """From the bottom, from 0; None for a component that lies in no slab."""
    span: Span
    batch: Batch = field(compare=False)
    kitchen: Kitchen
    eaten_C: Band
    """How warm it is eaten: room, unless the maker says otherwise."""
    keepings: tuple[Keeping, ...] = ()
    """Where it is kept, in the order of the card; never empty in a slab."""
    depth_mm: float | None = None
    mass_g: float | None = None
    """What lies in the slab."""
    area_cm2: float | None = None
    """What it covers of the tin; None where mass, depth or density is not known."""
    inside: tuple[Thing, ...] = field(init=False, compare=False)
    """Everything in its batch, what its own components hold among it."""

    def __post_init__(self) -> None:
        """Look through the batch once, for several sides ask."""
        object.__setattr__(self, "inside", things(self.batch))

    @property
    def finished(self) -> Masses:
        """Masses of what it is made of in the end, shape (3, len(ROW)) [g].

        As worked out, at the low end and at the high end of what is not well known.
        """
        return self.batch.after

    @property
    def unknown(self) -> str:
        """Why its composition is not known; empty if it is."""
        return self.batch.composition_withheld or self.batch.withheld

    @property
    def weighed_per_left(self) -> float:
        """Grams to weigh of what doesn't boil off for each gram that is to be left.

        Over 1 where some of the mix stays in bowl and pan.
        """
        before, after = (
            float(_dry(rows)[0]) for rows in (self.batch.before, self.batch.after)
        )
        return max(before / after, 1.0) if after > 0 else 1.0


def _dry(rows: Masses) -> Masses:
    found: Masses = total(rows) - water(rows) - amount(rows, "alcohol")
    return found
