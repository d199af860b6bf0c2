"""Sugar syrups: density by strength and temperature, Brix, Baumé, refractive index."""

import csv
from functools import cache
from importlib.resources import files
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from slabwright.composition import CONSTITUENTS, ROW
from slabwright.physics import thermal
from slabwright.physics.solubility import DISSOLVED
from slabwright.physics.species import AT, Array, Parts
from slabwright.source import relation, sources

_C: Final = (
    532.919899042424,
    13692.5881480438,
    12.6127261369233,
    0.0266415899284128,
    649.049186827162,
)
"""Laliberté's constants of sucrose, c0 to c4."""
_TOP_PERCENT: Final = 90.0
_STEPS: Final = 60
_SUGARS: Final = [AT[name] for name in DISSOLVED]
_BESIDE: Final = [
    i for i, name in enumerate(CONSTITUENTS) if name not in {"water", *DISSOLVED}
]
"""Constituents that are neither water nor share it as sugars do."""
_SINGLE_SUGARS: Final = [i for i in _SUGARS if i >= len(CONSTITUENTS)]
_INDEX: Final = (
    11_758.74,
    -88_885.21,
    270_177.93,
    -413_145.80,
    318_417.95,
    -99_127.4536,
)


@relation(sources()["kell-1975"], temperature_C=(0.0, 150.0))
def water_density(temperature_C: ArrayLike) -> Array:
    """Density of water [kg/m³]; at 1 atm, above 100 °C as if it did not boil.

    Source: Kell (1975), in the form that Laliberté's solutions lean on.
    """
    t = np.asarray(temperature_C, dtype=np.float64)
    top = 999.83952 + t * (
        16.945176
        + t
        * (
            -7.9870401e-3
            + t * (-4.6170461e-5 + t * (1.0556302e-7 + t * -2.8054253e-10))
        )
    )
    result: Array = top / (1 + 0.01687985 * t)
    return result


@relation(
    sources()["laliberte-2009"], sugar_percent=(0.0, 85.0), temperature_C=(15.0, 55.0)
)
def syrup_density(sugar_percent: ArrayLike, temperature_C: ArrayLike = 20.0) -> Array:
    """Density of sucrose in water [kg/m³], without air.

    Args:
        sugar_percent: sucrose by mass, 0 to 100.
        temperature_C: how warm it is; beyond 15 to 55 °C the same terms go on.

    Within 0.3 kg/m³ of the model to 50 %. Above it, where the model was never fitted,
    the sugar's volume is led along a table at 20 °C to 85 %, which comes from memory
    and agrees with a stored one in three decimals; then on in a straight line.

    Source: Laliberté (2009), constants read in an open library of chemical data.
    """
    share = np.asarray(sugar_percent, dtype=np.float64) / 100
    t = np.asarray(temperature_C, dtype=np.float64)
    volume = (1 - share) / water_density(t) + share * sugar_volume(share, t)
    result: Array = 1 / volume
    return result


def sugar_volume(share: ArrayLike, temperature_C: ArrayLike) -> Array:
    """What a kilogram of dissolved sucrose takes up [m³/kg].

    Args:
        share: sucrose as a share of sucrose and water, 0 to 1.
        temperature_C: how warm it is.
    """
    w = np.asarray(share, dtype=np.float64)
    nodes, factors = _led()
    slope = (factors[-1] - factors[-2]) / (nodes[-1] - nodes[-2])
    over = np.maximum(w - nodes[-1], 0.0)
    result: Array = _volume(w, temperature_C) * (
        np.interp(w, nodes, factors) + slope * over
    )
    return result


def _volume(share: ArrayLike, temperature_C: ArrayLike) -> Array:
    w = np.asarray(share, dtype=np.float64)
    t = np.asarray(temperature_C, dtype=np.float64)
    c0, c1, c2, c3, c4 = _C
    result: Array = (w + c2 + c3 * t) / ((c0 * w + c1) * np.exp(1e-6 * (t + c4) ** 2))
    return result


@cache
def _led() -> tuple[Array, Array]:
    """By how much the table's volume of sugar differs from the model's, by share."""
    text = files("slabwright.physics").joinpath("data/syrup_density.csv")
    rows = list(csv.DictReader(text.read_text("utf-8").splitlines()))
    share = np.array([float(row["percent"]) for row in rows]) / 100
    density = np.array([float(row["density_kg_m3"]) for row in rows])
    volume = (1 / density - (1 - share) / water_density(20.0)) / share
    factors = volume / _volume(share, 20.0)
    return np.array([0.5, *share]), np.array([1.0, *factors])


