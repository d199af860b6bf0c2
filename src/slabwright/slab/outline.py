"""A level section through a tin, and the limits that its sizes must keep."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import pi

from slabwright.errors import Mistake

SMALLEST_MM = 5.0
"""No tin is narrower than this. Our own limit: below it a unit was misread."""
LARGEST_MM = 3000.0
"""No tin is longer than this. Our own limit: above it a unit was misread."""

_OFF_CORNERS = 4 - pi
"""What four rounded corners take off a rectangle, per square of their radius."""


@dataclass(frozen=True, slots=True)
class Outline:
    """A rectangle, its corners rounded or not.

    A circle is the square whose corner radius is half its side, so that every
    formula for rounded rectangles holds for round tins too.
    """

    length_mm: float
    width_mm: float
    corner_radius_mm: float = 0.0

    @property
    def area_mm2(self) -> float:
        """Area inside the outline [mm²]."""
        corners_mm2 = _OFF_CORNERS * self.corner_radius_mm**2
        return self.length_mm * self.width_mm - corners_mm2

    @property
    def circular(self) -> bool:
        """Whether it is a circle."""
        return self.length_mm == self.width_mm == 2 * self.corner_radius_mm

    def towards(self, other: "Outline", share: float) -> "Outline":
        """The outline at this share of the way up to another; 0 is this one."""
        return Outline(
            self.length_mm + share * (other.length_mm - self.length_mm),
            self.width_mm + share * (other.width_mm - self.width_mm),
            self.corner_radius_mm
            + share * (other.corner_radius_mm - self.corner_radius_mm),
        )

    def mistakes(self, place: str) -> Iterator[Mistake]:
        """What no tin's outline can be; `place` is "at the base" or "at the rim"."""
        sizes = {"length": self.length_mm, "width": self.width_mm}
        for name, size_mm in sizes.items():
            yield from size_mistakes(f"{name} {place}", size_mm)
        most_mm = min(sizes.values()) / 2
        if not 0 <= self.corner_radius_mm <= most_mm:  # false for nan too
            yield Mistake(
                f"The tin's corner radius {place} is {self.corner_radius_mm:g} mm.",
                f"Give 0 to {most_mm:g} mm, half of its short side.",
            )


def size_mistakes(name: str, size_mm: float) -> Iterator[Mistake]:
    """Whether an inner size across a tin is one that a tin can have."""
    if not SMALLEST_MM <= size_mm <= LARGEST_MM:  # false for nan too
        yield Mistake(
            f"The tin's {name} is {size_mm:g} mm.",
            f"Give its inner size, {SMALLEST_MM / 10:g} to {LARGEST_MM / 10:g} cm, "
            "and look at its unit.",
        )
