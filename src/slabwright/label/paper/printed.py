"""What was printed, with all that is needed to work it out anew."""

from dataclasses import dataclass
from datetime import date
from typing import Final, Literal

from slabwright.label.paper.face import Face

FORMAT: Final = "slabwright printed 1"
"""The first words of a record, and how its fields are to be read."""


@dataclass(frozen=True, slots=True)
class Printed:
    """A label, ticket or allergen card as it went on paper."""

    format: Literal["slabwright printed 1"]
    printed: date
    face: Face
    nation: str
    made: date | None = None
    """The bake day."""
    frozen: date | None = None
    thawed: date | None = None
    unless: tuple[str, ...] = ()
    """What lifted a need, by the shop's own word."""
    surface_cm2: float | None = None
    item: str = ""
    """The shop's own number for it."""
    code: str = ""
    """The whole number under the bars, where it was given."""
    value: int | None = None
    """A price or weight inside the number."""
    nutrition: bool = False
    """Whether the nutrition declaration stands on it."""
    width_mm: float = 0.0
    height_mm: float = 0.0
    copies: int = 1
    x_mm: float | None = None
    """How high a small x stands [mm]; None where letters have one size."""
