"""What a solution is made of, species by species: one array axis for all physics.

`SPECIES` begins with the constituents of a composition, in their order, and goes on
with single polyols, acids and sugars that a larder lumps together. An array of parts
has one mass per species on its last axis; only ratios matter to a relation.
"""

from typing import Final

import numpy as np
from numpy.typing import NDArray

from slabwright.composition import CONSTITUENTS, Masses

Parts = NDArray[np.float64]
"""Masses of species, shape (..., len(SPECIES))."""

Array = NDArray[np.float64]
"""Plain numbers, of whatever shape."""

SINGLE: Final = (
    "trehalose",
    "isomaltulose",
    "maltotriose",
    "sorbitol",
    "glycerol",
    "xylitol",
    "mannitol",
    "maltitol",
    "erythritol",
    "isomalt",
    "citric_acid",
    "malic_acid",
    "tartaric_acid",
    "lactic_acid",
    "acetic_acid",
    "calcium_chloride",
)
"""Species beyond the constituents of a composition, each on its own."""

SPECIES: Final = (*CONSTITUENTS, *SINGLE)
"""The entries of an array of parts, in order."""

AT: Final = {name: i for i, name in enumerate(SPECIES)}
"""Where each species stands."""


def parts_of(masses: Masses) -> Parts:
    """The species in a composition; its unknown mass and its saturates are left out.

    Args:
        masses: masses of constituents, shape (..., len(ROW)).

    Returns:
        Masses of species, shape (..., len(SPECIES)).
    """
    shape = (*masses.shape[:-1], len(SPECIES))
    parts = np.zeros(shape)
    parts[..., : len(CONSTITUENTS)] = masses[..., : len(CONSTITUENTS)]
    return parts


def parts(**masses: float) -> Parts:
    """A row of parts by name.

    Raises:
        KeyError: for a name that is no species.

    >>> float(parts(sucrose=80, water=20).sum())
    100.0
    """
    row = np.zeros(len(SPECIES))
    for name, mass in masses.items():
        row[AT[name]] = mass
    return row
