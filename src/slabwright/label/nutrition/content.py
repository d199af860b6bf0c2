"""What 100 g of a finished slab hold, with the range that its weights and gaps leave.

A range adds up, at their worst, what each line's weight, each loss and each gap of the
larder may do. How much a crop or a maker differs from the tables is in none of it.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from slabwright.composition import FATS, SATURATES, SUGARS
from slabwright.label.nutrition.nutrients import (
    AT,
    ENERGIES,
    NUTRIENTS,
    Amounts,
    Brings,
    brings,
    energy_factors,
    unknown,
)
from slabwright.label.nutrition.parts import Part
from slabwright.larder.ingredient import Cited, Ingredient
from slabwright.source import Source

_CONSTITUENTS: Final[Mapping[str, tuple[str, ...]]] = {
    "fat": FATS,
    "saturates": (SATURATES,),
    "carbohydrate": (*SUGARS, "higher_saccharides", "starch", "polyols", "rest"),
    "sugars": SUGARS,
    "energy_kj": (*FATS, *SUGARS, "higher_saccharides", "starch", "polyols", "rest",
                  "protein", "fibre", "alcohol", "organic_acids"),
}  # fmt: skip
"""Constituents that a nutrient adds up, where it isn't one of its own name."""
_WIDE: Final = 1e-9
_ALCOHOL: Final = AT["alcohol"]


@dataclass(frozen=True, slots=True)
class Laid:
    """One layer in the finished slab."""

    name: str
    parts: tuple[Part, ...]
    """In this layer's own grams."""
    mass: tuple[float, float, float]
    """As worked out, low end, high end [g]."""
    solids: tuple[float, float, float]
    """Share that is not water, at the same three."""
    is_whole: bool
    """Whether it is all of its batch, so that what boils off makes it lighter."""


@dataclass(frozen=True, slots=True)
class Brought:
    """What one ingredient brings of a nutrient into the whole slab."""

    name: str
    way: tuple[str, ...]
    amount: float
    """[g] or for energy [kJ] or [kcal]."""
    grams: float
    """Grams of the ingredient that it lies in [g]."""
    source: Source | None
    """Where most of it is known from."""


@dataclass(frozen=True)
class Held:
    """One nutrient in 100 g."""

    name: str
    value: float
    low: float
    high: float
    total: float
    """In the whole slab."""
    brought: tuple[Brought, ...]
    """Most first; what brings nothing is left out."""
    missing: tuple[str, ...]
    """What nobody knows of it, and why."""


@dataclass(frozen=True)
class Content:
    """Everything that 100 g of a slab hold."""

    mass_g: float
    per_100g: Mapping[str, Held]


def content_of(
    layers: Sequence[Laid], like: Callable[[str], Ingredient | None]
) -> Content:
    """What 100 g of these layers hold together.

    Args:
        layers: each with its parts; together they weigh something.
        like: an ingredient of the larder by its id.

    Raises:
        ValueError: if they weigh nothing.
    """
    mass = sum(layer.mass[0] for layer in layers)
    if not mass > 0:
        message = "a slab that weighs nothing holds nothing"
        raise ValueError(message)
    known: dict[int, Brings] = {}
    laid = [_Layer.of(layer, known, like) for layer in layers]
    slab = sum((one.amounts for one in laid), np.zeros(len(NUTRIENTS)))
    down, up = np.zeros(len(NUTRIENTS)), np.zeros(len(NUTRIENTS))
    for one in laid:
        for change in (*one.gaps(mass), *one.changes(slab, mass)):
            down += np.minimum(change, 0.0)
            up += np.maximum(change, 0.0)
    slab[np.abs(slab) < _WIDE * mass] = 0.0  # what sums of floats leave behind
    value = 100 * slab / mass
    low, high = np.maximum(value + down, 0.0), value + up
    most = np.full(len(NUTRIENTS), 100.0)
    for name, factor in zip(ENERGIES, energy_factors(), strict=True):
        most[AT[name]] = 100 * factor.max()
    high = np.maximum(np.minimum(high, most), value)
    found = {
        name: Held(
            name,
            float(value[at]),
            float(low[at]),
            float(high[at]),
            float(slab[at]),
            _brought(name, laid),
            _missing(name, laid),
        )
        for name, at in AT.items()
    }
    return Content(mass, found)


