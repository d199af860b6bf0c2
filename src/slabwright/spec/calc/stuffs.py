"""Chocolate, cream and what goes with them, as calculators of exchanges take them."""

from dataclasses import dataclass
from functools import cache
from typing import Final

import numpy as np

from slabwright.composition import INDEX, Masses, fat, sugars, total, water
from slabwright.larder.ingredient import Ingredient
from slabwright.larder.load import built_in
from slabwright.physics.ganache import dry_cocoa
from slabwright.physics.species import Array
from slabwright.source import Source
from slabwright.spec.calc.calculator import Asked, Input, wrong

_DARK: Final = {
    50.0: "dark-chocolate-50", 54.0: "dark-chocolate-54", 60.0: "dark-chocolate-60",
    64.0: "dark-chocolate-64", 70.0: "dark-chocolate-70", 72.0: "dark-chocolate-72",
    85.0: "dark-chocolate-85", 100.0: "unsweetened-chocolate",
}  # fmt: skip
_CREAM: Final = (
    "skimmed-milk", "semi-skimmed-milk", "whole-milk", "single-cream-18",
    "whipping-cream-30", "heavy-cream-36", "whipping-cream-38", "double-cream-48",
    "clotted-cream",
)  # fmt: skip
_COCOA_FAT: Final = INDEX["fat_cocoa"]
_COCOA_SHARE: Final = 0.05
"""With less cocoa butter than this a thing is no chocolate."""
PARTS: Final = ("fat", "water", "dry cocoa", "sugars")
"""What an exchange keeps an eye on."""


@dataclass(frozen=True, slots=True)
class Stuff:
    """One thing that goes in, and what a gram of it holds."""

    name: str
    composition: Masses
    is_cocoa: bool = False
    note: str = ""
    """How its composition was come by, if not from one row of the larder."""
    sources: tuple[Source, ...] = ()
    """Where its composition is published."""

    @property
    def holds(self) -> Array:
        """Fat, water, dry cocoa and sugars of a gram, as in `PARTS`, shape (4,)."""
        row = self.composition
        cocoa = float(dry_cocoa(row)) if self.is_cocoa else 0.0
        return np.array([float(fat(row)), float(water(row)), cocoa, float(sugars(row))])


@cache
def plain(id: str) -> Stuff:
    """A row of our own larder."""
    found = built_in().by_id(id)
    if found is None or found.composition is None:
        message = f"no {id} in the larder"
        raise LookupError(message)
    return of(found)


def of(found: Ingredient) -> Stuff:
    """An ingredient with a composition."""
    composition = found.composition
    if composition is None:
        message = f"nobody knows what {found.name} is made of"
        raise LookupError(message)
    is_cocoa = "chocolate" in found.id or "cocoa" in found.id
    is_cocoa = is_cocoa or float(composition[..., _COCOA_FAT]) > _COCOA_SHARE
    cited = dict.fromkeys(one.source for one in found.values.values() if one.value > 0)
    return Stuff(found.name, composition, is_cocoa, sources=tuple(cited))


def chocolate_inputs(prefix: str, what: str) -> tuple[Input, Input]:
    """The two ways to name a chocolate: by the larder, or by its cocoa."""
    return (
        Input(f"{prefix}chocolate", "", what, kind="ingredient", is_optional=True),
        Input(
            f"{prefix}cocoa_percent", "%",
            "or the cocoa of a dark chocolate that the larder lacks", low=50.0,
            high=100.0, is_optional=True,
        ),
    )  # fmt: skip


def cream_inputs(
    prefix: str, what: str, default: str | None = None
) -> tuple[Input, Input]:
    """The two ways to name a cream: by the larder, or by its fat."""
    return (
        Input(
            f"{prefix}cream", "", what, kind="ingredient", default=default,
            is_optional=True,
        ),
        Input(
            f"{prefix}cream_fat_percent", "%",
            "or the fat of a cream that the larder lacks", low=0.1, high=63.0,
            is_optional=True,
        ),
    )  # fmt: skip


def chocolate_of(asked: Asked, prefix: str = "") -> Stuff:
    """The chocolate that was asked about.

    Raises:
        CalcError: if none is named, or what is named holds no cocoa butter.
    """
    _one_of(asked, f"{prefix}chocolate", f"{prefix}cocoa_percent")
    percent = asked.optional(f"{prefix}cocoa_percent")
    if percent is not None:
        return dark_chocolate(percent)
    name = f"{prefix}chocolate"
    found = asked.ingredients.get(name)
    if found is None:
        raise wrong(
            f"{name} is missing.", f"Give it so: {name}='dark chocolate 60%'.", name
        )
    stuff = of(found)
    if not float(stuff.composition[_COCOA_FAT]) > _COCOA_SHARE:
        raise wrong(f"{found.name} is no chocolate.", "Name a chocolate.", name)
    return stuff


def cream_of(asked: Asked, prefix: str = "") -> Stuff | None:
    """The cream or other liquid that was asked about; None if none is named."""
    _one_of(asked, f"{prefix}cream", f"{prefix}cream_fat_percent")
    percent = asked.optional(f"{prefix}cream_fat_percent")
    if percent is not None:
        return cream(percent)
    found = asked.ingredients.get(f"{prefix}cream")
    return None if found is None else of(found)


def _one_of(asked: Asked, one: str, other: str) -> None:
    """That not both of two ways to say the same were taken.

    Raises:
        CalcError: if they were.
    """
    if {one, other} <= asked.given:
        raise wrong(f"Both {one} and {other} are given.", "Give one.", other)


def dark_chocolate(percent: float) -> Stuff:
    """A dark chocolate by its cocoa: on a line between the larder's two next to it."""
    rows = [(at, plain(id)) for at, id in _DARK.items()]
    return _between(rows, percent, f"dark chocolate {percent:g}%")


def cream(percent: float) -> Stuff:
    """A cream by its fat: on a line between the larder's two next to it."""
    rows = [
        (100 * float(fat(one.composition)), one) for one in (plain(id) for id in _CREAM)
    ]
    return _between(rows, percent, f"cream {percent:g}%")


def _between(rows: list[tuple[float, Stuff]], percent: float, name: str) -> Stuff:
    points = np.array([at for at, _ in rows])
    above = int(np.clip(np.searchsorted(points, percent), 1, points.size - 1))
    (low, one), (high, other) = rows[above - 1], rows[above]
    part = (percent - low) / (high - low)
    mixed = (1 - part) * one.composition + part * other.composition
    mixed = mixed / float(total(mixed))
    note = (
        f"{name} is taken on a line between {one.name} and {other.name}; the pack "
        "tells better."
    )
    cited = dict.fromkeys((*one.sources, *other.sources))
    if part in {0.0, 1.0}:
        note = ""
    return Stuff(name, mixed, one.is_cocoa, note, tuple(cited))
