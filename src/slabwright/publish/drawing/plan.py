"""What the drawing room is handed of a cut: the slab from above, as plain sizes."""

from dataclasses import dataclass

Point = tuple[float, float]
"""Distance from the left and from the near edge of the slab's base [mm]."""
Outline = tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class DrawnStroke:
    """A straight cut in plan."""

    number: int
    """Its turn."""
    start_mm: Point
    end_mm: Point
    trims: bool
    edge: str
    """What its place is measured from: `left`, `near`, `rim`; empty where it slants."""
    at_mm: float | None
    """As it is read off a ruler laid along that edge [mm]."""
    meets: tuple[tuple[str, float], ...] = ()
    """Edges that a slanted stroke, drawn out, meets, and where: from the left along
    `near` and `far`, from the near corner along `left` and `right`, along the `rim` of
    a round slab from its nearest point, anticlockwise [mm]."""


@dataclass(frozen=True, slots=True)
class DrawnPlan:
    """A slab from above, with every piece and every stroke of the knife."""

    name: str
    slab: Outline
    length_mm: float
    width_mm: float
    pieces: tuple[Outline, ...]
    strokes: tuple[DrawnStroke, ...]
    texture: str
    """Of the layer on top."""
    fill: str | None
    words: str
    """The cut in a sentence."""
