"""Where solutions boil, and how much water is left in what boils at a temperature.

A solution boils where its water activity times the pressure of pure water's vapour is
the pressure of the air. Milk's proteins, starch and fibre keep their own water back
while the rest boils; fat takes no part. Alcohol counts as boiled off.
"""

from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from slabwright.physics.activity import doubts
from slabwright.physics.holding import build, grid, held_by, kelvin_ratio, solve
from slabwright.physics.sorption import SOLIDS
from slabwright.physics.species import AT, SPECIES, Array, Parts
from slabwright.physics.water import boiling_point, saturation_pressure
from slabwright.source import relation, sources

SEA_KPA: Final = 101.325
"""Pressure of the standard atmosphere at the sea [kPa]."""
_STEP: Final = 0.05
"""Between tables, in the logarithm of the pressure."""
_HIGHEST_KPA: Final = 20_000.0
_HIGHEST_C: Final = 365.7
"""Where water boils under that pressure: no kitchen's solution comes near."""
_BOIL_DOUBT: Final = 0.045
"""Part by which a boil is off its balance. Our own, from how far sources lie apart."""
_DRY_DOUBT: Final = 0.06
"""As much again for every 1 of -ln(water activity). Our own, likewise."""
_SOLID_DOUBT: Final = 0.5
"""Part by which the water held by protein, starch and fibre is off; assumed."""
_SOLIDS_DOUBT: Final = np.array([_SOLID_DOUBT * (one in SOLIDS) for one in SPECIES])
_WATERLESS: Final = np.array([float(one != "water") for one in SPECIES])


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
    pressure = _positive(pressure_kPa)
    shape = np.broadcast_shapes(masses.shape[:-1], pressure.shape)
    rows = np.broadcast_to(masses, (*shape, len(SPECIES))).reshape(-1, len(SPECIES))
    if pressure.ndim:
        pressure = np.broadcast_to(pressure, shape).ravel()
    u = solve(rows, np.log(pressure) / _STEP, _node_of_pressure)
    with np.errstate(over="ignore"):
        needed = pressure * np.exp(u)
    value: Array = boiling_point(np.where(needed <= _HIGHEST_KPA, needed, np.nan))
    return value.reshape(shape)[()]


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
    u, ratio = _lowered(boils_at_C, pressure_kPa)
    return held_by(np.asarray(parts, float) * _kept(), u, ratio)


def boiling_range(
    parts: Parts, pressure_kPa: ArrayLike = SEA_KPA
) -> tuple[Array, Array]:
    """Between which a boiling point likely lies [°C].

    Every solute may hold so much more or less water as its row doubts, and a boil is no
    balance: on top comes a part that grows as the water goes. For sucrose alone that
    comes to 0.3 K at 65 % of solids, 1 K at 80 %, 2 K at 90 %, 4 K at 95 %, which is
    how far careful sources lie apart.

    Args:
        parts: as for `boiling_point_of`.
        pressure_kPa: likewise.

    Returns:
        The low and the high end, shape (...) each.
    """
    likely = boiling_point_of(parts, pressure_kPa)
    u, _ = _lowered(likely, pressure_kPa)
    off = _doubt(u)
    low = boiling_point_of(parts * (1 - off), pressure_kPa)
    return low, boiling_point_of(parts * (1 + off), pressure_kPa)


def water_left_range(
    parts: Parts, boils_at_C: ArrayLike, pressure_kPa: ArrayLike = SEA_KPA
) -> tuple[Array, Array]:
    """Between which the water likely lies that stays with solids, as `water_left`.

    Returns:
        The low and the high end, in the unit of the parts, shape (...) each.
    """
    u, ratio = _lowered(boils_at_C, pressure_kPa)
    off, masses = _doubt(u), np.asarray(parts, float) * _kept()
    return held_by(masses * (1 - off), u, ratio), held_by(masses * (1 + off), u, ratio)


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


def _positive(pressure_kPa: ArrayLike) -> Array:
    pressure = np.asarray(pressure_kPa, float)
    return np.where(pressure > 0, pressure, np.nan)


def _lowered(boils_at_C: ArrayLike, pressure_kPa: ArrayLike) -> tuple[Array, Array]:
    """U at the boil, and 298.15 K over its temperature."""
    hot = np.asarray(boils_at_C, float)
    hot = np.where((hot > 0) & (hot < _HIGHEST_C), hot, np.nan)
    u = np.log(saturation_pressure(hot) / _positive(pressure_kPa))
    return u, kelvin_ratio(hot)


def _doubt(u: Array) -> Array:
    """Part by which held water is off, shape (..., len(SPECIES)); 0 for water."""
    over = np.where(np.isfinite(u), u, np.nan)[..., None]
    doubt = doubts() + _SOLIDS_DOUBT + _BOIL_DOUBT + _DRY_DOUBT * over
    value: Array = doubt * _WATERLESS
    return value
