"""What is left of eggs and fruit of which the lines take only one part."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from slabwright.cost.prices import Use
from slabwright.figure import Figure, Standing
from slabwright.larder.eggs import measure_name
from slabwright.larder.ingredient import Measure
from slabwright.larder.lookup import Larder

_TINY: Final = 0.005
"""Wholes: less than this is a matter of the last digits."""


@dataclass(frozen=True, slots=True)
class Whole:
    """Something that comes whole and is used in parts."""

    id: str
    """Larder id of the whole thing, where the larder has it."""
    name: str
    plural: str
    parts: Mapping[str, str]
    """Larder id of each part, and what it is called when it is left."""


WHOLES: Final = (
    Whole(
        "whole-egg",
        "egg",
        "eggs",
        {"egg-yolk": "egg yolk", "egg-white": "egg white"},
    ),
    Whole(
        "lemon",
        "lemon",
        "lemons",
        {"lemon-juice": "lemon juice", "lemon-zest": "lemon zest"},
    ),
    Whole(
        "lime",
        "lime",
        "limes",
        {"lime-juice": "lime juice", "lime-zest": "lime zest"},
    ),
    Whole(
        "orange",
        "orange",
        "oranges",
        {"orange-juice": "orange juice", "orange-zest": "orange zest"},
    ),
)


@dataclass(frozen=True, slots=True)
class ByProduct:
    """What is left of it, if the other part was taken from the whole thing."""

    larder_id: str
    name: str
    left_g: Figure
    whole: str
    """What was opened for it, in words: `5 eggs`."""
    opened: float
    """How many."""


def by_products(
    uses: Iterable[Use], larder: Larder, country: str, eggs: str
) -> Iterator[ByProduct]:
    """What is left of each whole that was opened for one of its parts.

    What a line counts is that many; what it weighs is so many of the middle of the
    egg's legal class and of its usual shares. The range is that of class and shares.
    Whole eggs on a line leave nothing.

    Args:
        uses: what all lines take.
        larder: what a part of one weighs.
        country: ISO 3166 code, for its classes of egg.
        eggs: the kitchen's class of egg.
    """
    used = list(uses)
    for whole in WHOLES:
        each = {id: part_of_one(id, larder, country, eggs) for id in whole.parts}
        counts = {
            id: sum(_number(use, measure) for use in used if use.larder_id == id)
            for id, measure in each.items()
            if measure is not None
        }
        opened = max(counts.values(), default=0.0)
        for id, count in counts.items():
            measure = each[id]
            if measure is not None and opened - count > _TINY:
                words = _counted(opened, whole, eggs)
                left = _left(opened, count, measure, words)
                yield ByProduct(id, whole.parts[id], left, words, opened)


def part_of_one(id: str, larder: Larder, country: str, eggs: str) -> Measure | None:
    """What this part of one whole weighs; a whole egg is such a part too."""
    ingredient = larder.by_id(id)
    if ingredient is None:
        return None
    if ingredient.group == "egg":
        return ingredient.measure(measure_name(eggs, country))
    _, dash, part = id.rpartition("-")
    return ingredient.measure(f"{part}_each" if dash else "each")


def _number(use: Use, measure: Measure) -> float:
    """How many were opened for it."""
    return use.grams / measure.grams if use.pieces is None else use.pieces


def _left(opened: float, count: float, measure: Measure, words: str) -> Figure:
    rest = opened - count
    used = f", {count * measure.grams:.4g} g of it used" if count > _TINY else ""
    value = rest * measure.grams
    said = f"{words} × {measure.grams:g} g{used} = {value:.4g} g"
    return Figure(
        value, "g", said, Standing.ASSUMED, rest * measure.low_g,
        rest * measure.high_g, (measure.source,),
    )  # fmt: skip


def _counted(number: float, whole: Whole, eggs: str) -> str:
    said = f"{number:.1f}".removesuffix(".0")
    if whole.id == "whole-egg":
        said += f" {eggs}"
        return f"{said} {whole.name if number == 1 else whole.plural}"
    return f"{said} {whole.name if said == '1' else whole.plural}"
