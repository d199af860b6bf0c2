"""Glass transition of cooked sugar: where a syrup turns from a glass into a rubber.

Every sugar has a temperature below which, without a grain in it, it is a glass. Water
lowers it steeply. Salt, minerals and what does not dissolve are left out: the figures
are those of the syrup that lies between fat, milk protein and bubbles.
"""

import csv
from functools import cache
from importlib.resources import files
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from slabwright.physics.species import AT, SPECIES, Array, Parts
from slabwright.source import Source, relation, sources

WATER_C: Final = -135.0
"""Glass transition of water, after Johari and others (1987)."""
ALCOHOL_C: Final = -176.0
"""That of ethanol, from memory; it softens a syrup like water."""
MODEL_K: Final = 5.0
"""How far onset, middle and end of a transition, and makers of tables, lie apart."""

_SOFTENERS: Final = {"water": WATER_C, "alcohol": ALCOHOL_C}


class Words(NamedTuple):
    """A word for what cooked sugar is like so far above its glass transition."""

    word: str
    from_K: float
    what: str


WORDS: Final = (
    Words("brittle", -np.inf, "a glass that snaps and shatters"),
    Words("hard", 0.0, "it barely gives, and is sucked or cracked"),
    Words("chewy", 20.0, "it bends, and gives slowly between the teeth"),
    Words("sticky", 45.0, "soft, it clings and creeps"),
    Words("flows", 60.0, "it runs, unless a gel, crystals or a foam hold it"),
)
"""Bands of the distance from the glass transition [K]. Their limits are our own, put
beside the viscosity that Williams, Landel and Ferry's equation gives there: 10^12 Pa s
at 0, 10^7 at 20, 10^4 at 45 and some hundreds at 60."""


@relation(sources()["gordon-taylor"])
def glass_transition(parts: Parts) -> Array:
    """Glass transition of a syrup without crystals [°C].

    Args:
        parts: masses of species, shape (..., len(SPECIES)).

    Returns:
        Temperature, shape (...); NaN where there is nothing that makes a glass.

    Source: Gordon and Taylor's rule, with each sugar weighed by its own constant
    against water: T = (sum of m T / k + water T) / (sum of m / k + water).

    >>> from slabwright.physics.species import parts
    >>> round(float(glass_transition(parts(sucrose=95, water=5))))
    17
    """
    return _mixed(parts, _table().middle)


def glass_transition_range(parts: Parts) -> tuple[Array, Array]:
    """From where to where that transition may lie [°C].

    The spread of published values of each sugar, and `MODEL_K` for the rule.

    Args:
        parts: masses of species, shape (..., len(SPECIES)).
    """
    middle = _mixed(parts, _table().middle)
    below = middle - _mixed(parts, _table().low)
    above = _mixed(parts, _table().high) - middle
    return middle - np.hypot(below, MODEL_K), middle + np.hypot(above, MODEL_K)


@relation(sources()["gordon-taylor"])
def water_for_glass(parts: Parts, transition_C: ArrayLike) -> Array:
    """Water that these sugars need for a glass transition at a temperature.

    Args:
        parts: masses of species, shape (..., len(SPECIES)); their water is left aside.
        transition_C: wanted glass transition, over -135, shape (...) [°C].

    Returns:
        Mass of water, in the unit of the parts; under 0 where the transition lies
        lower than that even without any water.

    Source: `glass_transition`, turned round.
    """
    wanted = np.asarray(transition_C, float)
    weights = parts * _table().weights
    weights[..., AT["water"]] = 0.0
    pull = (weights * (_table().middle - wanted[..., None])).sum(axis=-1)
    water: Array = pull / (wanted - WATER_C)
    return water


