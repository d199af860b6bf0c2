"""One straight cut, as the knife makes it, in plan."""

from dataclasses import dataclass
from typing import Literal

Point = tuple[float, float]
"""Distance from the left and from the near edge of the slab's base [mm]."""
Edge = Literal["left", "near", "rim", ""]
"""What a place is measured from; empty for a slanted stroke."""


@dataclass(frozen=True, slots=True)
class Meeting:
    """Where a stroke, drawn out, meets the untrimmed slab's outline."""

    edge: Literal["left", "right", "near", "far", "rim"]
    at_mm: float
    """From the left along near and far, from the near corner along left and right,
    around the rim from the nearest point of it, anticlockwise [mm]."""


@dataclass(frozen=True, slots=True)
class Stroke:
    """A straight cut from edge to edge of what lies there, in the knife's order."""

    number: int
    """Its turn, from 1."""
    what: Literal["trim", "strip", "cut"]
    """Whether it trims an edge, parts off a left-over strip, or parts pieces."""
    start_mm: Point
    end_mm: Point
    """Where the middle of the knife goes."""
    edge: Edge
    """The edge that its place is measured from; empty for a slanted one."""
    at_mm: float | None
    """Distance from that edge as it is read off a ruler [mm]; None where it slants."""
    meets: tuple[Meeting, ...] = ()
    """Both places to mark for a slanted one, or on the rim of a round slab."""
