"""What a layer weighs for its size, where no air is in it."""

from typing import Final

from slabwright.composition import Masses, fat, total
from slabwright.physics.species import Array
from slabwright.physics.thermal import density
from slabwright.source import relation, sources

ROOM_C: Final = 20.0
HEAVIER: Final = 0.05
"""A density so far over that of the mix can't be: of solid chocolate a book has 1.3
g/ml where its constituents come to 1.25; a kitchen's measure errs by 2 %."""
_SET_FAT_SHRINKS_L_KG: Final = 0.08
"""Room that fat gives up when it sets: cocoa butter is 0.96 to 0.99 g/ml solid, by the
same book; Choi and Okos, who measured no hard fat, have 0.917."""


@relation(sources()["choi-okos-1986"])
def without_air(masses: Masses) -> tuple[Array, Array]:
    """Density of a mix at 20 °C, its fat as oil and its fat all set [kg/m³].

    Args:
        masses: masses of constituents, shape (..., len(ROW)).

    Returns:
        Shape (...) each; NaN of nothing, and where something is unknown.

    Source: Choi and Okos (1986); how much setting fat shrinks: Beckett's constants.
    """
    oil = density(masses, ROOM_C)
    share = fat(masses) / (total(masses) + (total(masses) == 0))
    volume = 1 / oil - share * _SET_FAT_SHRINKS_L_KG / 1000
    return oil, 1 / volume