def brix(parts: Parts) -> Array:
    """Dissolved sugars and polyols as a per cent of themselves and water, by mass.

    True degrees Brix for sucrose alone. What an instrument reads in a mixed syrup is
    apparent: it takes every solid for sucrose.
    """
    rows = np.asarray(parts, dtype=np.float64)
    sugar = rows[..., _SUGARS].sum(axis=-1)
    whole = sugar + rows[..., AT["water"]]
    result: Array = 100 * np.divide(
        sugar, whole, out=np.full_like(whole, np.nan), where=whole > 0
    )
    return result


def density_of(parts: Parts, temperature_C: ArrayLike = 20.0) -> Array:
    """Density of a mixed syrup [kg/m³], without air; nan for nothing at all.

    All dissolved sugars are given the volume of sucrose, which is true to 0.5 % or so
    for the sugars of a kitchen; alcohol, fat, protein and minerals add their own.

    Args:
        parts: masses of species, shape (..., len(SPECIES)).
        temperature_C: how warm it is, broadcast.
    """
    t = np.asarray(temperature_C, dtype=np.float64)
    parts = np.asarray(parts, dtype=np.float64)
    sugar, water = parts[..., _SUGARS].sum(axis=-1), parts[..., AT["water"]]
    both = sugar + water
    share = np.divide(sugar, both, out=np.zeros_like(both), where=both > 0)
    volume = water / water_density(t) + sugar * sugar_volume(share, t)
    beside = np.zeros((*parts.shape[:-1], len(ROW)))
    beside[..., _BESIDE] = parts[..., _BESIDE]
    extra = beside.sum(axis=-1)
    if np.any(extra > 0):
        filled = np.where(extra[..., None] > 0, beside, np.eye(len(ROW))[_BESIDE[0]])
        volume = volume + extra / thermal.density(filled, t)
    acids = parts[..., len(CONSTITUENTS) :].sum(axis=-1)
    acids = acids - parts[..., _SINGLE_SUGARS].sum(axis=-1)
    volume = volume + acids * sugar_volume(share, t)
    whole = both + extra + acids
    empty = np.full(volume.shape, np.nan)
    result: Array = np.divide(whole, volume, out=empty, where=volume > 0)
    return result


def brix_of_density(density_kg_m3: ArrayLike, temperature_C: ArrayLike = 20.0) -> Array:
    """Per cent of sucrose in a syrup of this density at this temperature.

    Below water's density it gives 0, above that of all sugar 100.
    """
    wanted = np.asarray(density_kg_m3, dtype=np.float64)
    t = np.asarray(temperature_C, dtype=np.float64)
    low = np.zeros(np.broadcast_shapes(wanted.shape, t.shape))
    high = np.full_like(low, 100.0)
    for _ in range(_STEPS):  # density rises with sugar: halving always ends right
        middle = (low + high) / 2
        lighter = syrup_density(middle, t) < wanted
        low, high = np.where(lighter, middle, low), np.where(lighter, high, middle)
    result: Array = (low + high) / 2
    return result


@relation(sources()["baume-145"], density_kg_m3=(998.0, 1600.0))
def baume(density_kg_m3: ArrayLike) -> Array:
    """Degrees Baumé by the modulus 145, from a density at 20 °C.

    Other moduli are in use: 144.3 gives 0.5 % less.

    Source: the scale at 20 °C as a stored encyclopaedia has it.
    """
    gravity = np.asarray(density_kg_m3, dtype=np.float64) / water_density(20.0)
    result: Array = 145 - 145 / gravity
    return result


def density_of_baume(degrees: ArrayLike) -> Array:
    """Density at 20 °C [kg/m³] of a syrup that floats the spindle here."""
    be = np.asarray(degrees, dtype=np.float64)
    result: Array = water_density(20.0) * 145 / (145 - be)
    return result


@relation(sources()["icumsa-index"], refractive_index=(1.333, 1.503))
def brix_of_index(refractive_index: ArrayLike) -> Array:
    """Degrees Brix that a refractometer shows for this index at 20 °C, 589 nm.

    Source: a polynomial through the ICUMSA table, as a stored page prints it.
    """
    n = np.asarray(refractive_index, dtype=np.float64)
    result: Array = np.zeros_like(n)
    for coefficient in _INDEX:
        result = result * n + coefficient
    return result


def refractive_index(degrees_brix: ArrayLike) -> Array:
    """Refractive index of sucrose in water at 20 °C, 589 nm; the inverse of the above.

    Read from a fine table of it, 0 to 85 °Bx.
    """
    n = np.linspace(1.3329, 1.5034, 2001)
    result: Array = np.interp(
        np.asarray(degrees_brix, dtype=np.float64), brix_of_index(n), n
    )
    return result
