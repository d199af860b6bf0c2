"""Where rising functions cross nought, for whole arrays at once."""

from collections.abc import Callable
from typing import Final

import numpy as np

from slabwright.physics.species import Array

_FEW: Final = 512
"""Up to so many rows one call costs the same for many points as for one."""
_SECTIONS: Final = ((16, 3), (4, 6))
"""Sections of a round and how many rounds, for few rows and for many: a width of
1/4096, then a straight line."""


def crossing(function: Callable[[Array], Array], low: Array, high: Array) -> Array:
    """Where a rising function of each row is nought, between two bounds.

    Each round cuts the bounds into sections and keeps the one that holds the root; a
    straight line does the last step. A row whose function doesn't change its sign
    gives the bound where it is nearer to nought.

    Args:
        function: takes and gives an array of shape (points, rows); rising in each row.
        low: lower bounds, shape (rows,).
        high: upper bounds, shape (rows,).

    Returns:
        The roots, shape (rows,); off by less than a hundred thousandth of the width
        where the function is smooth.
    """
    sections, rounds = _SECTIONS[low.size > _FEW]
    steps = np.linspace(0.0, 1.0, sections + 1)[:, None]
    rows = np.arange(low.size)
    for _ in range(rounds):
        points = low + (high - low) * steps
        values = function(points)
        # the last point at or under nought, but never the end
        under = np.clip((values <= 0).sum(axis=0) - 1, 0, sections - 1)
        low, high = points[under, rows], points[under + 1, rows]
        at_low, at_high = values[under, rows], values[under + 1, rows]
    rise = at_high - at_low
    with np.errstate(divide="ignore", invalid="ignore"):
        share = np.where(at_high > 0, -at_low / rise, 1.0)
    found: Array = low + (high - low) * np.clip(share, 0.0, 1.0)
    return found
