"""How sweet a mix is, in grams of sucrose that would be as sweet.

Each sugar counts by its relative sweetness, a table whose authors disagree widely. What
fat, acid, salt, cold, aroma and crystals do to sweetness on the tongue is not in it, so
it tells two makes of the same kind apart and no more.
"""

import csv
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Final

import numpy as np

from slabwright.physics.species import SPECIES, Array, Parts
from slabwright.source import Source, sources

NOTICED: Final = 0.10
"""A difference in sweetness under this share is noticed by few. From memory of taste
research (the smallest step that half of a panel tells in sugar solutions)."""


@dataclass(frozen=True, slots=True)
class Relative:
    """How sweet a species is beside as much sucrose."""

    low: float
    value: float
    high: float
    source: Source


@cache
def relative() -> Mapping[str, Relative]:
    """Relative sweetness by species.

    Raises:
        ValueError: if a row's ends do not lie around its value.
    """
    text = files("slabwright.physics").joinpath("data/sweetness.csv")
    found: dict[str, Relative] = {}
    for row in csv.DictReader(text.read_text("utf-8").splitlines()):
        low, value, high = (float(row[one]) for one in ("low", "value", "high"))
        if not low <= value <= high:
            message = f"sweetness.csv: {row['species']} has ends that cross"
            raise ValueError(message)
        found[row["species"]] = Relative(low, value, high, sources()[row["source"]])
    return found


@cache
def _weights() -> Array:
    """Likely, low and high sweetness of every species, shape (3, len(SPECIES))."""
    weights = np.zeros((3, len(SPECIES)))
    for at, name in enumerate(SPECIES):
        one = relative().get(name)
        if one is not None:
            weights[:, at] = one.value, one.low, one.high
    weights.setflags(write=False)
    return weights


def sucrose_equivalent(parts: Parts) -> Array:
    """Mass of sucrose that would be as sweet, in the unit of the parts.

    Args:
        parts: masses of species, shape (..., len(SPECIES)).

    Returns:
        Likely, low and high end on a first axis, shape (3, ...).
    """
    result: Array = np.stack([parts @ one for one in _weights()])
    return result


def sweeter(parts: Parts, known: Parts) -> Array:
    """How much sweeter a mix is than a known one, gram for gram; 0.08 is 8 %.

    Each end takes every sugar at that end in both mixes, so that what they have in
    common does not widen the range.

    Args:
        parts: masses of species of the one, shape (..., len(SPECIES)); only shares
            count.
        known: the same of the one to compare with.

    Returns:
        Likely, low and high end, shape (3, ...); nan where the known one has no sugar
        or either has no mass.
    """
    one, other = (
        sucrose_equivalent(each) / _mass(each)[None] for each in (parts, known)
    )
    ratio = np.divide(one, other, out=np.full_like(one, np.nan), where=other > 0) - 1
    result: Array = np.stack([ratio[0], ratio.min(axis=0), ratio.max(axis=0)])
    return result


def _mass(parts: Parts) -> Array:
    whole = np.asarray(parts.sum(axis=-1))
    result: Array = np.where(whole > 0, whole, np.nan)
    return result


def used(parts: Parts) -> tuple[Source, ...]:
    """Whose figures stand behind the sweetness of this row."""
    told = [
        relative()[name].source
        for name, mass in zip(SPECIES, parts.tolist(), strict=True)
        if mass > 0 and name in relative()
    ]
    return tuple(dict.fromkeys(told))
