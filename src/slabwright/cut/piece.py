"""One piece of a cut slab, seen from above."""

from dataclasses import dataclass

from slabwright.cut.polygon import Polygon, area_mm2, around, centre_mm
from slabwright.cut.stroke import Point


@dataclass(frozen=True, slots=True)
class Piece:
    """A whole piece: where it lies, which strokes made its sides, what it holds."""

    corners: Polygon
    """Anticlockwise, from the left and the near edge of the base; an arc in chords."""
    sides: tuple[int, ...]
    """For each side, from its corner to the next, the number of the stroke that made
    it; 0 for the slab's own edge."""
    share: float
    """Of the slab's volume."""
    at_edge: bool
    """Whether a side lies on the slab's edge, trimmed or not."""

    @property
    def area_mm2(self) -> float:
        """Area at the base [mm²]; within 0.05 % where arcs are drawn in chords."""
        return area_mm2(self.corners)

    @property
    def centre_mm(self) -> Point:
        """Centre of its area."""
        return centre_mm(self.corners)

    def cut_mm(self) -> dict[int, float]:
        """Length of its side along each stroke that made one [mm]."""
        found: dict[int, float] = {}
        for number, (p, q) in zip(self.sides, around(self.corners), strict=True):
            if number:
                length = ((q[0] - p[0]) ** 2 + (q[1] - p[1]) ** 2) ** 0.5
                found[number] = found.get(number, 0.0) + length
        return found
