"""A tin: its inner sizes at every height, what it holds, how deep a layer stands."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import inf
from typing import Literal, Self

from slabwright.errors import GeometryError, Mistake
from slabwright.slab.outline import Outline, size_mistakes

DEEPEST_MM = 500.0
"""No tin is deeper than this. Our own limit: above it a unit was misread."""


@dataclass(frozen=True, slots=True)
class Tin:
    """A tin's inside: straight up from its base, or sloping evenly to its rim.

    Length is the size that was written first, not the longer one. The rim is never
    narrower than the base: such a tin could not be emptied, and two sizes in that
    order have been swapped.
    """

    shape: Literal["rectangular", "round"]
    base: Outline
    rim: Outline
    depth_mm: float | None = None
    """From base to rim [mm]; None where it was not given."""

    def __post_init__(self) -> None:
        mistakes = tuple(_mistakes(self))
        if mistakes:
            raise GeometryError(*mistakes)

    @classmethod
    def rectangular(
        cls,
        length_mm: float,
        width_mm: float,
        depth_mm: float | None = None,
        *,
        corner_radius_mm: float = 0.0,
        rim: Outline | None = None,
    ) -> Self:
        """A rectangular tin, straight up from its base unless a rim is given.

        Raises:
            GeometryError: for sizes that no tin has; see `Tin`.
        """
        base = Outline(length_mm, width_mm, corner_radius_mm)
        return cls("rectangular", base, base if rim is None else rim, depth_mm)

    @classmethod
    def square(
        cls,
        side_mm: float,
        depth_mm: float | None = None,
        *,
        corner_radius_mm: float = 0.0,
        rim: Outline | None = None,
    ) -> Self:
        """A square tin.

        Raises:
            GeometryError: for sizes that no tin has; see `Tin`.
        """
        base = Outline(side_mm, side_mm, corner_radius_mm)
        return cls("rectangular", base, base if rim is None else rim, depth_mm)

    @classmethod
    def round(
        cls,
        diameter_mm: float,
        depth_mm: float | None = None,
        *,
        rim_diameter_mm: float | None = None,
    ) -> Self:
        """A round tin.

        Raises:
            GeometryError: for sizes that no tin has; see `Tin`.
        """
        rim_mm = diameter_mm if rim_diameter_mm is None else rim_diameter_mm
        base, rim = (Outline(d, d, d / 2) for d in (diameter_mm, rim_mm))
        return cls("round", base, rim, depth_mm)

    @property
    def length_mm(self) -> float:
        """Inner length at the base, or the diameter there [mm]."""
        return self.base.length_mm

    @property
    def width_mm(self) -> float:
        """Inner width at the base, or the diameter there [mm]."""
        return self.base.width_mm

    @property
    def sloping(self) -> bool:
        """Whether base and rim differ."""
        return self.base != self.rim

    def outline(self, height_mm: float) -> Outline:
        """Inner sizes at this height; above the rim they are the rim's."""
        if self.depth_mm is None or not self.sloping:
            return self.base
        return self.base.towards(self.rim, min(height_mm / self.depth_mm, 1.0))

    def area_mm2(self, height_mm: float = 0.0) -> float:
        """Inner area at this height [mm²]; above the rim it is the rim's."""
        return self.outline(height_mm).area_mm2

    def volume_mm3(self, to_height_mm: float) -> float:
        """Volume from the base to this height [mm³].

        Between base and rim the area is a quadratic in the height, so Simpson's rule
        is exact. Nothing holds a layer above the rim: from there on the volume is
        reckoned straight up from the rim's outline.
        """
        if self.depth_mm is None or not self.sloping:
            return self.base.area_mm2 * to_height_mm
        inside_mm = min(to_height_mm, self.depth_mm)
        middle_mm2, top_mm2 = self.area_mm2(inside_mm / 2), self.area_mm2(inside_mm)
        mean_mm2 = (self.base.area_mm2 + 4 * middle_mm2 + top_mm2) / 6
        return mean_mm2 * inside_mm + top_mm2 * (to_height_mm - inside_mm)

    @property
    def brim_volume_ml(self) -> float | None:
        """What the tin holds, full to the brim [ml]; None where its depth is unknown.

        >>> Tin.rectangular(300, 200, 50).brim_volume_ml
        3000.0
        """
        return None if self.depth_mm is None else self.volume_mm3(self.depth_mm) / 1000

    def depth_mm_of(self, volume_mm3: float, from_height_mm: float = 0.0) -> float:
        """Depth of a layer of this volume on whatever stands at that height [mm].

        Within the tin it is exact (the volume is a cubic in the depth, solved to
        1e-9 mm). What would stand above the rim is reckoned straight up from the
        rim's outline, since nothing there widens it or holds it.

        Args:
            volume_mm3: volume of the layer [mm³], 0 or more.
            from_height_mm: height of the level face that it is poured on [mm].

        Raises:
            GeometryError: for a volume or height that is negative or no number.

        >>> Tin.rectangular(300, 200).depth_mm_of(600_000)
        10.0
        """
        for name, given in (("volume", volume_mm3), ("height", from_height_mm)):
            if not 0 <= given < inf:  # false for nan too
                raise GeometryError(
                    Mistake(f"A layer's {name} is {given:g}.", "Give 0 or more.")
                )
        depth_mm, start_mm = self.depth_mm, from_height_mm
        if depth_mm is None or not self.sloping:
            return volume_mm3 / self.base.area_mm2
        room_mm3 = self.volume_mm3(depth_mm) - self.volume_mm3(start_mm)
        if volume_mm3 >= room_mm3:
            over_mm = (volume_mm3 - room_mm3) / self.rim.area_mm2
            return depth_mm - start_mm + over_mm
        return _depth_within(self, volume_mm3, start_mm, depth_mm)

    def describe(self) -> str:
        """The tin's inner sizes in words, as they stand on a card.

        >>> Tin.rectangular(300, 200, 50).describe()
        '30 × 20 × 5 cm'
        >>> Tin.round(230, 70).describe()
        'round 23 cm, 7 cm deep'
        """
        depth = "" if self.depth_mm is None else f", {_cm(self.depth_mm)} cm deep"
        base, rim = _sizes(self.shape, self.base), _sizes(self.shape, self.rim)
        if base != rim:
            words = f"{base} cm at the base, {rim} cm at the rim{depth}"
        elif self.shape == "round" or self.depth_mm is None:
            words = f"{base} cm{depth}"
        else:
            words = f"{base} × {_cm(self.depth_mm)} cm"
        if self.shape == "round":
            return f"round {words}"
        return words + _corners(self.base.corner_radius_mm, self.rim.corner_radius_mm)