@dataclass(frozen=True)
class _Layer:
    """A layer's parts as one array."""

    laid: Laid
    brings: tuple[Brings, ...]
    each: Amounts
    """Of every part, shape (parts, nutrients)."""
    grams: Amounts
    """Shape (parts, 3): as worked out, less, more."""

    @staticmethod
    def of(
        laid: Laid,
        known: dict[int, Brings],
        like: Callable[[str], Ingredient | None],
    ) -> "_Layer":
        """The same, its ingredients looked up."""
        found = tuple(_brings(part, known, like) for part in laid.parts)
        grams = np.array([[p.grams, p.low_g, p.high_g] for p in laid.parts])
        values = np.array([_less_alcohol(b, p) for b, p in zip(
            found, laid.parts, strict=True)])  # fmt: skip
        shape = (len(found), len(NUTRIENTS))
        return _Layer(laid, found, values.reshape(shape), grams.reshape(len(found), 3))

    @property
    def amounts(self) -> Amounts:
        """What the whole layer holds."""
        return self.grams[:, 0] @ self.each

    def gaps(self, mass: float) -> tuple[Amounts, Amounts]:
        """What the larder's gaps may take from 100 g of the slab, and give."""
        less, more = np.zeros(len(NUTRIENTS)), np.zeros(len(NUTRIENTS))
        for part, one, value in zip(
            self.laid.parts, self.brings, self.each, strict=True
        ):
            low = one.low - _alcohol(one, 1 - part.alcohol_low)
            less += part.grams * np.minimum(low - value, 0.0)
            more += (
                part.grams * np.maximum(one.high - value, 0.0) * (one.high > one.value)
            )
        return 100 * less / mass, 100 * more / mass

    def changes(self, slab: Amounts, mass: float) -> list[Amounts]:
        """What 100 g of the slab change by, as each weight and loss goes either way."""
        own, weight = self.amounts, self.laid.mass[0]
        found: list[Amounts] = []
        before = 100 * slab / mass
        spread = self.laid.mass[2] - self.laid.mass[1] > _WIDE * weight
        wide = [i for i, (g, low, high) in enumerate(self.grams)
                if high - low > _WIDE * max(g, 1.0)]  # fmt: skip
        for i in wide:
            for end in (1, 2):
                more = float(self.grams[i, end] - self.grams[i, 0])
                gained, heavier = more * self.each[i], more
                if not self.laid.is_whole and weight > 0:
                    gained, heavier = gained - more * own / weight, 0.0
                elif not spread:
                    heavier = 0.0  # what came out was weighed
                found.append(100 * (slab + gained) / (mass + heavier) - before)
        if not weight > 0 or not self.laid.solids[0] > 0:
            return found
        for end in (1, 2):
            drier = self.laid.solids[end] / self.laid.solids[0]
            there = self.laid.mass[end]
            if wide and self.laid.is_whole:
                if not spread or not drier > 0:
                    continue
                there, scale = weight / drier, 1.0
            else:
                scale = there / weight * drier
            whole = mass - weight + there
            if whole > 0:
                found.append(100 * (slab + own * (scale - 1)) / whole - before)
        return found


def _brings(
    part: Part, known: dict[int, Brings], like: Callable[[str], Ingredient | None]
) -> Brings:
    ingredient = part.ingredient
    if ingredient is None:
        return unknown(part.why or f"nobody here knows '{part.name}'")
    if id(ingredient) not in known:
        base = like(ingredient.like) if ingredient.like else None
        known[id(ingredient)] = brings(ingredient, base)
    return known[id(ingredient)]


def _less_alcohol(one: Brings, part: Part) -> Amounts:
    return one.value - _alcohol(one, 1 - part.alcohol_left)


def _alcohol(one: Brings, share: float) -> Amounts:
    """This share of its alcohol, and the energy of that."""
    found = np.zeros(len(NUTRIENTS))
    gone = float(one.value[_ALCOHOL]) * share
    if gone > 0:
        found[_ALCOHOL] = gone
        for name, factor in zip(ENERGIES, energy_factors(), strict=True):
            found[AT[name]] = gone * factor[_ALCOHOL]
    return found


def _missing(name: str, layers: Sequence[_Layer]) -> tuple[str, ...]:
    return tuple(
        dict.fromkeys(
            why
            for layer in layers
            for part, one in zip(layer.laid.parts, layer.brings, strict=True)
            for nutrient, why in one.missing
            if nutrient == name and part.grams > 0
        )
    )


def _brought(name: str, layers: Sequence[_Layer]) -> tuple[Brought, ...]:
    at = AT[name]
    found = [
        Brought(
            part.name,
            (layer.laid.name, *part.way[1:]),
            float(part.grams * row[at]),
            part.grams,
            _source(name, part.ingredient),
        )
        for layer in layers
        for part, row in zip(layer.laid.parts, layer.each, strict=True)
        if part.grams * row[at] > 0
    ]
    return tuple(sorted(found, key=lambda one: -one.amount))


def _source(name: str, ingredient: Ingredient | None) -> Source | None:
    """Where most of a nutrient in an ingredient is known from."""
    if ingredient is None:
        return None
    key = "energy_kj" if name == "energy_kcal" else name
    cited: list[Cited] = [
        ingredient.values[one]
        for one in _CONSTITUENTS.get(key, (name,))
        if one in ingredient.values
    ]
    return max(cited, key=lambda one: one.value).source if cited else None
