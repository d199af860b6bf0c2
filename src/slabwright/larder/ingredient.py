"""What the larder knows of one ingredient, each value with its source."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final, Literal

import numpy as np

from slabwright.composition import INDEX, SATURATES, Masses, total, zeros
from slabwright.source import Source

ALLERGENS: Final = (
    "gluten:wheat",
    "gluten:rye",
    "gluten:barley",
    "gluten:oats",
    "crustaceans",
    "egg",
    "fish",
    "peanut",
    "soya",
    "milk",
    "nuts:almond",
    "nuts:hazelnut",
    "nuts:walnut",
    "nuts:cashew",
    "nuts:pecan",
    "nuts:brazil",
    "nuts:pistachio",
    "nuts:macadamia",
    "celery",
    "mustard",
    "sesame",
    "sulphites",
    "lupin",
    "molluscs",
)
"""The 14 of Regulation (EU) No 1169/2011, Annex II, each cereal and nut by name."""


@dataclass(frozen=True, slots=True)
class Cited:
    """One value and where it comes from."""

    value: float
    source: Source
    record: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Energy:
    """Energy per 100 g, as published or worked out, with the factors that give it."""

    kcal: float
    kJ: float
    how: Literal["eu-1169", "atwater-specific"]
    protein_factor: float
    """[kcal/g], like the other factors."""
    fat_factor: float
    carbohydrate_factor: float
    """Of fibre too if `how` is `atwater-specific`."""
    rest_factor: float
    """Of the constituent `rest`."""
    protein_n625: float | None
    """Protein as nitrogen x 6.25, as a European label counts it [g per 100 g]."""
    source: Source
    record: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Measure:
    """What one spoon, cup, piece or pack of it weighs, with the likely range [g].

    The measure `ml` is its density as poured or spooned [g/ml].
    """

    name: str
    grams: float
    low_g: float
    high_g: float
    what: str
    source: Source
    record: str = ""


@dataclass(frozen=True, slots=True)
class Allergen:
    """An allergen that it contains, that may hide in it, or that its pack warns of.

    What `may hide` is a question to its supplier; `may contain` is the answer.
    """

    name: str
    how: Literal["contains", "may hide", "may contain"]
    note: str
    source: Source


AllergensBy = Literal["larder", "like", "row", "answer", "nobody"]
"""Who said its allergens: our tables, what it is like, its own row in the user's
larder, that row with its source, or nobody yet."""


@dataclass(frozen=True, slots=True)
class Name:
    """What it is called: `same` is that very thing, `usual` a broader word for it."""

    text: str
    country: str
    """Where it is called so; empty: everywhere."""
    sense: Literal["same", "usual"]
    rank: int = 0
    """Order of ingredients that share a broad word, likeliest first."""


@dataclass(frozen=True, slots=True)
class Part:
    """What a compound ingredient is made of."""

    name: str
    share: float | None
    """Share of the whole, where it is known."""
    source: Source


@dataclass(frozen=True, slots=True)
class Pack:
    """A usual pack."""

    what: str
    grams: float
    country: str
    source: Source


@dataclass(frozen=True, slots=True)
class Ingredient:
    """One thing that a kitchen buys."""

    id: str
    name: str
    group: str
    values: Mapping[str, Cited] = field(hash=False)
    """Constituents, and `saturates`, per 100 g; empty if that isn't known."""
    energy: Energy | None = None
    measures: tuple[Measure, ...] = ()
    names: tuple[Name, ...] = ()
    allergens: tuple[Allergen, ...] = ()
    parts: tuple[Part, ...] = ()
    """In descending order."""
    packs: tuple[Pack, ...] = ()
    edible_share: float = 1.0
    rest_is: str = ""
    note: str = ""
    own: bool = False
    """Whether it comes from the user's own larder."""
    like: str = ""
    allergens_by: AllergensBy = "larder"
    allergen_answer: str = ""
    """Where the user has its allergens from: specification, date, who read it."""
    so2_mg_kg: float | None = None
    """Total sulphur dioxide in it [mg/kg], where a specification gives it."""
    declared: Mapping[str, float] = field(default_factory=dict, hash=False)
    """What the user's own row gives per 100 g, as written: `carbohydrate: 60`."""
    declared_as: str = ""
    """What a list of ingredients calls it, by its maker's own words."""
    _row: Masses | None = field(default=None, init=False, repr=False, compare=False)

    @property
    def composition(self) -> Masses | None:
        """Share of each entry of `ROW`, read-only; None if nobody knows.

        Published values seldom add up to 100 g: they are scaled to 1, at most by 1 %.
        """
        if not self.values:
            return None
        if self._row is None:
            object.__setattr__(self, "_row", _shares(self.values))
        return self._row

    def measure(self, name: str) -> Measure | None:
        """The measure of this name, such as `ml`, `cup_us`, `each`."""
        return next((found for found in self.measures if found.name == name), None)


def _shares(values: Mapping[str, Cited]) -> Masses:
    row = zeros()
    for constituent, cited in values.items():
        row[INDEX[constituent]] = cited.value
    row /= total(row)
    row.flags.writeable = False
    return row


def closes_to(values: Mapping[str, Cited]) -> float:
    """Sum of the constituents as published [g per 100 g]; saturates count as fat."""
    return float(np.sum([c.value for name, c in values.items() if name != SATURATES]))
