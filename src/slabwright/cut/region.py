"""How much of a slab lies over each cell of a grid."""

from collections.abc import Sequence
from functools import cache
from math import inf

import numpy as np
from numpy.polynomial.legendre import leggauss
from numpy.typing import NDArray

from slabwright.slab.outline import Outline
from slabwright.slab.tin import Tin

Array = NDArray[np.float64]
Interval = tuple[float, float]
"""From and to, measured from the middle of the tin's base [mm]."""

EVERYWHERE: Interval = (-inf, inf)


def slices(
    tin: Tin, height_mm: float, panels: int = 4
) -> tuple[tuple[Outline, float], ...]:
    """Outlines of a slab of this height, each with the thickness that it stands for.

    A sum of area × thickness over them gives a volume: exactly where the area is a
    polynomial in the height (straight walls; cells that do not cut through a rounded
    corner), and to 1e-5 of a cell that cuts through one between sloping walls.
    """
    if not tin.sloping or tin.depth_mm is None:
        return ((tin.base, height_mm),)
    inside_mm = min(height_mm, tin.depth_mm)
    above_mm = height_mm - inside_mm
    within = [(tin.outline(s * inside_mm), w * inside_mm) for s, w in _gauss(panels)]
    return (*within, (tin.rim, above_mm)) if above_mm else tuple(within)


def volumes_mm3(
    tin: Tin, height_mm: float, along: Sequence[Interval], across: Sequence[Interval]
) -> Array:
    """Volume of the slab over each cell [mm³], shape (along, across).

    Args:
        tin: the tin that the slab stands in.
        height_mm: height of the slab [mm].
        along: sides of the cells along the tin's length [mm]; may reach to infinity.
        across: sides of the cells across its width [mm].
    """
    cut = slices(tin, height_mm)
    sizes = [(o.length_mm, o.width_mm, o.corner_radius_mm) for o, _ in cut]
    thickness_mm = np.array([thickness for _, thickness in cut])
    lines = [np.array(sides).reshape(-1) for sides in (along, across)]
    areas = _area_to(np.array(sizes).T[:, :, None, None], lines[0][:, None], lines[1])
    corners = np.tensordot(thickness_mm, areas, axes=1)
    corners = corners.reshape(len(along), 2, len(across), 2)
    by_across = corners[:, 1] - corners[:, 0]
    volumes: Array = by_across[:, :, 1] - by_across[:, :, 0]
    return volumes


def _area_to(sizes: Array, x: Array, y: Array) -> Array:
    """Area inside an outline from its middle to (x, y); negative where one of them is.

    It is the rectangle up to there, less what the rounded corner takes off.
    """
    length, width, radius = sizes
    to_x, to_y = np.minimum(abs(x), length / 2), np.minimum(abs(y), width / 2)
    u = np.maximum(to_x - (length / 2 - radius), 0)
    v = np.maximum(to_y - (width / 2 - radius), 0)
    area: Array = np.sign(x) * np.sign(y) * (to_x * to_y - _off_corner(u, v, radius))
    return area


def _off_corner(u: Array, v: Array, radius: Array) -> Array:
    """Area of the rectangle u × v outside the quarter disc around its corner."""
    r = np.where(radius > 0, radius, 1.0)  # without a radius, u and v are 0
    u, v = np.minimum(u, r), np.minimum(v, r)
    enters = np.sqrt(np.maximum(r**2 - v**2, 0))  # where the arc comes below v
    beyond = np.maximum(u, enters)
    return (beyond - enters) * v - (_under_arc(beyond, r) - _under_arc(enters, r))


def _under_arc(s: Array, r: Array) -> Array:
    """Area of a quarter disc of radius r from its middle line to s."""
    root = np.sqrt(np.maximum(r**2 - s**2, 0))
    area: Array = (s * root + r**2 * np.arcsin(np.minimum(s / r, 1))) / 2
    return area


@cache
def _gauss(panels: int) -> tuple[tuple[float, float], ...]:
    """Points from 0 to 1 and their weights: panels of Gauss-Legendre, 8 points."""
    points, weights = leggauss(8)
    return tuple(
        ((panel + (point + 1) / 2) / panels, weight / (2 * panels))
        for panel in range(panels)
        for point, weight in zip(points.tolist(), weights.tolist(), strict=True)
    )
