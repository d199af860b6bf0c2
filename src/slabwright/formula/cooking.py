"""What happens to a mix: water leaves, solids stay, nothing else is lost unseen.

Every function takes masses of constituents, shape (..., len(ROW)) in grams, one row a
formula, and gives the same shape. So one slab is one row, and a hundred thousand trial
formulas are one array.
"""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from slabwright.composition import INDEX, Masses, total, unknown

_WATER, _ALCOHOL = INDEX["water"], INDEX["alcohol"]
_ROUNDING = 1e-9


def mix(masses_g: ArrayLike, compositions: Masses) -> Masses:
    """What lines of these masses come to together.

    Args:
        masses_g: mass of each line, shape (..., lines) [g].
        compositions: shares of each line's ingredient, shape (lines, len(ROW)).

    Returns:
        Masses of constituents, shape (..., len(ROW)) [g].
    """
    result: Masses = np.asarray(masses_g, dtype=np.float64) @ compositions
    return result


def lose_mix(mixes: Masses, grams: ArrayLike) -> Masses:
    """What is left when so much of the mix stays behind as it is [g].

    Where more is asked for than there is, the row comes back as NaN.
    """
    there = total(mixes)
    taken = np.asarray(grams, dtype=np.float64)
    with np.errstate(invalid="ignore", divide="ignore"):
        left = np.where(there > 0, (there - taken) / there, np.where(taken > 0, -1, 1))
    left = np.where(left < -_ROUNDING, np.nan, np.maximum(left, 0.0))
    result: Masses = mixes * left[..., np.newaxis]
    return result


def lose_water(mixes: Masses, grams: ArrayLike) -> Masses:
    """What is left when so much water, and after it alcohol, is driven off [g].

    A mix with mass of unknown composition gives that mass up last, in proportion, since
    it may hold the water. Where more is asked for than can go, the row comes back as
    NaN.
    """
    left = mixes.copy()
    owed = np.broadcast_to(
        np.asarray(grams, dtype=np.float64), left[..., _WATER].shape
    ).copy()
    for entry in (_WATER, _ALCOHOL, INDEX["unknown"]):
        gone = np.minimum(left[..., entry], owed)
        left[..., entry] -= gone
        owed -= gone
    short = owed > _ROUNDING * np.maximum(total(mixes), 1.0)
    left[short] = np.nan
    return left


def water_over_share(mixes: Masses, water_share: ArrayLike) -> NDArray[np.float64]:
    """Water that must go for this share of water to be left [g]; negative if short.

    From (water - x) / (mass - x) = share. NaN where a part of the mix is unknown.
    """
    share = np.asarray(water_share, dtype=np.float64)
    owed = (mixes[..., _WATER] - share * total(mixes)) / (1 - share)
    result: NDArray[np.float64] = np.where(unknown(mixes) > 0, np.nan, owed)
    return result
