"""Where everything of the big section lies: scale, faces, extent.

Millimetres count from the inner corner of the tin's base, across and up; drawing units
from the same corner, across and down. At full size a unit is a quarter of a millimetre
of paper.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, inf, pi, sin
from typing import Self

from slabwright.publish.drawing.drawn import DrawnSlab, Standing, standing
from slabwright.publish.drawing.svg import Point

PAPER_MM = 0.25
"""Size of a drawing unit on paper [mm]."""
_HIGHEST = 720.0
"""So many units may a slab and its tin stand high; else the scale is reduced."""
_WIDEST = 760.0
"""So many units may a piece and its trim take; else the scale is reduced."""
_USUAL = 560.0
"""Length of a slab that is shown, if it is longer."""
_COMPACT_USUAL = 250.0
"""The same where there is little room: beside a card on a screen."""
_BEYOND = 40.0
"""What is shown of the piece behind the first one."""
OVERHANG = 9.0
"""How far a slab leans out over the rim that it stands above."""


@dataclass(frozen=True, slots=True)
class Scale:
    """Drawing to life size: 2 : 1, 1 : 1, 1 : 2, 1 : 5, 1 : 10 and so on.

    The steps are those of technical drawings (ISO 5455, from memory).
    """

    drawn: float
    of: float

    def __str__(self) -> str:
        return f"{self.drawn:g} : {self.of:,.0f}"

    @property
    def units_per_mm(self) -> float:
        """Drawing units for a millimetre of slab."""
        return self.drawn / self.of / PAPER_MM

    @classmethod
    def fitting(cls, high_mm: float, wide_mm: float, most: float = 2.0) -> Self:
        """The largest step up to `most` : 1 at which these sizes have room."""
        return next(
            scale
            for scale in cls._steps()
            if scale.drawn <= most * scale.of
            and high_mm * scale.units_per_mm <= _HIGHEST
            and wide_mm * scale.units_per_mm <= _WIDEST
        )

    @classmethod
    def _steps(cls) -> Iterator[Self]:
        yield cls(2, 1)
        ten = 1
        while True:
            for step in (1, 2, 5):
                yield cls(1, step * ten)
            ten *= 10


@dataclass(frozen=True, slots=True)
class Frame:
    """A slab in its tin, laid out."""

    slab: DrawnSlab
    layers: tuple[Standing, ...]
    scale: Scale
    shown_mm: float
    """How much of the base is shown [mm]."""
    whole: bool
    """Whether that is all of it, up to the other wall."""
    broken: tuple[Point, ...] = ()
    """Corners of the line along which it is broken off otherwise [mm], upwards."""

    @property
    def k(self) -> float:
        """Drawing units for a millimetre."""
        return self.scale.units_per_mm

    @property
    def top_mm(self) -> float:
        """Upper face of the slab as drawn [mm]."""
        return self.layers[-1].top_mm if self.layers else 0.0

    @property
    def wall_mm(self) -> float:
        """Height to which the tin's wall is drawn [mm]."""
        if self.slab.tin_depth_mm is not None:
            return self.slab.tin_depth_mm
        return self.top_mm + 48 / self.k

    @property
    def over_mm(self) -> float:
        """How much the slab stands above the rim [mm]; 0 if it does not."""
        depth_mm = self.slab.tin_depth_mm
        return 0.0 if depth_mm is None else max(0.0, self.top_mm - depth_mm)

    @property
    def slope(self) -> float:
        """How far the wall has gone outwards at the rim [units]."""
        return self.slab.wall_slope_mm * self.k if self.slab.tin_depth_mm else 0.0

    @property
    def right(self) -> float:
        """Right end of all that is drawn of the slab and its tin [units]."""
        leaning = self.slope + OVERHANG + 6 if self.whole else 6
        return self.shown_mm * self.k + leaning

    def y(self, height_mm: float) -> float:
        """How far down this height lies [units]."""
        return -height_mm * self.k

    def wall(self, low_mm: float, high_mm: float) -> Sequence[Point]:
        """Left end of the slab: along the wall, and leaning out above the rim."""
        knots = self._wall_knots()
        return [(self._wall_mm(h), h) for h in _between(low_mm, high_mm, knots)]

    def other_end(self, low_mm: float, high_mm: float) -> Sequence[Point]:
        """Right end of the slab: the other wall, or where it is broken off."""
        if self.whole:
            end_mm = self.shown_mm
            return [(end_mm - x, h) for x, h in self.wall(low_mm, high_mm)]
        heights = [h for _, h in self.broken]
        return [(self._broken_mm(h), h) for h in _between(low_mm, high_mm, heights)]

    def _broken_mm(self, height_mm: float) -> float:
        for (x0, h0), (x1, h1) in pairwise(self.broken):
            if h0 <= height_mm <= h1:
                return x0 + (x1 - x0) * (height_mm - h0) / (h1 - h0)
        return self.shown_mm

    def _wall_knots(self) -> list[float]:
        depth_mm = self.slab.tin_depth_mm
        if depth_mm is None or not self.over_mm:
            return []
        swell_mm = self._swell_mm()
        return [depth_mm + swell_mm * i / 4 for i in range(5)]

    def _swell_mm(self) -> float:
        """Height above the rim within which the slab comes to lean out."""
        return min(self.over_mm, 16 / self.k)

    def _wall_mm(self, height_mm: float) -> float:
        depth_mm = self.slab.tin_depth_mm
        if depth_mm is None:
            return 0.0
        wall_mm = -self.slab.wall_slope_mm * min(1.0, height_mm / depth_mm)
        if height_mm <= depth_mm or not self.over_mm:
            return wall_mm
        out = min(1.0, (height_mm - depth_mm) / self._swell_mm())
        return wall_mm - OVERHANG / self.k * sin(out * pi / 2)


def framed(slab: DrawnSlab, *, compact: bool = False) -> Frame:
    """The slab laid out at the largest scale that has room.

    Args:
        slab: what is drawn.
        compact: at life size at most, and not much of it: for a narrow place.
    """
    layers = standing(slab.layers)
    top_mm = layers[-1].top_mm if layers else 0.0
    first_mm = 0.0
    if slab.piece_mm is not None:
        first_mm = slab.trim_mm + slab.piece_mm + slab.knife_mm
    high_mm = max(top_mm, slab.tin_depth_mm or 0.0)
    scale = Scale.fitting(high_mm, first_mm, 1.0 if compact else 2.0)
    k = scale.units_per_mm
    usual = _COMPACT_USUAL if compact else _USUAL
    shown_mm = max(usual, first_mm * k + _BEYOND) / k
    length_mm = slab.tin_length_mm or inf
    whole = length_mm * k <= shown_mm * k + _BEYOND
    if whole:
        return Frame(slab, layers, scale, length_mm, whole)
    return Frame(slab, layers, scale, shown_mm, whole, _broken(shown_mm, top_mm, k))


def _broken(at_mm: float, top_mm: float, k: float) -> tuple[Point, ...]:
    """A jagged line from beneath the tin to above the slab [mm]."""
    low, high = -16.0, top_mm * k + 8
    count = max(2, min(12, ceil((high - low) / 34)))
    step = (high - low) / count
    return tuple(
        (at_mm + (5 if i % 2 else -3) / k, (low + i * step) / k)
        for i in range(count + 1)
    )


def _between(low: float, high: float, knots: Sequence[float]) -> list[float]:
    """Both ends, and every knot between them, upwards."""
    if low == high:
        return [low]
    return [low, *(knot for knot in knots if low < knot < high), high]
