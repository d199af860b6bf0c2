"""Where the volume of a cut slab goes, and the grid that comes nearest to a mass."""

from dataclasses import dataclass
from math import inf

import numpy as np

from slabwright.cut.cutting import MOST_PIECES, SMALLEST_PIECE_MM
from slabwright.cut.grid import LONGEST, Grid, filling
from slabwright.cut.region import EVERYWHERE, Array, volumes_mm3
from slabwright.cut.side import NEAR, Room
from slabwright.errors import GeometryError, Mistake
from slabwright.slab.tin import Tin

_FEW = 6
"""So many grids are weighed exactly, the nearest by area first."""
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


def shares(grid: Grid, tin: Tin, height_mm: float) -> Shares:
    """Where the volume of a slab of this height goes when it is cut."""
    n, m = grid.along.pieces, grid.across.pieces
    whole = volumes_mm3(tin, height_mm, [EVERYWHERE], [EVERYWHERE]).item()
    trimmed = volumes_mm3(tin, height_mm, [grid.along.whole], [grid.across.whole])
    cells = volumes_mm3(tin, height_mm, grid.along.cells, grid.across.cells) / whole
    pieces: Array = cells[:n, :m]
    kept = float(pieces.sum())
    cut_away = trimmed.item() / whole - float(cells.sum())
    knife = max(cut_away, 0.0) if grid.along.room.knife_mm else 0.0
    trim = 1 - kept - knife
    if trim < 1e-12:  # nothing but the rounding of sums
        trim, kept = 0.0, 1 - knife
    mean = kept / grid.pieces
    low, high = max(float(pieces.min()), 0.0) / mean, float(pieces.max()) / mean
    alike = high - low < NEAR
    return Shares(kept, trim, knife, 1.0 if alike else low, 1.0 if alike else high)


def of_mass(
    along: Room,
    across: Room,
    tin: Tin,
    height_mm: float,
    wish: float,
) -> Grid:
    """The grid whose pieces are nearest to a wished share of the slab's mass each.

    No piece is longer than two of its widths. Every part of the slab is taken to weigh
    the same for its volume.

    Raises:
        GeometryError: if no grid has pieces of about that mass that can be cut.
    """
    near = [
        (grid, shares(grid, tin, height_mm).kept / grid.pieces)
        for grid in _nearest_by_area(along, across, tin, height_mm, wish)
    ]
    if wish > 1 or not near:
        raise no_such_mass()
    best, share = min(
        near, key=lambda found: (round(abs(found[1] - wish), 9), found[0].aspect)
    )
    if share > FAR * wish:
        raise no_such_mass()
    return best


def no_such_mass() -> GeometryError:
    """The error for a piece heavier than the slab, or lighter than any that is cut."""
    return GeometryError(
        Mistake(
            "The slab can't be cut into pieces of that mass.",
            "Ask for less than the slab weighs, and for no piece narrower than "
            f"{SMALLEST_PIECE_MM:g} mm.",
        )
    )


def _nearest_by_area(
    along: Room, across: Room, tin: Tin, height_mm: float, wish: float
) -> list[Grid]:
    """The few grids that come nearest to a piece's share by the area of a piece.

    Rounded corners and sloping edges shift that estimate by little, and for all grids
    alike: the best grid is among them.
    """
    a = np.arange(1, along.most(SMALLEST_PIECE_MM) + 1)[:, None]
    b = np.arange(1, across.most(SMALLEST_PIECE_MM) + 1)
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
