"""Where the volume of a cut slab goes, and the grid that comes nearest to a mass."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import inf

import numpy as np

from slabwright.cut.cutting import SMALLEST_PIECE_MM
from slabwright.cut.grid import LONGEST, Grid, filling
from slabwright.cut.region import EVERYWHERE, Array, volumes_mm3
from slabwright.cut.request import MOST_PIECES
from slabwright.cut.side import NEAR, Room
from slabwright.errors import GeometryError, Mistake
from slabwright.slab.tin import Tin

_FEW = 6
"""So many grids are weighed exactly, the nearest by area first."""
_ROUNDING = 1e-12
"""A trim below this share is the rounding of sums."""
FAR = 1.5
"""A nearest piece this many times heavier than wished is no answer. Our own limit."""


@dataclass(frozen=True, slots=True)
class Shares:
    """Where the slab's volume goes, and how unlike its pieces are."""

    kept: float
    trim: float
    knife: float
    low: float
    high: float
    left_over: float
    """Left-over strips and off-cuts within the trimmed edges; part of the trim."""
    each: tuple[float, ...] = field(default=(), repr=False)
    """Of each piece: column by column from the left, from the near edge on."""


def shares(grid: Grid, tin: Tin, height_mm: float) -> Shares:
    """Where the volume of a slab of this height goes when it is cut."""
    n, m = grid.along.pieces, grid.across.pieces
    whole = volumes_mm3(tin, height_mm, [EVERYWHERE], [EVERYWHERE]).item()
    trimmed = volumes_mm3(tin, height_mm, [grid.along.whole], [grid.across.whole])
    cells = volumes_mm3(tin, height_mm, grid.along.cells, grid.across.cells) / whole
    inside = trimmed.item() / whole
    pieces: Array = cells[:n, :m]
    every = float(cells.sum())
    return parted(
        pieces.ravel().tolist(),
        inside=inside,
        left_over=every - float(pieces.sum()),
        has_knife=grid.along.room.knife_mm > 0,
    )


def parted(
    each: Sequence[float], *, inside: float, left_over: float, has_knife: bool
) -> Shares:
    """Where the volume goes, from that of the pieces; all are shares of the slab.

    Args:
        each: of every piece.
        inside: what the trim leaves.
        left_over: of all strips and off-cuts that lie within it.
        has_knife: whether the knife takes anything at all.
    """
    kept = sum(each)
    left_over = left_over if left_over > NEAR else 0.0
    knife = max(inside - kept - left_over, 0.0) if has_knife else 0.0
    trim = 1 - kept - knife
    if trim < _ROUNDING:
        trim, kept = 0.0, 1 - knife
    mean = kept / len(each)
    low, high = max(min(each), 0.0) / mean, max(each) / mean
    if high - low < NEAR:
        low = high = 1.0
    return Shares(kept, trim, knife, low, high, left_over, tuple(each))


def of_mass(
    along: Room,
    across: Room,
    tin: Tin,
    height_mm: float,
    wish: float,
    least_mm: float = SMALLEST_PIECE_MM,
) -> Grid:
    """The grid whose pieces are nearest to a wished share of the slab's mass each.

    No piece is longer than two of its widths, or narrower than `least_mm`. Every part
    of the slab is taken to weigh the same for its volume.

    Raises:
        GeometryError: if no grid has pieces of about that mass that can be cut.
    """
    near = [
        (grid, shares(grid, tin, height_mm).kept / grid.pieces)
        for grid in _nearest_by_area(along, across, tin, height_mm, wish, least_mm)
    ]
    if wish > 1 or not near:
        raise no_such_mass(least_mm)
    best, share = min(
        near, key=lambda found: (round(abs(found[1] - wish), 9), found[0].aspect)
    )
    if share > FAR * wish:
        raise no_such_mass(least_mm)
    return best


def no_such_mass(least_mm: float = SMALLEST_PIECE_MM) -> GeometryError:
    """The error for a piece heavier than the slab, or lighter than any that is cut."""
    return GeometryError(
        Mistake(
            "The slab can't be cut into pieces of that mass.",
            "Ask for less than the slab weighs, and for no piece narrower than "
            f"{max(least_mm, SMALLEST_PIECE_MM):g} mm.",
        )
    )


def _nearest_by_area(
    along: Room,
    across: Room,
    tin: Tin,
    height_mm: float,
    wish: float,
    least_mm: float,
) -> list[Grid]:
    """The few grids that come nearest to a piece's share by the area of a piece.

    Rounded corners and sloping edges shift that estimate by little, and for all grids
    alike: the best grid is among them.
    """
    least_mm = max(least_mm, SMALLEST_PIECE_MM) * (1 - NEAR)
    a = np.arange(1, along.most(least_mm) + 1)[:, None]
    b = np.arange(1, across.most(least_mm) + 1)
    length = (along.left_mm - (a - 1) * along.knife_mm) / a
    width = (across.left_mm - (b - 1) * across.knife_mm) / b
    trimmed = shares(filling(along, across, (1, 1)), tin, height_mm).kept
    off = abs(length * width / (along.left_mm * across.left_mm) * trimmed - wish)
    aspect = np.maximum(length, width) / np.minimum(length, width)
    off[(aspect > LONGEST * (1 + NEAR)) | (a * b > MOST_PIECES)] = inf
    # grids of as many pieces come equally near: the squarest of them first
    nearest = np.lexsort((aspect.ravel(), off.round(12).ravel()))[:_FEW]
    rows, columns = np.unravel_index(nearest, off.shape)
    counts = np.stack((rows, columns), axis=1)[off[rows, columns] < inf] + 1
    return [filling(along, across, (int(n), int(m))) for n, m in counts]
