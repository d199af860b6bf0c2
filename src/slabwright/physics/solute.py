"""One substance in water: how far it lowers the water's activity.

Everything here works with `u = -ln(water activity)`, which is nought for pure water and
rises with every gram of solute.
"""

import csv
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from slabwright.physics.species import AT, SPECIES, Array
from slabwright.source import relation, sources

WATER_KG_MOL: Final = 0.0180153
"""Molar mass of water [kg/mol]."""
AT_C: Final = 25.0
"""The temperature of most published constants [°C]."""
ZERO_K: Final = 273.15
"""Zero degrees Celsius [K]."""
_DEBYE: Final = 0.5108
"""Of the logarithm to base 10, at 25 °C [(kg/mol)^½]."""


@dataclass(frozen=True, slots=True)
class Solute:
    """What a table says of one substance."""

    species: str
    molar_mass_g_mol: float
    """Of what dissolves: a lump's is that of what it is taken as."""
    ions: float
    """Particles into which it falls apart."""
    share: float
    """How much of a gram counts as what it is taken as."""
    doubt: float
    """Part by which the water that it holds may be off, near 25 °C."""
    constants: tuple[float, ...]
    theta: float | None
    """Power of 298.15 K over the temperature that its excess goes by; None for ions."""
    cold: float
    """What its first constant gains where that ratio gains 1, in the cold alone."""
    to: float
    """Where its published curve ends and goes on straight: a mole fraction for a
    molecule, a molality for a salt [mol/kg of water]."""
    to_percent: float
    """How much of it, with water alone, has been measured or boiled [%]."""
    source: str
    """Key of where its constants come from."""


@relation(sources()["starzak-peacock-1997"], mole_fraction=(0.0, 0.72))
def excess(mole_fraction: ArrayLike, k: ArrayLike, a: ArrayLike, b: ArrayLike) -> Array:
    """By how much ln(activity) lies under that of an ideal mix [1].

    Args:
        mole_fraction: of the dissolved molecules, 0 to 1.
        k: constant of the second power; Norrish's K where the next two are nought.
        a: next constant, of the third power.
        b: next constant, of the fourth.

    Source: Starzak and Peacock (1997) for sucrose; with two constants nought the
    equation of Norrish (1966).
    """
    x = np.asarray(mole_fraction, float)
    value: Array = np.asarray(k) * x**2 * (1 + np.asarray(a) * x + np.asarray(b) * x**2)
    return value


@relation(sources()["tang-1986"], molality=(0.0, 13.0))
def osmotic_coefficient(
    molality: ArrayLike,
    charge: float,
    b: float,
    beta: float,
    c: float,
    d: float,
    e: float,
) -> Array:
    """Osmotic coefficient of a salt in water at 25 °C [1].

    Args:
        molality: mol of salt per kg of water, over 0.
        charge: product of both ions' charges, without sign.
        b: of the Debye-Hückel term [(kg/mol)^½].
        beta: of the molality, in the activity coefficient's logarithm to base 10.
        c: of its second power.
        d: of its third.
        e: of its fourth.

    Source: Hamer and Wu (1972), with the constants of Tang, Munkelwitz and Wang (1986).
    """
    m = np.asarray(molality, float)
    root = 1 + b * np.sqrt(m)
    # (root - 2 ln(root) - 1/root) / m, which loses its digits where m is small
    small = b * np.sqrt(m)
    exact = (root - 2 * np.log(root) - 1 / root) / (b**3 * np.maximum(m, 1e-12))
    series = np.sqrt(m) * (1 / 3 - small / 2 + 3 * small**2 / 5)
    limit = charge * _DEBYE * np.where(small < 1e-3, series, exact)
    rest = beta * m / 2 + 2 * c * m**2 / 3 + 3 * d * m**3 / 4 + 4 * e * m**4 / 5
    value: Array = 1 - np.log(10) * (limit - rest)
    return value


