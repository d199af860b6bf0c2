"""How unlike the pieces of a cut come out, in closed form.

A piece weighs its share of the slab × (1 + U + N). U comes of a slab that is not level:
even between both ends of what the slope takes and gives (a uniform distribution, as
wide as the pieces' places along the slope ask for). N comes of a knife that is not
placed true: each stroke lies off its line by a normally distributed distance e, and a
side of length l takes l × e from the piece, a normal distribution to first order.
Pieces at an uncut edge have fewer such sides, so each kind of piece counts apart.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import erfc, exp, inf, pi, sqrt

import numpy as np
from numpy.typing import NDArray

from slabwright.cut.cutting import Cutting
from slabwright.cut.grid import Grid
from slabwright.cut.piece import Piece
from slabwright.cut.side import Side
from slabwright.cut.stroke import Point
from slabwright.errors import GeometryError, Mistake
from slabwright.slab.tin import Tin

USUAL_LEVEL_MM = 1.0
"""From the high side of a slab to the low one. Common practice, no source."""
USUAL_KNIFE_OFF_MM = 1.0
"""How far a stroke lies off its line, one standard deviation, for a long knife laid to
pricked marks. Common practice, no source."""
PROMISED = 0.99
"""What so many of all pieces reach is promised."""
_NARROW = 1e-4
"""A slope below this part of the knife's spread is lost in it."""
_HALVINGS = 60


@dataclass(frozen=True, slots=True)
class Evenness:
    """How level the slab is and how true the knife is placed."""

    level_mm: float = USUAL_LEVEL_MM
    """Height of one side over the other [mm]."""
    knife_off_mm: float = USUAL_KNIFE_OFF_MM
    """Distance of a stroke from its line, one standard deviation [mm]."""

    def __post_init__(self) -> None:
        said = {"slab is out of level by": self.level_mm,
                "knife is off its line by": self.knife_off_mm}  # fmt: skip
        wrong = [
            Mistake(f"The {name} {size:g} mm.", "Give 0 mm or more: 1 mm is usual.")
            for name, size in said.items()
            if not 0 <= size < inf  # false for nan too
        ]
        if wrong:
            raise GeometryError(*wrong)


@dataclass(frozen=True, slots=True)
class Kind:
    """Pieces that are alike."""

    count: int
    share: float
    """Of the slab's mass, of each."""
    knife: float
    """One standard deviation through the knife, relative to the piece."""

    def below(self, share: float, slope: float) -> float:
        """How many of them have less than this share of the slab's mass."""
        if self.share <= 0:  # nothing of the slab lies there
            return 1.0
        off = share / self.share - 1
        return below_uniform_and_normal(off, slope, self.knife)


@dataclass(frozen=True, slots=True)
class Spread:
    """The masses that the pieces of a cut may have, relative to the slab's mass."""

    kinds: tuple[Kind, ...]
    slope: float
    """Half the width of what a slope does, relative to a piece."""

    @property
    def mean(self) -> float:
        """Mean share of a piece."""
        return sum(k.count * k.share for k in self.kinds) / self._count

    @property
    def deviation(self) -> float:
        """Standard deviation of a piece's share, kinds and all."""
        second = sum(
            k.count * k.share**2 * (1 + k.knife**2 + self.slope**2 / 3)
            for k in self.kinds
        )
        return sqrt(max(second / self._count - self.mean**2, 0.0))

    @property
    def _count(self) -> int:
        return sum(kind.count for kind in self.kinds)

    def below(self, share: float) -> float:
        """How many of all pieces have less than this share of the slab's mass."""
        lighter = sum(kind.count * kind.below(share, self.slope) for kind in self.kinds)
        return lighter / self._count

    def reached_by(self, part: float = PROMISED) -> float:
        """The share that so many of all pieces reach; 0 if that cannot be said."""
        low, high = (
            0.0,
            max(k.share * (1 + self.slope + 10 * k.knife) for k in self.kinds),
        )
        if self.below(low) > 1 - part:
            return 0.0
        for _ in range(_HALVINGS):
            middle = (low + high) / 2
            if self.below(middle) > 1 - part:
                high = middle
            else:
                low = middle
        return low


def below_uniform_and_normal(x: float, half_width: float, deviation: float) -> float:
    """How likely the sum of a uniform and a normal number is below x.

    The uniform one runs from -half_width to half_width; the normal one has mean 0.
    Averaging the normal distribution over the uniform gives, with the integral
    G(z) = z Φ(z/s) + s φ(z/s), (G(x + w) - G(x - w)) / 2w.

    Source:
        Standard result, from memory; the integral of Φ by parts.

    >>> below_uniform_and_normal(0.0, 0.02, 0.03)
    0.5
    """
    if half_width <= _NARROW * deviation:
        return _phi(x / deviation) if deviation else float(x > 0)
    if not deviation:
        return min(max((x + half_width) / (2 * half_width), 0.0), 1.0)
    ends = ((x + half_width) / deviation, (x - half_width) / deviation)
    high, low = (z * _phi(z) + exp(-z * z / 2) / sqrt(2 * pi) for z in ends)
    return min(max((high - low) * deviation / (2 * half_width), 0.0), 1.0)