@relation(sources()["berk-2009"], above_K=(0.0, 100.0))
def viscosity_power(above_K: ArrayLike) -> Array:
    """Power of ten of the viscosity so far above the glass transition [Pa s].

    Args:
        above_K: distance from the glass transition [K].

    Source: Williams, Landel and Ferry with the constants for all glasses, from 10^12
    Pa s at the transition.
    """
    above = np.asarray(above_K, float)
    power: Array = 12.0 - 17.44 * above / (51.6 + above)
    return power


def word_at(above_K: float) -> Words:
    """The word for cooked sugar so far above its glass transition [K].

    >>> word_at(-1.0).word, word_at(33.0).word
    ('brittle', 'chewy')
    """
    return next(one for one in reversed(WORDS) if above_K >= one.from_K)


def counted_share(parts: Parts) -> Array:
    """Which share of the dissolved mass, water included, the rule can count, 0 to 1.

    Args:
        parts: masses of species without what does not dissolve.
    """
    counted = (parts * (_table().weights > 0)).sum(axis=-1)
    whole = parts.sum(axis=-1)
    share: Array = np.divide(
        counted, whole, out=np.zeros_like(whole), where=np.asarray(whole > 0)
    )
    return share


def constants(species: str) -> tuple[float, float] | None:
    """Dry glass transition [°C] and k with water of a species; None if it has none."""
    at = AT[species]
    weight = float(_table().weights[at])
    return (float(_table().middle[at]), 1 / weight) if weight else None


def sources_of(parts: Parts) -> tuple[Source, ...]:
    """What a glass transition of these parts leans on: the rule, and each sugar's row.

    Args:
        parts: masses of species, shape (..., len(SPECIES)).
    """
    there = parts.reshape(-1, len(SPECIES)).sum(axis=0)
    rows = [one for one in dry_glasses() if there[AT[one.species]] > 0]
    found = [glass_transition.source, sources()["berk-2009"]]
    for one in rows:
        found += [one.dry_source, one.k_source]
    return tuple(dict.fromkeys(found))


class DryGlass(NamedTuple):
    """What a table says of one sugar without water."""

    species: str
    low_C: float
    """Lowest published glass transition [°C]."""
    dry_C: float
    high_C: float
    k: float
    """Gordon and Taylor's constant with water."""
    dry_source: Source
    k_source: Source


class _Table(NamedTuple):
    """By species: weights of the rule, and dry glass transitions [°C]."""

    weights: Array
    low: Array
    middle: Array
    high: Array


def _mixed(parts: Parts, dry_C: Array) -> Array:
    weights = parts * _table().weights
    makes_glass = weights.sum(axis=-1) > weights[..., _soft()].sum(axis=-1)
    with np.errstate(divide="ignore", invalid="ignore"):
        mean = (weights * dry_C).sum(axis=-1) / weights.sum(axis=-1)
    mixed: Array = np.where(makes_glass, mean, np.nan)
    return mixed


def _soft() -> list[int]:
    return [AT[name] for name in _SOFTENERS]


@cache
def dry_glasses() -> tuple[DryGlass, ...]:
    """Every sugar, polyol and acid whose glass is known, in the table's order."""
    found = files("slabwright.physics").joinpath("data", "glass.csv")
    return tuple(
        DryGlass(
            row["species"],
            float(row["dry_low_C"]),
            float(row["dry_C"]),
            float(row["dry_high_C"]),
            float(row["k"]),
            sources()[row["dry_source"]],
            sources()[row["k_source"]],
        )
        for row in csv.DictReader(found.read_text("utf-8").splitlines())
    )


@cache
def _table() -> _Table:
    made = _Table(*(np.zeros(len(SPECIES)) for _ in _Table._fields))
    for name, dry_C in _SOFTENERS.items():
        made.weights[AT[name]] = 1.0
        for column in made[1:]:
            column[AT[name]] = dry_C
    for one in dry_glasses():
        at = AT[one.species]
        made.weights[at] = 1 / one.k
        made.low[at], made.middle[at], made.high[at] = one.low_C, one.dry_C, one.high_C
    return made
