"""Hens' eggs by legal weight class: what whole egg, white and yolk weigh."""

import csv
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Final

from slabwright.larder.ingredient import Measure
from slabwright.source import Source, sources

_REGIMES: Final = {"US": "us", "CA": "ca", "AU": "au", "NZ": "nz"}
"""Countries with classes of their own; everyone else is read by the European ones."""

_SAME: Final = {
    "extra_large": "very_large",
    "extra large": "very_large",
    "very large": "very_large",
    "xl": "very_large",
}

PARTS: Final = {
    "whole-egg": ("without shell", 0.88, 0.87, 0.89),
    "egg-white": ("white", 0.585, 0.57, 0.60),
    "egg-yolk": ("yolk", 0.295, 0.28, 0.31),
}
"""Share of the egg in its shell: usual, least, most.

Published shares: shell 11 % (a producer's page) to 13 % (an encyclopaedia), white 57 to
60 %, yolk 28 to 31 %; the usual ones are their middle and add up with 12 % of shell.
"""


@dataclass(frozen=True, slots=True)
class EggClass:
    """A legal class by the mass of the egg in its shell [g]."""

    regime: str
    size: str
    label: str
    """What the box says."""
    min_g: float
    max_g: float
    open: bool
    """Whether one limit is assumed, since the law leaves it open."""
    source: Source
    note: str

    @property
    def middle_g(self) -> float:
        """Middle of the class [g in shell]."""
        return (self.min_g + self.max_g) / 2


@cache
def egg_classes() -> tuple[EggClass, ...]:
    """Every class, lightest first within its regime."""
    data = files("slabwright.larder").joinpath("data", "egg_classes.csv")
    return tuple(
        EggClass(
            row["regime"],
            row["size"],
            row["label"],
            float(row["min_g"]),
            float(row["max_g"]),
            bool(row["assumed"]),
            sources()[row["source"]],
            row["note"],
        )
        for row in csv.DictReader(data.read_text("utf-8").splitlines())
    )


def regime_of(country: str) -> str:
    """Whose classes a country reads its eggs by, as in `EggClass.regime`.

    >>> regime_of("GB"), regime_of("us")
    ('EU', 'US')
    """
    country = country.upper()
    return country if country in _REGIMES else "EU"


def measure_name(size: str, country: str = "GB") -> str:
    """Name of the measure of one egg of this class in this country.

    Args:
        size: `small`, `medium`, `large` or `very_large`; other words for the last are
            understood, and what else a class table calls a size (`jumbo`, `peewee`).
        country: ISO 3166 code.

    >>> measure_name("large"), measure_name("large", "US")
    ('each_large', 'each_us_large')
    """
    regime = _REGIMES.get(country)
    size = _SAME.get(size, size)
    return f"each_{regime}_{size}" if regime else f"each_{size}"


@cache
def egg_measures(id: str) -> tuple[Measure, ...]:
    """Measures of whole egg, white or yolk, one for each class; else none.

    Args:
        id: `whole-egg`, `egg-white` or `egg-yolk`.
    """
    if id not in PARTS:
        return ()
    part, share, least, most = PARTS[id]
    return tuple(
        Measure(
            measure_name(found.size, found.regime),
            round(found.middle_g * share, 1),
            round(found.min_g * least, 1),
            round(found.max_g * most, 1),
            f"1 {found.label} egg, {part}",
            found.source,
            f"{found.min_g:g} to {found.max_g:g} g in shell x {share:g}"
            + (f"; {found.note}" if found.open else ""),
        )
        for found in egg_classes()
    )
