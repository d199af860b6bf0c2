"""How much sugar or salt water holds: each alone, and one sugar beside others.

Grams per 100 g of water throughout, at rest with its crystal. Sucrose follows the
polynomial that sugar technologists agreed on; the rest are tables, read between their
rows by the logarithm of grams per water. What others take away from a sugar is known
for invert sugar only, and is given with its ends.
"""

import csv
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from slabwright.physics.species import AT, Array, Parts
from slabwright.source import Source, relation, sources

_JOIN_C: Final = 90.0
"""From here on the table takes over from the polynomial: both still agree here."""
_TAKEN: Final = 0.28
"""The most that other sugars take away, as a share of what water alone holds."""
_REACH: Final = 0.88
"""Grams of other sugars per gram of water that take 63 % of that."""
_STEEP: Final = 0.19
"""By the lower end, each gram of other sugars per gram of water takes this, as an
exponent."""
_LEAST: Final = 0.05
"""The lower end falls no further: all but dry, it means nothing any more."""
OTHERS_HIGHEST: Final = 2.2
"""Grams of other sugars per gram of water up to which there are figures at all."""
DISSOLVED: Final = (
    "sucrose", "glucose", "fructose", "galactose", "lactose", "maltose",
    "higher_saccharides", "polyols", "trehalose", "isomaltulose", "maltotriose",
    "sorbitol", "glycerol", "xylitol", "mannitol", "maltitol", "erythritol", "isomalt",
)  # fmt: skip
"""Species that share the water with a sugar."""
_SHARING: Final = [AT[name] for name in DISSOLVED]


class Table(NamedTuple):
    """Solubility of one sugar as measured."""

    temperature_C: tuple[float, ...]
    per_water: tuple[float, ...]
    """Grams per 100 g of water."""
    sources: tuple[Source, ...]


@cache
def tables() -> Mapping[str, Table]:
    """Every table of solubility, by sugar.

    Raises:
        ValueError: if the rows of a sugar do not rise with temperature.
    """
    text = files("slabwright.physics").joinpath("data/sugar_solubility.csv")
    rows = list(csv.DictReader(text.read_text("utf-8").splitlines()))
    found: dict[str, Table] = {}
    for name in dict.fromkeys(row["species"] for row in rows):
        own = [row for row in rows if row["species"] == name]
        degrees = tuple(float(row["temperature_C"]) for row in own)
        grams = tuple(_per_water(float(row["percent"])) for row in own)
        if list(degrees) != sorted(degrees) or list(grams) != sorted(grams):
            message = f"sugar_solubility.csv: {name} does not rise with temperature"
            raise ValueError(message)
        keys = dict.fromkeys(row["source"] for row in own)
        found[name] = Table(degrees, grams, tuple(sources()[key] for key in keys))
    return found


@relation(sources()["vavrinecz-1962"], temperature_C=(-13.0, 140.0))
def sucrose_solubility(temperature_C: ArrayLike) -> Array:
    """Sucrose that 100 g of water holds [g], shape as the argument's.

    From -13 to 90 °C the polynomial, within 0.12 points of the best table; above it
    that table, read in a straight line of per cent to 140 °C and on; infinite where
    that line leaves no water.

    Source: Vavrinecz (1962), adopted by ICUMSA; from memory, checked against a table
    of a sugar works that goes on to 140 °C.
    """
    t = np.asarray(temperature_C, dtype=np.float64)
    high = tables()["sucrose"]
    nodes_C = np.array([_JOIN_C, *high.temperature_C])
    nodes = np.array([_percent(_JOIN_C), *(_share(one) for one in high.per_water)])
    slope = (nodes[-1] - nodes[-2]) / (nodes_C[-1] - nodes_C[-2])
    beyond = nodes[-1] + slope * (t - nodes_C[-1])
    table = np.where(t > nodes_C[-1], beyond, np.interp(t, nodes_C, nodes))
    percent = np.where(t <= _JOIN_C, _percent(t), table)
    wet = 100 - percent
    # the line meets 100 % at 177 °C: beyond, it is a melt that no water bounds
    with np.errstate(divide="ignore"):
        grams: Array = 100 * percent / np.where(wet < 0, 0.0, wet)
    return grams


def _percent(temperature_C: ArrayLike) -> Array:
    t = np.asarray(temperature_C, dtype=np.float64)
    result: Array = 64.447 + t * (
        0.08222 + t * (1.6169e-3 + t * (-1.558e-6 + t * -4.63e-8))
    )
    return result


@relation(sources()["potter-1977"], temperature_C=(0.0, 425.0))
def salt_solubility(temperature_C: ArrayLike) -> Array:
    """Table salt that 100 g of water holds [g], shape as the argument's.

    A square in per cent, within 0.05 points; measured from 148 °C, and said to hold
    from 0 °C. A trade body's table lies within 0.15 points of it from 0 to 100 °C.

    Source: Potter, Babcock and Brown (1977), the abstract.
    """
    t = np.asarray(temperature_C, dtype=np.float64)
    percent = 26.218 + t * (0.0072 + t * 0.000106)
    grams: Array = 100 * percent / (100 - percent)
    return grams


