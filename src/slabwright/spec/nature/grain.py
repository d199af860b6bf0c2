"""Whether the sugar of a layer grains: its state worked out, the trade's rule beside.

One value for figures, classes and findings alike, so that they can't disagree.
"""

import csv
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Final, Literal

import numpy as np

from slabwright.formula.step import Band
from slabwright.physics.glass import glass_transition
from slabwright.physics.graining import (
    CLEAR,
    DOCTOR_RATIO,
    GROWS,
    LACTOSE_GROWS,
    doctor_ratio,
    doctor_solids,
    glucose_per_water,
    supersaturation,
)
from slabwright.physics.species import AT, Array, Parts, parts_of
from slabwright.source import Source, sources
from slabwright.spec.nature.subject import Subject

Policy = Literal["judged", "wanted", "lactose", "crystals", "untold"]

FROZEN_C: Final = -2.0
"""Colder than this nothing grains in the time that a slab is kept. Our own."""
FAR_SHARE: Final = 0.4
"""Under this share of the trade's ratio a layer is told to grain; between that and the
ratio, which is made for months in store, it may. Our own: soft caramels of five parts
of sugar to four of syrup are common practice, those of two to one are on the brink."""
NEAR_SHARE: Final = 0.95
"""So near under the ratio nothing is found: nobody weighs a rule finer. Our own."""
_ACID_SHARE: Final = 0.003
"""Share of organic acids from which a boil turns a good part of sucrose. Our own."""
_EITHER: Final = frozenset({"nougat"})
"""Kinds that some makers want chewy and others short, half grained. Common practice."""
_HELD_BY_MILK: Final = frozenset({"condensed milk caramel"})
"""Kinds that are thick with milk protein, which slows crystals. Common practice."""
STAYS, HELD, MAY, GRAINS = (
    "stays clear", "held by its syrups", "may grain when disturbed", "grains",
)  # fmt: skip
WORDS: Final = (STAYS, HELD, MAY, GRAINS)
LACTOSE_WORDS: Final = ("stays dissolved", "sandy if seeded", "sandy in time")
GLUCOSE_WORDS: Final = ("stays liquid", "grains slowly", "grains soon")


@dataclass(frozen=True, slots=True)
class Rule:
    """How the sugar of a kind of layer is looked at."""

    policy: Policy
    is_acid_boil: bool
    """Whether it is boiled with acid, which turns sucrose to invert sugar."""
    why: str
    source: Source


@cache
def rules() -> Mapping[str, Rule]:
    """The rule of every kind of layer, by its name."""
    text = files("slabwright.spec.nature").joinpath("graining.csv").read_text("utf-8")
    found: dict[str, Rule] = {}
    for row in csv.DictReader(text.splitlines()):
        found[row["kind"]] = Rule(
            _POLICIES[row["policy"]],
            row["acid_boil"] == "yes",
            row["why"],
            sources()[row["source"]],
        )
    return found


_POLICIES: Final[Mapping[str, Policy]] = {
    "judged": "judged",
    "wanted": "wanted",
    "lactose": "lactose",
    "crystals": "crystals",
    "untold": "untold",
}


@dataclass(frozen=True, slots=True)
class Place:
    """Where the layer lies, and how far over saturation it is there."""

    text: str
    band: Band
    sucrose: tuple[float, float, float]
    """Times of saturation: likely, low, high."""
    lactose: tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Grain:
    """The sugar of one layer."""

    parts: Parts
    """Finished mass by species, shape (len(SPECIES),) [g]."""
    places: tuple[Place, ...]
    """Where it is eaten first, then where it is kept, but for the frozen ones."""
    ratio: tuple[float, float, float]
    """Doctor solids for each gram of sucrose: likely, low, high; nan without both."""
    glucose: tuple[float, float, float]
    """Glucose for each gram of water: likely, low, high."""
    doctor_g: float
    above_glass_K: float
    """How far it is eaten above its glass transition; nan without one."""
    milder: tuple[str, ...] = ()
    """Why no more is told than that it may grain, in words."""

    @property
    def worst(self) -> Place:
        """The place where most sucrose is over."""
        return max(self.places, key=lambda one: one.sucrose[0])

    @property
    def sandiest(self) -> Place:
        """The place where most lactose is over."""
        return max(self.places, key=lambda one: one.lactose[0])

    @property
    def is_glass(self) -> bool:
        """Whether it lies so near its glass that crystals hardly grow."""
        return self.above_glass_K < 0

    @property
    def word(self) -> str:
        """The class of graining."""
        (over, least, _), ratio = self.worst.sucrose, self.ratio[0]
        if over <= CLEAR:
            return STAYS
        if ratio >= DOCTOR_RATIO:
            return HELD
        if least <= GROWS or ratio >= FAR_SHARE * DOCTOR_RATIO:
            return MAY
        if self.is_glass or self.milder:
            return MAY
        return GRAINS

    @property
    def lactose_word(self) -> str:
        """The class of lactose."""
        over, least, _ = self.sandiest.lactose
        return LACTOSE_WORDS[(over > CLEAR) + (least > LACTOSE_GROWS)]


def grain_of(subject: Subject) -> Grain | None:
    """How the sugar of a layer lies; None where there is no mass at all."""
    rows = parts_of(subject.finished)
    if not rows[0].sum() > 0:
        return None
    places = [("eaten", subject.eaten_C)]
    places += [
        (one.text, one.temperature_C)
        for one in subject.keepings
        if one.temperature_C.middle > FROZEN_C
    ]
    warm = np.array([band.middle for _, band in places])[:, None]
    sucrose = _ends(supersaturation(rows, "sucrose", warm))
    lactose = _ends(supersaturation(rows, "lactose", warm))
    found = tuple(
        Place(text, band, sucrose[at], lactose[at])
        for at, (text, band) in enumerate(places)
    )
    glass = float(np.asarray(glass_transition(rows[0])))
    return Grain(
        rows[0],
        found,
        _spread(doctor_ratio(rows)),
        _spread(glucose_per_water(rows)),
        float(doctor_solids(rows[0])),
        subject.eaten_C.middle - glass,
        tuple(_milder(subject, rows[0])),
    )


def _milder(subject: Subject, parts: Parts) -> Iterator[str]:
    """Why a state that grains is told only as one that may."""
    batch = subject.batch
    acid = float(parts[AT["organic_acids"]]) / float(parts.sum())
    if rules()[batch.kind.name].is_acid_boil and acid > _ACID_SHARE:
        yield "its boil with acid turns some of the sugar, which helps"
    if batch.kind.name in _EITHER:
        yield "some of its kind are meant to grain"
    if batch.kind.name in _HELD_BY_MILK:
        yield "it is thick with milk protein, which slows every crystal"
    if batch.assumed_loss is not None:
        yield "how much water is left is assumed: weigh it, and write it"


def _ends(over: Array) -> list[tuple[float, float, float]]:
    """Likely, least and most at each place, from shape (3, places, 3)."""
    return [
        (float(over[0, at, 0]), float(over[:, at].min()), float(over[:, at].max()))
        for at in range(over.shape[1])
    ]


def _spread(row: Array) -> tuple[float, float, float]:
    likely = float(row[0])
    if not np.isfinite(row).all():
        return likely, likely, likely
    return likely, float(row.min()), float(row.max())


def sugars_g(parts: Parts) -> float:
    """Sugars and syrup solids of a row [g]."""
    held = parts[AT["sucrose"]] + parts[AT["lactose"]]
    return float(doctor_solids(parts) + held)
