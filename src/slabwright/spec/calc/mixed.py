"""A mix of chocolate, cream and the rest, and another that comes closest to it."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from slabwright.composition import Masses, zeros
from slabwright.figure import Figure
from slabwright.physics.ganache import closest_mix
from slabwright.physics.species import Array
from slabwright.source import Source
from slabwright.spec.calc.calculator import Shown
from slabwright.spec.calc.stuffs import PARTS, Stuff

WEIGHTS: Final = np.array([1.0, 2.0, 1.0, 0.0])
"""How much a miss of fat, water, dry cocoa and sugars counts. A point of water moves a
ganache more than a point of fat; our own."""
NO_CHANGE: Final = 0.005
"""Half a gram in 100 g is less than packs and seasons vary: no change worth making.
So near to the closest there is, the simplest wins."""


@dataclass(frozen=True, slots=True)
class Mixed:
    """So many grams of each thing."""

    grams: tuple[tuple[Stuff, float], ...]

    @property
    def mass_g(self) -> float:
        """What it all weighs [g]."""
        return sum(grams for _, grams in self.grams)

    @property
    def holds(self) -> Array:
        """Fat, water, dry cocoa and sugars in it [g], as in `PARTS`."""
        found: Array = sum(
            (grams * one.holds for one, grams in self.grams), np.zeros(4)
        )
        return found

    @property
    def masses(self) -> Masses:
        """Masses of constituents [g], shape (len(ROW),)."""
        found: Masses = sum(
            (grams * one.composition for one, grams in self.grams), zeros()
        )
        return found

    @property
    def shares(self) -> Array:
        """The same in a gram of it."""
        return self.holds / self.mass_g

    @property
    def sources(self) -> tuple[Source, ...]:
        """Where the make-up of its things is published."""
        every = (source for one, _ in self.grams for source in one.sources)
        return tuple(dict.fromkeys(every))

    def grams_of(self, stuff: Stuff) -> float:
        """How much of one thing is in it [g]."""
        return sum(grams for one, grams in self.grams if one is stuff)


def closest(
    wanted: Array,
    mass_g: float,
    must: Sequence[Stuff],
    may: Sequence[tuple[Stuff, ...]],
    whole_g: float,
) -> tuple[Mixed, Mixed]:
    """The simplest mix that is close enough, and the closest there is.

    Milk with butter is cream again: never offer both beside it.

    Args:
        wanted: fat, water, dry cocoa and sugars to reach [g], as in `PARTS`.
        mass_g: what all things are to weigh together.
        must: what the mix is made of.
        may: what may go in beside, each a choice; the simplest first.
        whole_g: what the whole mix weighs, of which a change is told.
    """
    tried = [_mix(wanted, mass_g, (*must, *some)) for some in ((), *may)]
    best = min(tried, key=lambda one: round(_miss(one, wanted), 6))
    near = [one for one in tried if _worst(one, best, whole_g) <= NO_CHANGE]
    fewest = min((len(one.grams) for one in near), default=0)
    simple = [one for one in near if len(one.grams) == fewest]
    return min(simple, key=lambda one: _miss(one, wanted), default=best), best


def _mix(wanted: Array, mass_g: float, things: Sequence[Stuff]) -> Mixed:
    holds = np.stack([one.holds for one in things])
    found = closest_mix(wanted, holds, WEIGHTS, mass_g)
    return Mixed(
        tuple((one, float(g)) for one, g in zip(things, found, strict=True) if g > 0.05)
    )


def _worst(mixed: Mixed, best: Mixed, whole_g: float) -> float:
    """The greatest difference in what counts, in a gram of the whole."""
    counted = WEIGHTS > 0
    return float(np.abs(mixed.holds - best.holds)[counted].max()) / whole_g


def _miss(mixed: Mixed, wanted: Array) -> float:
    return float((((mixed.holds - wanted) * WEIGHTS) ** 2).sum())


def told(mixed: Mixed) -> str:
    """Grams of each thing, in words."""
    return " + ".join(f"{grams:.4g} g {one.name}" for one, grams in mixed.grams)


def signed(value: float) -> str:
    """A change to a tenth, with its sign; none of it is +0.0."""
    return f"{round(value, 1) + 0.0:+.1f}"


def changes(old: Mixed, new: Mixed) -> tuple[Shown, ...]:
    """Fat, water, dry cocoa and sugars of 100 g, with what they were."""
    return tuple(
        Shown(
            f"{name.replace(' ', '_')}_percent",
            f"{name} in 100 g",
            Figure(
                100 * float(after), "%",
                f"{100 * after:.1f} %, was {100 * before:.1f} %: "
                f"{signed(100 * (after - before))}",
            ),
        )
        for name, before, after in zip(PARTS, old.shares, new.shares, strict=True)
    )  # fmt: skip
