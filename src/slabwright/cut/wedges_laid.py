"""Wedges as they lie on a round slab, and the strokes that part them."""

from collections.abc import Iterator
from math import asin, cos, pi, sin

from slabwright.cut.polygon import Polygon, arc
from slabwright.cut.stroke import Meeting, Point, Stroke
from slabwright.cut.strokes import Strokes, halves_first

_FIRST = -pi / 2
"""The first stroke begins at the nearest point of the rim."""
UNCUT = -1
"""Stands for the slab's own edge among the sides of a wedge."""


def wedge_strokes(
    wedges: int, radius_mm: float, middle_mm: float
) -> tuple[tuple[Stroke, ...], dict[int, int]]:
    """Strokes in the knife's order: right across if their number is even.

    Args:
        wedges: how many; one needs none.
        radius_mm: of the trimmed slab [mm].
        middle_mm: from the left and the near edge to the middle [mm].

    Returns:
        The strokes, and the number of each by the radius that it cuts, from the
        nearest point anticlockwise; that of `UNCUT` is 0.
    """
    made = Strokes(2 * middle_mm, 2 * middle_mm)
    lines = {UNCUT: 0}
    if wedges == 1:
        return (), lines
    right_across = wedges % 2 == 0
    count = wedges // 2 if right_across else wedges
    # the first stroke halves the slab; the others halve what is left of a half
    for k in (0, *(1 + i for i in halves_first(count - 1))):
        radii = (k, k + count) if right_across else (k,)
        start = _rim(_angle(k, wedges), radius_mm, middle_mm)
        end = (middle_mm, middle_mm)
        if right_across:
            end = _rim(_angle(k + count, wedges), radius_mm, middle_mm)
        meets = tuple(
            Meeting("rim", 2 * pi * middle_mm * one / wedges) for one in radii
        )
        number = made.round("cut", (start, end), meets, None)
        lines.update(dict.fromkeys(radii, number))
    return tuple(made.made), lines


def wedge_pieces(
    wedges: int, radius_mm: float, middle_mm: float, knife_mm: float
) -> Iterator[tuple[Polygon, tuple[int, ...]]]:
    """Outline of each wedge, and for each side the radius that it lies on."""
    middle = (middle_mm, middle_mm)
    if wedges == 1:
        whole = tuple(arc(middle, radius_mm, _FIRST, _FIRST + 2 * pi)[:-1])
        yield whole, (UNCUT,) * len(whole)
        return
    half_mm = knife_mm / 2
    off = asin(half_mm / radius_mm)
    for k in range(wedges):
        ends = (_angle(k, wedges) + off, _angle(k + 1, wedges) - off)
        rim = tuple(arc(middle, radius_mm, *ends))
        sides = (UNCUT,) * (len(rim) - 1)
        if wedges == 2:  # the half has no point: one side, right across
            yield rim, (*sides, k)
            continue
        bisector = (_angle(k, wedges) + _angle(k + 1, wedges)) / 2
        in_mm = half_mm / sin(pi / wedges)
        point = (middle_mm + in_mm * cos(bisector), middle_mm + in_mm * sin(bisector))
        yield (point, *rim), (k, *sides, (k + 1) % wedges)


def _angle(k: int, wedges: int) -> float:
    return _FIRST + 2 * pi * k / wedges


def _rim(angle: float, radius_mm: float, middle_mm: float) -> Point:
    return middle_mm + radius_mm * cos(angle), middle_mm + radius_mm * sin(angle)
