"""A ganache as an emulsion: fat drops in a syrup, and what keeps another one close.

Nothing here tells how firm a ganache sets. What is kept when chocolate or cream change
is what firmness mostly follows: fat, water and dry cocoa in 100 g.
"""

from itertools import combinations
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from slabwright.composition import Masses, amount, fat, sugars, total, water
from slabwright.physics.species import Array
from slabwright.source import Source, relation, sources

SPLITS_FAT_SHARE: Final = 0.40
"""Over about so much fat in all a cream ganache tends to split. Common practice, no
source; that too much fat splits it is in Notter (2011)."""
SPLITS_SOURCES: Final[tuple[Source, ...]] = (
    sources()["trade"],
    sources()["notter-2011"],
)
FULL_PACKING: Final = np.pi / np.sqrt(18.0)
"""Share of space that drops of one size can fill at most, 0.740."""
PACKING_SOURCE: Final[Source] = sources()["close-packing"]
MIXES_C: Final = (32.0, 43.0)
"""Where a ganache is mixed best, after Notter (2011) [°C]."""
SPLITS_COLD_C: Final = (23.3, 29.4)
"""Where its fat is half set and stirring splits it; same source [°C]."""

_FAT_ML_G: Final = 1.09
_SUGAR_ML_G: Final = 0.62
_TAKES: Final = (0.0, 0.25, 0.5)
"""Water that dry cocoa takes up: least, middle, most [g/g]. From memory."""
_MILK_SOLIDS_TO_LACTOSE: Final = 0.85
"""Protein and minerals for each gram of milk sugar, as in milk and its powders."""
_MASS_FIRST: Final = 1e4
"""Weight of the mass to keep against that of a part to keep."""


class Packing(NamedTuple):
    """Share of fat in the volume of fat and syrup; arrays of one shape."""

    value: Array
    low: Array
    high: Array


def dry_cocoa(masses: Masses) -> Array:
    """Dry, fat-free cocoa in chocolate or cocoa, in the unit of its masses.

    What is left without water, alcohol, fat, sugars, polyols and milk. Only for
    ingredients that hold cocoa: anything else is counted as cocoa too. None where
    there is neither starch nor fibre, as in white chocolate.

    Args:
        masses: masses of constituents, shape (..., len(ROW)).
    """
    lactose = amount(masses, "lactose")
    left = (
        total(masses)
        - amount(masses, "water", "alcohol", "polyols", "unknown")
        - fat(masses)
        - sugars(masses)
        - _MILK_SOLIDS_TO_LACTOSE * lactose
    )
    holds = amount(masses, "starch", "fibre") > 0
    found: Array = np.where(holds, np.maximum(left, 0.0), 0.0)
    return found


def fat_share(masses: Masses) -> Array:
    """Share of fat in the whole, shape (...); NaN of nothing.

    Args:
        masses: masses of constituents, shape (..., len(ROW)).
    """
    return _over(fat(masses), total(masses))


def fat_of_phases(masses: Masses) -> Array:
    """Fat in fat, water and alcohol together; NaN where there is none of them.

    Args:
        masses: masses of constituents, shape (..., len(ROW)).
    """
    of_fat = fat(masses)
    return _over(of_fat, of_fat + amount(masses, "water", "alcohol"))


@relation(sources()["cocoa-takes-water"])
def packing(masses: Masses, dry_cocoa_mass: ArrayLike = 0.0) -> Packing:
    """How closely the drops of fat lie: their share of the volume of fat and syrup.

    Over `FULL_PACKING` there is too little syrup to go round drops of one size. The
    syrup is water, alcohol and all sugars, less the water that dry cocoa takes up.

    Args:
        masses: masses of constituents, shape (..., len(ROW)).
        dry_cocoa_mass: dry cocoa among them, in the same unit.
    """
    drops = _FAT_ML_G * fat(masses)
    dissolved = _SUGAR_ML_G * (
        sugars(masses) + amount(masses, "higher_saccharides", "polyols")
    )
    wet = water(masses)
    cocoa = np.asarray(dry_cocoa_mass, dtype=float)
    low, value, high = (
        _over(
            drops,
            drops
            + dissolved
            + np.maximum(wet - takes * cocoa, 0.0)
            + 1.27 * amount(masses, "alcohol"),
        )
        for takes in _TAKES
    )
    return Packing(value, low, high)


def liquid_to_mend(
    masses: Masses,
    liquid_fat_share: ArrayLike = 0.0,
    to_share: float = SPLITS_FAT_SHARE,
) -> Array:
    """Water or milk that brings the fat down to a share of the whole, in its unit.

    Args:
        masses: masses of constituents, shape (..., len(ROW)).
        liquid_fat_share: fat of what is stirred in, under `to_share`; 0 for water.
        to_share: share of fat to come down to.

    Returns:
        Mass, shape (...); 0 where it is low enough already.
    """
    thin = np.asarray(liquid_fat_share, dtype=float)
    over = fat(masses) - to_share * total(masses)
    found: Array = np.maximum(over, 0.0) / (to_share - thin)
    return found


def closest_mix(
    wanted: Array, holds: Array, weights: Array, mass: float | None = None
) -> Array:
    """How much of each thing comes closest to what is wanted, none of it under zero.

    Least squares over every choice of things, so no more than 6 of them.

    Args:
        wanted: amounts wanted, shape (k,): of fat, water, dry cocoa.
        holds: what one gram of each thing holds, shape (n, k).
        weights: how much a miss of each counts, shape (k,).
        mass: what all of them are to weigh together; any weight if None.

    Returns:
        Masses, shape (n,); zeros where nothing is wanted.
    """
    things = holds.shape[0]
    rows = holds.T * weights[:, np.newaxis]
    aims = wanted * weights
    if mass is not None:
        rows = np.vstack([rows, np.full(things, _MASS_FIRST)])
        aims = np.append(aims, _MASS_FIRST * mass)
    best, least = np.zeros(things), float((aims**2).sum())
    for count in range(1, things + 1):
        for chosen in combinations(range(things), count):
            found = np.linalg.lstsq(rows[:, chosen], aims, rcond=None)[0]
            if (found < 0).any():
                continue
            miss = float(((rows[:, chosen] @ found - aims) ** 2).sum())
            if miss < least * (1 - 1e-9):
                best, least = np.zeros(things), miss
                best[list(chosen)] = found
    return best


def _over(part: Array, whole: Array) -> Array:
    with np.errstate(divide="ignore", invalid="ignore"):
        share: Array = np.where(whole > 0, part / whole, np.nan)
    return share
