"""Gels: how much of an agent sets a layer, what it needs, and what breaks it.

How firm a gel will be isn't known well enough for a number: what is known is the range
of doses that people work in, and the conditions outside which an agent fails.
"""

import csv
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from slabwright.physics.species import Array
from slabwright.source import Source, relation, sources

REFERENCE_BLOOM: Final = 200.0
"""Doses of gelatine are told for this strength [bloom]."""
BLOOMS: Final = (50.0, 350.0)
"""No gelatine is sold weaker or stronger [bloom]. Common practice."""
DOSES: Final = ("too little", "soft", "sets", "stiff")
"""Where a dose lies, in order."""
SOFT: Final = 0.6
"""Under so much of the least usual dose nothing holds its edge; between, it is soft.
Our own."""
BREAKS_GELATINE: Final = sources()["gelatine-enzymes"]
ENZYME_C: Final = 75.0
"""Raw fruit heated to this has lost what digests gelatine [°C]."""
GELATINE_MOST_C: Final = 100.0
"""Gelatine that is brought over this loses strength [°C]."""
WEEPS_UNDER_PCT: Final = 50.0
"""With less dry matter than this, an agar gel weeps in a day or two. Our own, from
suppliers' pages that call its weeping high, and less in sugar."""
CURDLES_C: Final = 86.0
"""Egg without starch, brought over this, squeezes out its water [°C]. The trade says
so of 85 to 90."""
AMYLASE_C: Final = 90.0
"""Starch with yolk that stays under this may run again overnight [°C]. The trade boils
it; stored pages say so, few give a figure."""


class Exchange(NamedTuple):
    """Grams of one gelatine for another, by both rules that are about."""

    linear: Array
    square_root: Array


@dataclass(frozen=True, slots=True)
class Agent:
    """What sets a layer, and its working range."""

    agent: str
    name: str
    low: float
    """Least usual dose, a share of what is not fat (of the raw mix for egg)."""
    high: float
    stiff: float
    """Beyond this a piece is rubbery or brittle."""
    solids: tuple[float, float]
    """Dry matter that it works in, share."""
    ph: tuple[float, float]
    dissolves_C: float
    sets_C: tuple[float, float] | None
    melts_C: tuple[float, float] | None
    """None if it does not melt again."""
    source: Source
    melt_source: Source
    note: str

    def dose(self, share: float) -> str:
        """In which of `DOSES` a dose falls."""
        if share < SOFT * self.low:
            return DOSES[0]
        if share < self.low:
            return DOSES[1]
        return DOSES[2] if share <= self.stiff else DOSES[3]


@dataclass(frozen=True, slots=True)
class Grade:
    """A gelatine as it is sold."""

    grade: str
    bloom: tuple[float, float, float]
    """Low, usual, high."""
    leaf_g: float | None
    source: Source


@relation(sources()["bloom-rules"], from_bloom=(50.0, 300.0), to_bloom=(50.0, 300.0))
def exchange(mass_g: ArrayLike, from_bloom: ArrayLike, to_bloom: ArrayLike) -> Exchange:
    """Grams of another gelatine that set as firmly, by each of two rules.

    Both agree on which way to go and differ on how far. By gel strength over
    concentration the square root is the older, physical one; packets and pastry books
    use the ratio.

    Args:
        mass_g: what the formula asks for [g].
        from_bloom: its strength [bloom].
        to_bloom: strength of what is at hand [bloom].

    Source: bloom-rules.
    """
    ratio = np.asarray(from_bloom, float) / np.asarray(to_bloom, float)
    mass = np.asarray(mass_g, float)
    return Exchange(mass * ratio, mass * np.sqrt(ratio))


def is_bloom(low: float, high: float) -> bool:
    """Whether gelatine is sold from one of these strengths to the other [bloom]."""
    return BLOOMS[0] <= low and high <= BLOOMS[1]


def grams_to_share(part_g: ArrayLike, whole_g: ArrayLike, share: ArrayLike) -> Array:
    """Grams of a thing to add until it makes up this share of the whole.

    Under 0 where there is more already.
    """
    part, whole = np.asarray(part_g, float), np.asarray(whole_g, float)
    wanted = np.asarray(share, float)
    value: Array = (wanted * whole - part) / (1 - wanted)
    return value


@cache
def agents() -> dict[str, Agent]:
    """Every agent by its key."""
    return {row["agent"]: _agent(row) for row in _table("gel_agents.csv")}


@cache
def grades() -> dict[str, Grade]:
    """Every grade of gelatine; `powder` and `leaf` where the grade is not told."""
    return {
        row["grade"]: Grade(
            row["grade"],
            (float(row["bloom_low"]), float(row["bloom"]), float(row["bloom_high"])),
            float(row["leaf_g"]) if row["leaf_g"] else None,
            sources()[row["source"]],
        )
        for row in _table("gelatine_grades.csv")
    }


def _agent(row: dict[str, str]) -> Agent:
    def band(name: str, unit: str, per: float) -> tuple[float, float] | None:
        low, high = row[f"{name}_low_{unit}"], row[f"{name}_high_{unit}"]
        return (float(low) / per, float(high) / per) if low else None

    return Agent(
        row["agent"], row["name"], float(row["low_pct"]) / 100,
        float(row["high_pct"]) / 100, float(row["stiff_pct"]) / 100,
        band("solids", "pct", 100) or (0.0, 1.0),
        (float(row["ph_low"]), float(row["ph_high"])), float(row["dissolves_C"]),
        band("sets", "C", 1), band("melts", "C", 1), sources()[row["source"]],
        sources()[row["melt_source"]], row["note"],
    )  # fmt: skip


def _table(name: str) -> list[dict[str, str]]:
    found = files("slabwright.physics").joinpath("data", name)
    return list(csv.DictReader(found.read_text("utf-8").splitlines()))