def _phi(z: float) -> float:
    """The normal distribution."""
    return erfc(-z / sqrt(2)) / 2


def spread(
    made: Cutting, tin: Tin, slab_height_mm: float, evenness: Evenness
) -> Spread:
    """How unlike the pieces of a cut come out.

    Args:
        made: how the slab is cut.
        tin: the tin that it stood in.
        slab_height_mm: its height [mm].
        evenness: how level it is, how true the knife is placed.

    Raises:
        GeometryError: for a slab that is more out of level than it is high.
    """
    insist_on_level(slab_height_mm, evenness)
    deviations: dict[tuple[object, ...], float] = {}
    counts: dict[tuple[float, float], int] = {}
    for piece in made.each:
        alike = (round(piece.share, 12), tuple(bool(side) for side in piece.sides))
        if alike not in deviations:
            deviations[alike] = _knife(piece) * evenness.knife_off_mm
        kind = (round(piece.share, 12), deviations[alike])
        counts[kind] = counts.get(kind, 0) + 1
    kinds = tuple(Kind(n, share, knife) for (share, knife), n in counts.items())
    reach = max(reaches(made.each, (tin.length_mm, tin.width_mm)))
    return Spread(kinds, evenness.level_mm / slab_height_mm * sqrt(3) * reach)


def grid_spread(
    grid: Grid,
    each: Sequence[float],
    slab_height_mm: float,
    evenness: Evenness,
) -> Spread:
    """The same for a grid, from its sides alone: quick enough to try many.

    Args:
        grid: the grid.
        each: share of every piece, column by column.
        slab_height_mm: height of the slab [mm].
        evenness: how level it is, how true the knife is placed.
    """
    insist_on_level(slab_height_mm, evenness)
    sides = (grid.along, grid.across)
    cut_x, cut_y = (_cuts(side) / side.piece_mm**2 for side in sides)
    knife = evenness.knife_off_mm * np.sqrt(cut_x[:, None] + cut_y)
    rows = np.stack((np.array(each).round(12), knife.ravel().round(12)), axis=1)
    found, counts = np.unique(rows, axis=0, return_counts=True)
    kinds = tuple(
        Kind(int(n), float(share), float(off))
        for (share, off), n in zip(found, counts, strict=True)
    )
    reach = max(_row_reach(side) for side in sides)
    return Spread(kinds, evenness.level_mm / slab_height_mm * sqrt(3) * reach)


def _cuts(side: Side) -> NDArray[np.float64]:
    """How many of a piece's two sides along here the knife makes."""
    counts = np.full(side.pieces, 2.0)
    if not side.room.trim_mm:
        counts[0] -= 1
        counts[-1] -= 0 if side.rest_mm else 1
    return counts


def _row_reach(side: Side) -> float:
    """As `reaches`, of pieces in a row."""
    places = (np.array(side.starts_mm) + side.piece_mm / 2) / side.room.slab_mm
    return float(np.sqrt(((places - 0.5) ** 2).mean()))


def insist_on_level(slab_height_mm: float, evenness: Evenness) -> None:
    """Refuse a slab that is more out of level than it is high.

    Raises:
        GeometryError: if it is.
    """
    if evenness.level_mm > slab_height_mm:
        what = (
            f"A slab of {slab_height_mm:.3g} mm can't be out of level by "
            f"{evenness.level_mm:g} mm."
        )
        raise GeometryError(Mistake(what, "Give what one side is higher by."))


def _knife(piece: Piece) -> float:
    """What a millimetre does, relative to the piece: each stroke is off by itself."""
    return sqrt(sum(side**2 for side in piece.cut_mm().values())) / piece.area_mm2


def reaches(pieces: Sequence[Piece], size_mm: Point) -> tuple[float, float]:
    """How far pieces lie from the slab's middle along its length, across its width.

    Root of the mean square, in sizes of the slab that way: of n pieces in a row, edge
    to edge, √((1 - 1/n²) / 12). The slope may rise either way, so it counts from the
    middle, and is taken to run the way that is worse.
    """
    centres = [centre_of(piece) for piece in pieces]
    found = [
        sqrt(sum((c[axis] / size - 0.5) ** 2 for c in centres) / len(centres))
        for axis, size in enumerate(size_mm)
    ]
    return found[0], found[1]


def centre_of(piece: Piece) -> Point:
    """Centre of a piece, quickly for those with straight sides."""
    corners = piece.corners
    if len(corners) > len("nesw"):
        return piece.centre_mm
    # of triangles, rectangles and diamonds it is the mean of the corners
    return (
        sum(x for x, _ in corners) / len(corners),
        sum(y for _, y in corners) / len(corners),
    )
