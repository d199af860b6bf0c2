"""One straight cut, as the knife makes it, in plan."""

from dataclasses import dataclass
from typing import Literal

Point = tuple[float, float]
"""Distance from the left and from the near edge of the slab's base [mm]."""


@dataclass(frozen=True, slots=True)
class Stroke:
    """A straight cut from edge to edge of what lies there, in the knife's order."""

    number: int
    """Its turn, from 1."""
    what: Literal["trim", "cut"]
    start_mm: Point
    end_mm: Point
    """Where the middle of the knife goes."""
    edge: Literal["left", "near", ""]
    """The edge that its place is measured from; empty for a slanted one."""
    at_mm: float | None
    """Distance from that edge as it is read off a ruler [mm]; None where it slants."""
