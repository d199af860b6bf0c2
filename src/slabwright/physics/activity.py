"""Water activity of what is dissolved: sugars, polyols, acids, alcohol and salts."""

from functools import cache

import numpy as np
from numpy.typing import ArrayLike

from slabwright.physics.holding import (
    STEP,
    held_by,
    kelvin_ratio,
    node_of_ratio,
    solve,
)
from slabwright.physics.solute import dissolves, solutes
from slabwright.physics.species import AT, SPECIES, Array, Parts
from slabwright.source import Source, relation, sources


@relation(sources()["stokes-robinson-1966"], temperature_C=(0.0, 150.0))
def water_activity(parts: Parts, temperature_C: ArrayLike = 25.0) -> Array:
    """Water activity of a solution [1].

    All that is dissolved shares the water, as each would hold it alone; fat, starch,
    protein and fibre count as not there. Everything counts as dissolved: what has
    crystallised must be left out by the caller.

    Args:
        parts: masses of species in any unit, shape (..., len(SPECIES)).
        temperature_C: of the solution [°C], shape (...) or one number.

    Returns:
        Shape (...): 1 for water alone, 0 where there is solute without water, NaN where
        there is neither, or a part is no number.

    Source: Zdanovskii, Stokes and Robinson for mixes; each solute by its own row of
    solutes.csv or electrolytes.csv.
    """
    masses = np.asarray(parts, float) * dissolves()
    position = kelvin_ratio(temperature_C) / STEP
    shape = np.broadcast_shapes(masses.shape[:-1], position.shape)
    rows = np.broadcast_to(masses, (*shape, len(SPECIES))).reshape(-1, len(SPECIES))
    if position.ndim:
        position = np.broadcast_to(position, shape).ravel()
    value: Array = np.exp(-solve(rows, position, node_of_ratio)).reshape(shape)[()]
    return value


def likely_range(parts: Parts, temperature_C: ArrayLike = 25.0) -> tuple[Array, Array]:
    """Between which a water activity likely lies [1].

    Each solute may hold so much more or less water as its row doubts; lumps, such as
    the higher saccharides of a syrup, are doubted most. Doubts of several solutes are
    added up, for their errors may well be of one kind.

    Args:
        parts: as for `water_activity`.
        temperature_C: as for `water_activity`.

    Returns:
        The low and the high end, shape (...) each.
    """
    rows = np.asarray(parts, float)
    low = water_activity(rows * (1 + doubts()), temperature_C)
    high = water_activity(rows * (1 - doubts()), temperature_C)
    return low, high


def dissolved_water(
    parts: Parts, activity: ArrayLike, temperature_C: ArrayLike = 25.0
) -> Array:
    """Water that what is dissolved holds at a water activity, in the unit of the parts.

    `water_activity` turned round; water among the parts is ignored.

    Args:
        parts: masses of species, shape (..., len(SPECIES)).
        activity: 0.0004 to under 1, shape (...) or one number.
        temperature_C: [°C], shape (...) or one number.

    Returns:
        Shape (...); infinite at an activity of 1, NaN under 0.0004.
    """
    given = np.asarray(activity, float)
    u = -np.log(np.where(given > 0, given, np.nan))
    return held_by(parts * dissolves(), u, kelvin_ratio(temperature_C))


def beyond_data(parts: Parts) -> tuple[str, ...]:
    """Which species stand more concentrated than anybody measured them.

    What makes up less than a twentieth of what is dissolved is passed over.

    Args:
        parts: one row of masses, shape (len(SPECIES),).
    """
    solution = np.asarray(parts, float) * dissolves()
    whole = float(solution.sum())
    solids = whole - float(solution[AT["water"]])
    return tuple(
        one.species
        for one in solutes()
        if solution[AT[one.species]] > solids / 20
        and 100 * solids > one.to_percent * whole
    )


def sources_of(parts: Parts) -> tuple[Source, ...]:
    """What an activity of this make-up leans on: the solutes' sources, and the mix's.

    Args:
        parts: one row of masses, shape (len(SPECIES),).
    """
    keys = [one.source for one in solutes() if parts[AT[one.species]] > 0]
    mix = ["stokes-robinson-1966"] if len(keys) > 1 else []
    return tuple(sources()[key] for key in dict.fromkeys([*keys, *mix]))


@cache
def doubts() -> Array:
    """Part by which the water that each species holds may be off, near 25 °C.

    Returns:
        Shape (len(SPECIES),); 0 for what is no solute.
    """
    found = np.zeros(len(SPECIES))
    for one in solutes():
        found[AT[one.species]] = one.doubt
    return found
