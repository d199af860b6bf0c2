"""How unlike the pieces of a cut come out, tried on many slabs.

Each slab is tilted and each stroke laid off its line anew; every piece of the actual
cut is measured as the strokes then leave it. It shares no formula with the closed form,
which is true to first order.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from math import ceil

import numpy as np
from numpy.typing import NDArray

from slabwright.cut.cutting import Cutting
from slabwright.cut.piece import Piece
from slabwright.cut.spread import (
    PROMISED,
    Evenness,
    centre_of,
    insist_on_level,
    reaches,
)
from slabwright.cut.stroke import Point, Stroke
from slabwright.slab.tin import Tin

Array = NDArray[np.float64]

_AT_ONCE = 400_000
"""Sides of pieces that are measured in one go."""


@dataclass(frozen=True, slots=True)
class Simulated:
    """Masses of all pieces of all slabs that were cut."""

    slabs: int
    shares: Array = field(repr=False, compare=False)
    """Of the slab's mass, of each piece."""

    @property
    def mean(self) -> float:
        """Mean share of a piece."""
        return float(self.shares.mean())

    @property
    def deviation(self) -> float:
        """Standard deviation of a piece's share."""
        return float(self.shares.std())

    def below(self, share: float) -> float:
        """How many of all pieces have less than this share of the slab's mass."""
        return float((self.shares < share).mean())

    def reached_by(self, part: float = PROMISED) -> float:
        """The share that so many of all pieces reach."""
        return float(np.quantile(self.shares, 1 - part))


@dataclass(frozen=True, slots=True)
class _Group:
    """Pieces with as many sides each, ready to be moved."""

    corners: Array
    """Shape (pieces, sides, 2)."""
    moves: Array
    """What a stroke's moving does to each side, (pieces, sides). The slab's own edge
    stays where it is: 0."""
    strokes: NDArray[np.intp]
    """Which stroke made each side; 0 for an edge."""
    solves: Array
    """From its sides' moves to that of a corner, shape (pieces, sides, 2, 2)."""
    shares: Array
    slopes: Array
    """Places along the slope, from the middle."""

    @property
    def sides(self) -> int:
        """How many they have together."""
        return self.strokes.size


@dataclass(frozen=True, slots=True)
class Trial:
    """How much is tried."""

    draws: int = 400_000
    """So many pieces are weighed, in whole slabs: a hundredth of them is 4,000."""
    most_sides: int = 5_000_000
    """So many sides of pieces are measured at most: round ones have many."""
    seed: int = 20261125
    """The same gives the same slabs."""


def simulate(
    made: Cutting,
    tin: Tin,
    slab_height_mm: float,
    evenness: Evenness,
    trial: Trial | None = None,
    report: Callable[[float], None] = lambda _: None,
    stop: Callable[[], bool] = lambda: False,
) -> Simulated:
    """Cut many slabs, and weigh every piece.

    Args:
        made: how the slab is cut.
        tin: the tin that it stood in.
        slab_height_mm: its height [mm].
        evenness: how level it is, how true the knife is placed.
        trial: how much is tried; the usual if None.
        report: is told the share that is done.
        stop: whether to end early, with what was weighed until then.

    Raises:
        GeometryError: for a slab that is more out of level than it is high.
    """
    insist_on_level(slab_height_mm, evenness)
    much = trial or Trial()
    throw = np.random.default_rng(much.seed)
    size_mm = (tin.length_mm, tin.width_mm)
    far = reaches(made.each, size_mm)
    groups = _groups(made.each, made.strokes, size_mm, axis=int(far[1] > far[0]))
    sides = sum(group.sides for group in groups)
    slabs = max(1, min(ceil(much.draws / len(made.each)), much.most_sides // sides))
    at_once = max(1, min(slabs, _AT_ONCE // sides))
    found: list[Array] = []
    done = 0
    while done < slabs and not (done and stop()):
        count = min(at_once, slabs - done)
        off_mm = throw.normal(
            0.0, evenness.knife_off_mm, (count, len(made.strokes) + 1)
        )
        tilt = throw.choice((-1.0, 1.0), count) * evenness.level_mm / slab_height_mm
        found.extend(_weighed(group, off_mm, tilt).ravel() for group in groups)
        done += count
        report(done / slabs)
    return Simulated(done, np.concatenate(found))


def _weighed(group: _Group, off_mm: Array, tilt: Array) -> Array:
    """Share of each piece of each slab, shape (slabs, pieces)."""
    moved = off_mm[:, group.strokes] * group.moves
    before = np.roll(moved, 1, axis=2)  # a corner lies between the side before and its
    both = np.stack((before, moved), axis=3)
    corners = group.corners + np.einsum("pkij,npkj->npki", group.solves, both)
    x, y = corners[..., 0], corners[..., 1]
    next_x, next_y = np.roll(x, -1, axis=2), np.roll(y, -1, axis=2)
    areas = (x * next_y - next_x * y).sum(axis=2) / 2
    relative = np.maximum(areas, 0.0) / _areas(group.corners)
    shares: Array = group.shares * relative * (1 + tilt[:, None] * group.slopes)
    return shares


def _areas(corners: Array) -> Array:
    x, y = corners[..., 0], corners[..., 1]
    areas: Array = (x * np.roll(y, -1, axis=-1) - np.roll(x, -1, axis=-1) * y).sum(
        axis=-1
    ) / 2
    return areas


def _groups(
    pieces: Sequence[Piece], strokes: Sequence[Stroke], size_mm: Point, axis: int
) -> list[_Group]:
    ways = np.zeros((len(strokes) + 1, 2))
    for one in strokes:
        (x0, y0), (x1, y1) = one.start_mm, one.end_mm
        ways[one.number] = np.array((y1 - y0, x0 - x1)) / np.hypot(x1 - x0, y1 - y0)
    groups = []
    for count in sorted({len(piece.corners) for piece in pieces}):
        some = [piece for piece in pieces if len(piece.corners) == count]
        corners = np.array([piece.corners for piece in some])
        centres = np.array([centre_of(piece) for piece in some])
        corners = corners - centres[:, None, :]  # figures are lost far from nought
        sides = np.array([piece.sides for piece in some], dtype=np.intp)
        along = np.roll(corners, -1, axis=1) - corners
        out = np.stack((along[..., 1], -along[..., 0]), axis=-1)
        out /= np.hypot(along[..., 0], along[..., 1])[..., None]
        normals = np.stack((np.roll(out, 1, axis=1), out), axis=2)
        groups.append(
            _Group(
                corners,
                (out * ways[sides]).sum(axis=-1),
                sides,
                np.linalg.inv(normals),
                np.array([piece.share for piece in some]),
                centres[:, axis] / size_mm[axis] - 0.5,
            )
        )
    return groups
