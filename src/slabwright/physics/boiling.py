"""Where solutions boil, and how much water is left in what boils at a temperature.

A solution boils where its water activity times the pressure of pure water's vapour is
the pressure of the air. Milk's proteins, starch and fibre keep their own water back
while the rest boils; fat takes no part. Alcohol counts as boiled off.
"""

from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from slabwright.physics.holding import build, grid, held_by, kelvin_ratio, solve
from slabwright.physics.species import AT, SPECIES, Array, Parts
from slabwright.physics.water import boiling_point, saturation_pressure
from slabwright.source import relation, sources

SEA_KPA: Final = 101.325
"""Pressure of the standard atmosphere at the sea [kPa]."""
_STEP: Final = 0.05
"""Between tables, in the logarithm of the pressure."""
_HIGHEST_KPA: Final = 20_000.0
"""Where water boils at 366 °C: no kitchen's solution comes near."""


@relation(sources()["stokes-robinson-1966"], pressure_kPa=(5.0, 300.0))
def boiling_point_of(parts: Parts, pressure_kPa: ArrayLike = SEA_KPA) -> Array:
    """Temperature at which a solution boils [°C].

    Args:
        parts: masses of species in any unit, shape (..., len(SPECIES)).
        pressure_kPa: of the air [kPa], shape (...) or one number.

    Returns:
        Shape (...); that of pure water where nothing is dissolved, NaN where there is
        no water or so little that it would boil beyond 366 °C.

    Source: `water_activity` with IAPWS R7-97 for the vapour. Published boiling points
    end at 97 % of solids.
    """
    masses = np.asarray(parts, float) * _kept()
    pressure = np.asarray(pressure_kPa, float)
    pressure = np.where(pressure > 0, pressure, np.nan)
    shape = np.broadcast_shapes(masses.shape[:-1], pressure.shape)
    rows = np.broadcast_to(masses, (*shape, len(SPECIES))).reshape(-1, len(SPECIES))
    if pressure.ndim:
        pressure = np.broadcast_to(pressure, shape).ravel()
    u = solve(rows, np.log(pressure) / _STEP, _node_of_pressure)
    with np.errstate(over="ignore"):
        needed = pressure * np.exp(u)
    value: Array = boiling_point(np.where(needed <= _HIGHEST_KPA, needed, np.nan))
    return value.reshape(shape)


@relation(sources()["stokes-robinson-1966"], pressure_kPa=(5.0, 300.0))
def water_left(
    parts: Parts, boils_at_C: ArrayLike, pressure_kPa: ArrayLike = SEA_KPA
) -> Array:
    """Water that stays with solids when they boil at a temperature.

    `boiling_point_of` turned round. Water among the parts is ignored.

    Args:
        parts: masses of species, shape (..., len(SPECIES)).
        boils_at_C: the temperature of the boil [°C], shape (...) or one number.
        pressure_kPa: of the air [kPa], shape (...) or one number.

    Returns:
        In the unit of the parts, shape (...): infinite where pure water boils at that
        very temperature, NaN below it.

    Source: as for `boiling_point_of`.
    """
    temperature = np.asarray(boils_at_C, float)
    pressure = np.asarray(pressure_kPa, float)
    pressure = np.where(pressure > 0, pressure, np.nan)
    temperature = np.where((temperature > 0) & (temperature < 366), temperature, np.nan)
    u = np.log(saturation_pressure(temperature) / pressure)
    return held_by(np.asarray(parts, float) * _kept(), u, kelvin_ratio(temperature))


@lru_cache(maxsize=64)
def _node_of_pressure(number: int) -> Array:
    """The table of one pressure: at every u the temperature at which it boils."""
    needed = np.exp(number * _STEP + grid())
    hot = boiling_point(np.clip(needed, 0.7, _HIGHEST_KPA))
    return build(kelvin_ratio(hot))


@lru_cache(maxsize=1)
def _kept() -> Array:
    """1 for all but alcohol, which boils off first, shape (len(SPECIES),)."""
    found = np.ones(len(SPECIES))
    found[AT["alcohol"]] = 0.0
    return found
