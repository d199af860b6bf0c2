"""Several tins that share one batch, and how deep its layers stand in all of them."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf

from slabwright.slab.tin import DEEPEST_MM, Tin

_HIGHEST_MM = 20 * DEEPEST_MM
"""No slab stands higher: beyond any tin, so that an overflow is found and said."""


@dataclass(frozen=True, slots=True)
class Ground:
    """What a slab stands on: one tin, or several that are filled equally deep."""

    tins: tuple[Tin, ...]

    def volume_mm3(self, to_height_mm: float) -> float:
        """Volume in all of them from the base to this height [mm³]."""
        return sum(tin.volume_mm3(to_height_mm) for tin in self.tins)

    def band_mm3(self, from_mm: float, depth_mm: float) -> float:
        """Volume of a layer of this depth on what stands at that height [mm³]."""
        return self.volume_mm3(from_mm + depth_mm) - self.volume_mm3(from_mm)

    def depth_mm_of(self, volume_mm3: float, from_mm: float) -> float:
        """Depth of a layer of this volume on what stands at that height [mm].

        One tin answers itself, exactly; several are solved together by bisection, to
        the last digit that a float holds.
        """
        if len(self.tins) == 1:
            return self.tins[0].depth_mm_of(volume_mm3, from_mm)
        low_mm, high_mm = 0.0, _HIGHEST_MM
        for _ in range(200):
            middle_mm = (low_mm + high_mm) / 2
            if middle_mm in {low_mm, high_mm}:
                break
            if self.band_mm3(from_mm, middle_mm) < volume_mm3:
                low_mm = middle_mm
            else:
                high_mm = middle_mm
        return (low_mm + high_mm) / 2

    @property
    def rim_mm(self) -> float:
        """Height of the lowest rim [mm]; infinite where none is known."""
        return min((tin.depth_mm or inf for tin in self.tins), default=inf)


def bands_mm3(ground: Ground, depths_mm: Sequence[float]) -> list[float]:
    """Volumes of layers of these depths, each on the one before it [mm³]."""
    found: list[float] = []
    height_mm = 0.0
    for depth_mm in depths_mm:
        found.append(ground.band_mm3(height_mm, depth_mm))
        height_mm += depth_mm
    return found


def depths_mm(ground: Ground, volumes_mm3: Sequence[float]) -> list[float]:
    """Depths of layers of these volumes, each on the one before it [mm]."""
    found: list[float] = []
    height_mm = 0.0
    for volume_mm3 in volumes_mm3:
        depth_mm = ground.depth_mm_of(volume_mm3, height_mm)
        found.append(depth_mm)
        height_mm += depth_mm
    return found
