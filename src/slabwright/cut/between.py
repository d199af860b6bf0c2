"""Grids whose pieces lie in a range of masses, the best first."""

from dataclasses import dataclass, field
from math import inf

import numpy as np

from slabwright.cut.cutting import SMALLEST_PIECE_MM, mm
from slabwright.cut.grid import LONGEST, Grid, filling
from slabwright.cut.request import MOST_PIECES
from slabwright.cut.shares import Shares, of_mass, shares
from slabwright.cut.side import NEAR, Room
from slabwright.cut.spread import Evenness, Spread, grid_spread
from slabwright.errors import GeometryError, Mistake
from slabwright.slab.tin import Tin

_FEW = 12
"""So many grids are weighed exactly."""
_ABOUT = 0.03
"""By area alone a mass is known to about this part."""


@dataclass(frozen=True, slots=True)
class Wish:
    """The masses that pieces may have, as shares of the slab's, and a least width."""

    low: float
    high: float
    least_mm: float = 0.0
    evenness: Evenness = field(default_factory=Evenness)


@dataclass(frozen=True, slots=True)
class Choice:
    """One grid that would do."""

    grid: Grid
    shares: Shares
    spread: Spread
    in_range: float
    """How many of all pieces lie in the range."""

    @property
    def share(self) -> float:
        """Mean share of a piece."""
        return self.shares.kept / self.grid.pieces

    @property
    def rank(self) -> tuple[float, float]:
        """The least is best: most pieces in the range, then nearest to square."""
        return -round(self.in_range, 2), round(self.grid.aspect, 6)


def choices(
    along: Room, across: Room, tin: Tin, height_mm: float, wish: Wish
) -> tuple[Choice, ...]:
    """Every grid worth a look whose pieces lie in the range on average, best first.

    No piece is longer than two of its widths, unless nothing else lies in the range.

    Args:
        along: what the trim leaves of the length.
        across: what it leaves of the width.
        tin: the tin that the slab stands in.
        height_mm: height of the slab [mm].
        wish: the range of masses, and the least width.

    Raises:
        GeometryError: if no grid has such pieces, with the nearest that there is.
    """
    for longest in (LONGEST, inf):
        near = _near(along, across, tin, height_mm, wish, longest)
        weighed = [_weighed(grid, tin, height_mm, wish) for grid in near]
        found = [
            one
            for one in weighed
            if wish.low * (1 - NEAR) <= one.share <= wish.high * (1 + NEAR)
        ]
        if found:
            return tuple(sorted(found, key=lambda one: one.rank))
    raise _none(along, across, tin, height_mm, wish)


def _weighed(grid: Grid, tin: Tin, height_mm: float, wish: Wish) -> Choice:
    made = shares(grid, tin, height_mm)
    likely = grid_spread(grid, made.each, height_mm, wish.evenness)
    inside = likely.below(wish.high) - likely.below(wish.low)
    return Choice(grid, made, likely, inside)


def _near(
    along: Room, across: Room, tin: Tin, height_mm: float, wish: Wish, longest: float
) -> list[Grid]:
    """The few grids that lie best within the range by the area of a piece."""
    least_mm = max(wish.least_mm, SMALLEST_PIECE_MM) * (1 - NEAR)
    a = np.arange(1, along.most(least_mm) + 1)[:, None]
    b = np.arange(1, across.most(least_mm) + 1)
    length = (along.left_mm - (a - 1) * along.knife_mm) / a
    width = (across.left_mm - (b - 1) * across.knife_mm) / b
    trimmed = shares(filling(along, across, (1, 1)), tin, height_mm).kept
    mass = length * width / (along.left_mm * across.left_mm) * trimmed
    aspect = np.maximum(length, width) / np.minimum(length, width)
    off_mm, level = wish.evenness.knife_off_mm, wish.evenness.level_mm / height_mm
    likely = np.sqrt(off_mm**2 * (2 / length**2 + 2 / width**2) + level**2 / 12)
    inside = np.minimum(mass - wish.low, wish.high - mass) / mass
    worth = inside / np.maximum(likely, 1e-6)  # in deviations from the nearer end
    fits = (inside >= -_ABOUT) & (aspect <= longest * (1 + NEAR))
    fits &= (a * b <= MOST_PIECES) & (np.minimum(length, width) >= least_mm)
    worth = np.where(fits, worth.round(3), -inf)
    best = np.lexsort((aspect.ravel(), -worth.ravel()))[:_FEW]
    rows, columns = np.unravel_index(best, worth.shape)
    counts = np.stack((rows, columns), axis=1)[worth[rows, columns] > -inf] + 1
    return [filling(along, across, (int(n), int(m))) for n, m in counts]


def _none(
    along: Room, across: Room, tin: Tin, height_mm: float, wish: Wish
) -> GeometryError:
    """The error where no grid will do, with what comes nearest."""
    what = "No grid has pieces of that mass"
    if wish.least_mm:
        what += f" that are at least {mm(wish.least_mm)} mm wide"
        free = Wish(wish.low, wish.high, 0.0, wish.evenness)
        grids = _near(along, across, tin, height_mm, free, inf)
        weighed = [_weighed(grid, tin, height_mm, free) for grid in grids]
        widest = max(
            (one.grid for one in weighed if wish.low <= one.share <= wish.high),
            key=lambda g: min(g.along.piece_mm, g.across.piece_mm),
            default=None,
        )
        if widest is not None:
            do = f"The widest of that mass are {widest.words}: allow narrower ones."
            return GeometryError(Mistake(f"{what}.", do))
    middle = (wish.low + wish.high) / 2
    nearest = of_mass(along, across, tin, height_mm, middle)
    do = f"The nearest are {nearest.words}: widen the range."
    return GeometryError(Mistake(f"{what}.", do))