def salt_crystals(parts: Parts, temperature_C: ArrayLike) -> Array:
    """Salt that the water can't dissolve, as water alone would, in the parts' unit.

    Sugars beside it change little; crumb that shares the water is left out of this.

    Args:
        parts: masses of species, shape (..., len(SPECIES)).
        temperature_C: how warm it lies, broadcast against the parts' first axes.

    Returns:
        Shape (...); 0 where all of it dissolves.
    """
    fits = salt_solubility(temperature_C) / 100 * parts[..., AT["water"]]
    left: Array = np.maximum(parts[..., AT["salt"]] - fits, 0.0)
    return left


def without_salt_crystals(parts: Parts, temperature_C: ArrayLike) -> Parts:
    """The parts less the salt that lies in them as crystals.

    Args:
        parts: masses of species, shape (..., len(SPECIES)).
        temperature_C: as for `salt_crystals`.
    """
    left = salt_crystals(parts, temperature_C)
    settled = np.broadcast_to(parts, (*left.shape, parts.shape[-1])).copy()
    settled[..., AT["salt"]] -= left
    return settled


def solubility(species: str, temperature_C: ArrayLike) -> Array:
    """Grams of a sugar or polyol that 100 g of water holds, alone.

    Beyond its table a sugar is read on by the slope of its last rows: see `holds`.

    Raises:
        KeyError: for a species whose solubility is not known here.
    """
    if species == "sucrose":
        return sucrose_solubility(temperature_C)
    table = tables()[species]
    t = np.asarray(temperature_C, dtype=np.float64)
    x, y = np.array(table.temperature_C), np.log(table.per_water)
    first, last = ((y[i + 1] - y[i]) / (x[i + 1] - x[i]) for i in (0, len(x) - 2))
    inside = np.interp(t, x, y)
    low = np.where(t < x[0], first * (t - x[0]), 0.0)
    high = np.where(t > x[-1], last * (t - x[-1]), 0.0)
    result: Array = np.exp(inside + low + high)
    return result


def holds(species: str) -> tuple[float, float]:
    """Temperatures between which its solubility was measured [°C].

    Raises:
        KeyError: for a species whose solubility is not known here.
    """
    if species == "sucrose":
        return sucrose_solubility.valid["temperature_C"]
    table = tables()[species]
    return table.temperature_C[0], table.temperature_C[-1]


@relation(sources()["jackson-silsbee-1924"], others_per_water=(0.0, OTHERS_HIGHEST))
def left_beside(others_per_water: ArrayLike) -> Array:
    """What is left of a sugar's solubility beside others, as a share of it.

    Args:
        others_per_water: grams of other dissolved sugars per gram of water.

    Returns:
        Likely, low and high end on a first axis, shape (3, ...).

    Four saturated mixtures of sucrose and invert sugar lie between the ends, and
    within 0.015 of the likely curve; for glucose syrup, and beyond the range, it is a
    guess by the same mass. The lower end goes on falling as a model of hydrated
    sugars has it, the upper end stays.

    Source: Jackson and Silsbee (1924), saturated mixtures at 0, 10, 15 and 30 °C, from
    memory; curve and ends are ours.
    """
    q = np.maximum(np.asarray(others_per_water, dtype=np.float64), 0.0)
    likely = 1 - _TAKEN * (1 - np.exp(-q / _REACH))
    low = np.minimum(np.exp(-_STEEP * q), likely) * (1 - 0.03 * np.tanh(2 * q))
    low = np.maximum(low, _LEAST)
    beyond = np.maximum(q - OTHERS_HIGHEST, 0.0)
    # half way to the lower end where nothing was measured
    likely = np.where(beyond > 0, likely - (likely - low) / 2 * np.tanh(beyond), likely)
    high = 1 - _TAKEN * (1 - np.exp(-q / _REACH)) + 0.04 * np.tanh(2 * q)
    result: Array = np.stack([likely, low, high])
    return result


def others_per_water(parts: Parts, species: str) -> Array:
    """Grams of dissolved sugars but this one, per gram of water; inf without water."""
    water = parts[..., AT["water"]]
    others = parts[..., _SHARING].sum(axis=-1) - parts[..., AT[species]]
    others = np.maximum(others, 0.0)
    dry = np.where(others > 0, np.inf, 0.0)
    with np.errstate(over="ignore"):
        result: Array = np.divide(others, water, out=dry, where=water > 0)
    return result


def solubility_in(parts: Parts, species: str, temperature_C: ArrayLike) -> Array:
    """Grams of a sugar that 100 g of water hold beside the other sugars in a mix.

    Args:
        parts: masses of species, shape (..., len(SPECIES)).
        species: whose solubility, such as `sucrose` or `lactose`.
        temperature_C: how warm it lies, broadcast against the parts' first axes.

    Returns:
        Likely, low and high end on a first axis, shape (3, ...).
    """
    alone = solubility(species, temperature_C)
    others = others_per_water(parts, species)
    more = max(0, alone.ndim - others.ndim)  # so that the ends stay on the first axis
    result: Array = left_beside(others[(None,) * more]) * alone
    return result


def _per_water(percent: float) -> float:
    return 100 * percent / (100 - percent)


def _share(per_water: float) -> float:
    return 100 * per_water / (100 + per_water)
