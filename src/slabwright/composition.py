"""Composition by mass: a fixed row of constituents, so that a mix is one NumPy row.

A composition is an array whose last axis holds one mass per entry of `ROW`. It may be
a share (the constituents sum to 1) or a mass in grams (they sum to the mass). The last
entry, saturates, is part of the fats before it and is left out of every sum.
"""

from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

Masses = NDArray[np.float64]
"""Masses of constituents, shape (..., len(ROW))."""

CONSTITUENTS: Final = (
    "water",
    "sucrose",
    "glucose",
    "fructose",
    "galactose",
    "lactose",
    "maltose",
    "higher_saccharides",
    "starch",
    "fibre",
    "protein",
    "fat_milk",
    "fat_cocoa",
    "fat_lauric",
    "fat_nut",
    "fat_other",
    "polyols",
    "alcohol",
    "organic_acids",
    "salt",
    "minerals",
    "rest",
)
"""What an ingredient is made of; these sum to its mass."""

UNKNOWN: Final = "unknown"
"""Mass of ingredients whose composition nobody gave."""

SATURATES: Final = "saturates"
"""Saturated fatty acids, a part of the fats: never added to them."""

ROW: Final = (*CONSTITUENTS, UNKNOWN, SATURATES)
"""The entries of a composition, in order."""

INDEX: Final = {name: i for i, name in enumerate(ROW)}
"""Where each entry stands."""

SUGARS: Final = ("sucrose", "glucose", "fructose", "galactose", "lactose", "maltose")
"""Mono- and disaccharides, as a label counts sugars."""

FATS: Final = ("fat_milk", "fat_cocoa", "fat_lauric", "fat_nut", "fat_other")
"""Fats by where they come from."""

_SUMMED = slice(0, len(ROW) - 1)


def zeros(*shape: int) -> Masses:
    """An empty mix, or an array of them."""
    return np.zeros((*shape, len(ROW)))


def total(masses: Masses) -> NDArray[np.float64]:
    """Mass of everything, saturates counted once, shape (...)."""
    result: NDArray[np.float64] = masses[..., _SUMMED].sum(axis=-1)
    return result


def amount(masses: Masses, *names: str) -> NDArray[np.float64]:
    """Mass of these constituents together, shape (...)."""
    if len(names) == 1:  # by far the most asked; a new array, and never a view
        alone: NDArray[np.float64] = masses[..., INDEX[names[0]]] + 0.0
        return alone
    result: NDArray[np.float64] = masses[..., _places(names)].sum(axis=-1)
    return result


@lru_cache
def _places(names: tuple[str, ...]) -> NDArray[np.intp]:
    return np.array([INDEX[name] for name in names], dtype=np.intp)


def water(masses: Masses) -> NDArray[np.float64]:
    """Mass of water, shape (...)."""
    return amount(masses, "water")


def sugars(masses: Masses) -> NDArray[np.float64]:
    """Mass of mono- and disaccharides, shape (...)."""
    return amount(masses, *SUGARS)


def fat(masses: Masses) -> NDArray[np.float64]:
    """Mass of all fats, shape (...)."""
    return amount(masses, *FATS)


def unknown(masses: Masses) -> NDArray[np.float64]:
    """Mass whose composition is not known, shape (...)."""
    return amount(masses, UNKNOWN)


def dry_matter(masses: Masses) -> NDArray[np.float64]:
    """Mass of all that is neither water nor alcohol, shape (...)."""
    return total(masses) - amount(masses, "water", "alcohol")
