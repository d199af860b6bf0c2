"""Raising: gas from soda and powder, and acid that soda is set against."""

import csv
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from slabwright.physics.species import Array
from slabwright.source import Source, relation, sources

GAS_PER_SODA: Final = 44.01 / 84.007
"""Carbon dioxide of soda that meets acid [g/g], by its formula."""
GAS_BY_HEAT: Final = GAS_PER_SODA / 2
"""The same of soda that meets none: half stays behind as washing soda, which tastes
of soap and browns."""
_GAS_CONSTANT: Final = 8.314462
_GAS_G_MOL: Final = 44.01


class Left(NamedTuple):
    """What is left when soda has met acid [g of soda]; under 0 it is acid."""

    low: Array
    high: Array


@dataclass(frozen=True, slots=True)
class Raiser:
    """A raising agent, or an acid that is sold for soda."""

    agent: str
    ingredient: str
    """Its name in the larder; empty if it is not there."""
    name: str
    soda_share: tuple[float, float]
    """Soda that gives as much gas as a gram of it, low and high [g/g]."""
    neutralises: tuple[float, float, float]
    """Soda that a gram of it takes up: low, usual, high [g/g]; 0 for no acid."""
    acts: str
    source: Source
    note: str

    @property
    def is_acid(self) -> bool:
        """Whether it is an acid, that gives no gas by itself."""
        return self.neutralises[1] > 0


@cache
def raisers() -> dict[str, Raiser]:
    """Every agent by its key."""
    found = files("slabwright.physics").joinpath("data", "raising_agents.csv")
    return {
        row["agent"]: Raiser(
            row["agent"],
            row["ingredient"],
            row["name"],
            (float(row["soda_share_low"]), float(row["soda_share_high"])),
            (
                float(row["neutralises_low"]),
                float(row["neutralises"]),
                float(row["neutralises_high"]),
            ),
            row["acts"],
            sources()[row["source"]],
            row["note"],
        )
        for row in csv.DictReader(found.read_text("utf-8").splitlines())
    }


@relation(sources()["leavening-table"])
def acid_for(soda_g: ArrayLike, neutralising_value: ArrayLike) -> Array:
    """Grams of an acid that take up all of this soda.

    Args:
        soda_g: bicarbonate of soda [g].
        neutralising_value: soda that 100 parts of the acid take up.

    Source: the definition of the neutralising value.
    """
    value: Array = (
        np.asarray(soda_g, float) * 100 / np.asarray(neutralising_value, float)
    )
    return value


def left_over(
    soda_g: ArrayLike, takes_low_g: ArrayLike, takes_high_g: ArrayLike
) -> Left:
    """Soda that no acid took up, low and high [g]; under 0 for acid that is left.

    Args:
        soda_g: soda put in beside what is balanced by its maker [g].
        takes_low_g: soda that all acid takes up at the least [g].
        takes_high_g: at the most [g].
    """
    soda = np.asarray(soda_g, float)
    return Left(
        soda - np.asarray(takes_high_g, float), soda - np.asarray(takes_low_g, float)
    )


def gas_ml(gas_g: ArrayLike, temperature_C: ArrayLike = 20.0) -> Array:
    """Volume of carbon dioxide at the pressure of the sea [ml].

    Source: the law of ideal gases; true to 1 % here.
    """
    kelvin = np.asarray(temperature_C, float) + 273.15
    moles = np.asarray(gas_g, float) / _GAS_G_MOL
    value: Array = moles * _GAS_CONSTANT * kelvin / 101_325 * 1e6
    return value