def _mistakes(tin: Tin) -> Iterator[Mistake]:
    if tin.shape == "round":
        if not (tin.base.circular and tin.rim.circular):
            yield Mistake("A round tin is not round.", "Give its diameter.")
        yield from size_mistakes("diameter at the base", tin.base.length_mm)
        if tin.sloping:
            yield from size_mistakes("diameter at the rim", tin.rim.length_mm)
    else:
        yield from tin.base.mistakes("at the base")
        if tin.sloping:
            yield from tin.rim.mistakes("at the rim")
    depth_mm = tin.depth_mm
    if depth_mm is not None and not 0 < depth_mm <= DEEPEST_MM:
        yield Mistake(
            f"The tin's depth is {depth_mm:g} mm.",
            f"Give its inner depth, above 0 and up to {DEEPEST_MM / 10:g} cm.",
        )
    if tin.sloping and depth_mm is None:
        yield Mistake(
            "The tin slopes from base to rim, but its depth is not said.",
            "Add its inner depth, such as: 4 cm deep.",
        )
    narrower = (
        tin.rim.length_mm < tin.base.length_mm or tin.rim.width_mm < tin.base.width_mm
    )
    if narrower:
        yield Mistake(
            "The tin is narrower at the rim than at the base.",
            "Give the base first and the rim, its wider end, second.",
        )


def _depth_within(tin: Tin, volume_mm3: float, start_mm: float, rim_mm: float) -> float:
    """Newton's method on the rising cubic, halving whenever it would leave it."""
    below_mm3 = tin.volume_mm3(start_mm)
    low_mm, high_mm = start_mm, rim_mm
    top_mm = min(start_mm + volume_mm3 / tin.area_mm2(start_mm), rim_mm)
    for _ in range(100):
        over_mm3 = tin.volume_mm3(top_mm) - below_mm3 - volume_mm3
        low_mm, high_mm = (low_mm, top_mm) if over_mm3 > 0 else (top_mm, high_mm)
        better_mm = top_mm - over_mm3 / tin.area_mm2(top_mm)
        if not low_mm <= better_mm <= high_mm:
            better_mm = (low_mm + high_mm) / 2
        if abs(better_mm - top_mm) <= 1e-12 * rim_mm:
            return better_mm - start_mm
        top_mm = better_mm
    return top_mm - start_mm


def _cm(size_mm: float) -> str:
    return f"{round(size_mm / 10, 2):g}"


def _sizes(shape: str, outline: Outline) -> str:
    if shape == "round":
        return _cm(outline.length_mm)
    return f"{_cm(outline.length_mm)} × {_cm(outline.width_mm)}"


def _corners(base_mm: float, rim_mm: float) -> str:
    if base_mm == rim_mm:
        return f", corner radius {_cm(base_mm)} cm" if base_mm else ""
    return f", corner radius {_cm(base_mm)} cm at the base, {_cm(rim_mm)} cm at the rim"