def lowerings(molality: Array, ratio: ArrayLike) -> Array:
    """What each of `solutes()` alone does to water: u at its own molality [1].

    Args:
        molality: mol per kg of water, shape (len(solutes()), points).
        ratio: 298.15 K over the temperature, shape (points,) or one number.
    """
    molecules, salts = _split()
    k, a, b, theta, cold, to = _constants()
    x = molality[molecules] / (molality[molecules] + 1 / WATER_KG_MOL)
    warm = np.asarray(ratio, float)
    k = k * warm**theta + cold * np.maximum(warm - 1, 0)
    ideal = np.log1p(molality[molecules] * WATER_KG_MOL)  # -ln(1 - x) to the last digit
    # beyond its end the excess goes on in a straight line over that of an ideal mix
    slope = (1 - to) * k * to * (2 + 3 * a * to + 4 * b * to**2)
    more = slope * np.maximum(ideal + np.log1p(-to), 0.0)
    found = np.empty_like(molality)
    found[molecules] = ideal + excess(np.minimum(x, to), k, a, b) + more
    for at in salts:
        found[at] = _of_salt(solutes()[at], molality[at])
    return found


@cache
def solutes() -> tuple[Solute, ...]:
    """Every dissolved species that has a law of its own or of what it is taken as."""
    return (*_molecules(), *_salts())


def _molecules() -> tuple[Solute, ...]:
    return tuple(
        Solute(
            row["species"],
            float(row["molar_mass_g_mol"]),
            1.0,
            float(row["share"]),
            float(row["doubt"]),
            (float(row["k"]), float(row["a"]), float(row["b"])),
            float(row["theta"]),
            float(row["cold"]),
            float(row["to_fraction"]),
            float(row["to_percent"]),
            row["source"],
        )
        for row in _rows("solutes.csv")
    )


def _salts() -> tuple[Solute, ...]:
    names = ("charge", "b", "beta", "c", "d", "e")
    return tuple(
        Solute(
            row["species"],
            float(row["molar_mass_g_mol"]),
            float(row["ions"]),
            float(row["share"]),
            float(row["doubt"]),
            tuple(float(row[name]) for name in names),
            None,
            0.0,
            float(row["to_molal"]),
            float(row["to_percent"]),
            row["source"],
        )
        for row in _rows("electrolytes.csv")
    )


@cache
def dissolves() -> Array:
    """1 for water and all that dissolves, 0 for the rest, shape (len(SPECIES),)."""
    found = np.zeros(len(SPECIES))
    found[[AT[one.species] for one in solutes()]] = 1.0
    found[AT["water"]] = 1.0
    return found


@cache
def _split() -> tuple[NDArray[np.intp], tuple[int, ...]]:
    """Where molecules stand among the solutes, and where salts do."""
    is_salt = np.array([one.theta is None for one in solutes()])
    return np.flatnonzero(~is_salt), tuple(int(at) for at in np.flatnonzero(is_salt))


@cache
def _constants() -> tuple[Array, ...]:
    """k, a, b, theta, cold and end of every molecule, shape (molecules, 1) each."""
    rows = [(*one.constants, one.theta, one.cold, one.to) for one in _molecules()]
    return tuple(column[:, None] for column in np.array(rows, float).T)


def _of_salt(one: Solute, molality: Array) -> Array:
    """A salt alone: u; beyond the end of its curve in a straight line."""
    step = 1e-4 * one.to
    slope = (_of_ions(one, one.to) - _of_ions(one, one.to - step)) / step
    within = np.minimum(molality, one.to)
    value: Array = _of_ions(one, within) + slope * (molality - within)
    return value


def _of_ions(one: Solute, molality: ArrayLike) -> Array:
    m = np.asarray(molality, float)
    charge, b, beta, c, d, e = one.constants
    phi = osmotic_coefficient(m, charge, b, beta, c, d, e)
    value: Array = one.ions * m * WATER_KG_MOL * phi
    return value


def _rows(name: str) -> list[dict[str, str]]:
    found = files("slabwright.physics").joinpath("data", name)
    return list(csv.DictReader(found.read_text("utf-8").splitlines()))
