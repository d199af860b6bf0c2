"""A tin: its inner sizes at every height, what it holds, how deep a layer stands."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import inf
from typing import Literal, Self

from slabwright.errors import GeometryError, Mistake
from slabwright.slab.outline import SMALLEST_MM, Outline, size_mistakes

DEEPEST_MM = 500.0
"""No tin is deeper than this. Our own limit: above it a unit was misread."""
MOST_TINS = 1000
"""More alike tins than this are not filled from one batch. Our own limit."""
MOST_CELLS = 100
"""No tin is divided into more cells along one side. Our own limit."""


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
    count: int = 1
    """So many alike tins filled from one batch; areas and volumes are of them all."""
    cells: tuple[int, int] = (1, 1)
    """Cells that dividers make of it, along and across."""
    divider_mm: float = 0.0
    """How thick a divider is [mm]."""

    def __post_init__(self) -> None:
        mistakes = tuple(_mistakes(self)) or tuple(_mistakes_of_many(self))
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

    @property
    def divided(self) -> bool:
        """Whether dividers part it into cells."""
        return self.cells != (1, 1)

    @property
    def one(self) -> "Tin":
        """The same tin alone."""
        return replace(self, count=1)

    def area_mm2(self, height_mm: float = 0.0) -> float:
        """Inner area at this height [mm²]; above the rim it is the rim's.

        >>> Tin.rectangular(300, 200).times(2).area_mm2()
        120000.0
        """
        outline = self.outline(height_mm)
        return self.count * (outline.area_mm2 - self._dividers_mm2(outline))

    def _dividers_mm2(self, outline: Outline) -> float:
        """What the dividers stand on: they reach from wall to wall [mm²]."""
        along, across = (cells - 1 for cells in self.cells)
        thick_mm = self.divider_mm
        walls_mm = along * outline.width_mm + across * outline.length_mm
        return thick_mm * (walls_mm - along * across * thick_mm)

    def times(self, count: int) -> "Tin":
        """So many of it.

        Raises:
            GeometryError: for a count that no kitchen fills at once.
        """
        return replace(self, count=count)

    def parted(self, along: int, across: int, divider_mm: float = 0.0) -> "Tin":
        """The same with dividers, so many cells along and across.

        Raises:
            GeometryError: for a round tin, or dividers that leave no room.
        """
        return replace(self, cells=(along, across), divider_mm=divider_mm)

    def volume_mm3(self, to_height_mm: float) -> float:
        """Volume from the base to this height [mm³].

        Between base and rim the area is a quadratic in the height, so Simpson's rule
        is exact. Nothing holds a layer above the rim: from there on the volume is
        reckoned straight up from the rim's outline.
        """
        if self.depth_mm is None or not self.sloping:
            return self.area_mm2() * to_height_mm
        inside_mm = min(to_height_mm, self.depth_mm)
        middle_mm2, top_mm2 = self.area_mm2(inside_mm / 2), self.area_mm2(inside_mm)
        mean_mm2 = (self.area_mm2() + 4 * middle_mm2 + top_mm2) / 6
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
            return volume_mm3 / self.area_mm2()
        room_mm3 = self.volume_mm3(depth_mm) - self.volume_mm3(start_mm)
        if volume_mm3 >= room_mm3:
            over_mm = (volume_mm3 - room_mm3) / self.area_mm2(depth_mm)
            return depth_mm - start_mm + over_mm
        return _depth_within(self, volume_mm3, start_mm, depth_mm)

    def describe(self) -> str:
        """The tin's inner sizes in words, as they stand on a card.

        >>> Tin.rectangular(300, 200, 50).describe()
        '30 × 20 × 5 cm'
        >>> Tin.round(230, 70).describe()
        'round 23 cm, 7 cm deep'
        """
        more = "" if self.count == 1 else f"{self.count} of "
        return more + self._one_in_words() + _dividers(self)

    def _one_in_words(self) -> str:
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


def _mistakes_of_many(tin: Tin) -> Iterator[Mistake]:
    """What is wrong with its count or its dividers."""
    if not (1 <= tin.count <= MOST_TINS and tin.count % 1 == 0):  # false for nan too
        yield Mistake(
            f"The number of tins is {tin.count:g}.",
            f"Give a whole number from 1 to {MOST_TINS:,}.",
        )
    if any(not (1 <= cells <= MOST_CELLS and cells % 1 == 0) for cells in tin.cells):
        yield Mistake(
            f"The tin is divided {tin.cells[0]:g} × {tin.cells[1]:g}.",
            f"Give the cells along and across, 1 to {MOST_CELLS} each.",
        )
        return
    if tin.divided and tin.shape == "round":
        yield Mistake("A round tin is divided.", "Give it wedges by its cut instead.")
    sizes = zip((tin.length_mm, tin.width_mm), tin.cells, strict=True)
    least_mm = min((mm - (n - 1) * tin.divider_mm) / n for mm, n in sizes)
    if not (tin.divider_mm >= 0 and least_mm >= SMALLEST_MM):
        yield Mistake(
            f"Dividers of {tin.divider_mm:g} mm leave cells of {least_mm:.3g} mm.",
            "Give fewer cells or thinner dividers.",
        )


def _dividers(tin: Tin) -> str:
    if not tin.divided:
        return ""
    thick = f", dividers {tin.divider_mm:g} mm" if tin.divider_mm else ""
    return f", divided {tin.cells[0]} × {tin.cells[1]}{thick}"


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
