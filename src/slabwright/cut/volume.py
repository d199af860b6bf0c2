"""Shares of a slab's volume over convex shapes in plan."""

from collections.abc import Sequence

from slabwright.cut.polygon import area_mm2, area_within_mm2
from slabwright.cut.region import slices
from slabwright.cut.stroke import Point
from slabwright.slab.outline import Outline
from slabwright.slab.tin import Tin


class Volumes:
    """A slab in its tin, of which shares are asked."""

    def __init__(self, tin: Tin, height_mm: float) -> None:
        """Take the slab of this height [mm] that stands in a tin."""
        ends = (tin.base, tin.rim)
        self._base = tin.base
        self._height_mm = height_mm
        self._fine = slices(tin, height_mm)
        # away from rounded corners an area is smooth all the way up
        self._coarse = slices(tin, height_mm, panels=1)
        self._whole_mm3 = sum(o.area_mm2 * thick for o, thick in self._fine)
        self._corner = (
            min(one.length_mm / 2 - one.corner_radius_mm for one in ends),
            min(one.width_mm / 2 - one.corner_radius_mm for one in ends),
        )

    def share(self, polygon: Sequence[Point]) -> float:
        """Share of the slab that lies over a convex shape.

        Args:
            polygon: its corners, anticlockwise, from the left and near edge [mm].
        """
        if len(polygon) < len("xyz"):
            return 0.0
        x, y = self._base.length_mm / 2, self._base.width_mm / 2
        centred = [(px - x, py - y) for px, py in polygon]
        if all(_inside(p, self._base) for p in centred):  # walls only lean outwards
            return area_mm2(centred) * self._height_mm / self._whole_mm3
        reach = [max(abs(p[axis]) for p in centred) for axis in (0, 1)]
        is_near = reach[0] > self._corner[0] and reach[1] > self._corner[1]
        volume_mm3 = sum(
            area_within_mm2(centred, outline) * thick
            for outline, thick in (self._fine if is_near else self._coarse)
        )
        return volume_mm3 / self._whole_mm3


def _inside(point: Point, outline: Outline) -> bool:
    x, y = abs(point[0]), abs(point[1])
    r = outline.corner_radius_mm
    u, v = x - (outline.length_mm / 2 - r), y - (outline.width_mm / 2 - r)
    if u > r or v > r:
        return False
    return u <= 0 or v <= 0 or u * u + v * v <= r * r
