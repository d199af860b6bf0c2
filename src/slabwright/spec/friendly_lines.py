"""Which lines of a slab are weighed or counted, in what, and with how much care."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from math import inf
from typing import Final

from slabwright.errors import Mistake
from slabwright.formula.book import slug
from slabwright.formula.component import Component
from slabwright.formula.weighed import WeighedLine
from slabwright.kitchen import Kitchen
from slabwright.larder.eggs import PARTS, measure_name
from slabwright.larder.ingredient import Ingredient
from slabwright.slab.distortion import FriendlyError, Want, Weights
from slabwright.spec.friendly_steps import FEW_STEPS, step_g
from slabwright.spec.roles import role_of
from slabwright.spec.specification import Specification

_PIECES: Final = frozenset({"each", "leaf"})
_COUNTED: Final = frozenset({"egg", "setting"})
"""Groups of what is counted in pieces: eggs and their parts, leaves of gelatine."""
_EGGS: Final = "eggs"
MOST_CARE: Final = 1000.0
MOST_COUNTED: Final = 120
"""More pieces than this are weighed: one of them is less than 1 %. Our own limit."""


@dataclass(frozen=True, slots=True)
class Asked:
    """What is asked of friendly amounts."""

    weights: Weights = field(default_factory=Weights)
    care: float = 5.0
    """How much a gram of salt, of what sets and of what raises counts."""
    coarse_care: float = 3.0
    """How much a gram counts of what is weighed in few steps: a gram of 12 g of zest is
    tasted, one of 150 g of flour is not. Our own choice, no source."""
    packs: Mapping[str, float] = field(default_factory=dict)
    """Grams in a pack, by larder id, of what is to use up whole packs."""
    whole: frozenset[str] = frozenset()
    """Larder ids to count though the card gives grams."""
    weighed: frozenset[str] = frozenset()
    """Larder ids to weigh though the card counts them."""
    weighs_eggs: bool = False
    """Whether eggs are beaten and weighed."""
    how_many: int = 3

    def __post_init__(self) -> None:
        wrong = [
            Mistake(f"The care for {name} is {care:g}.", f"Give 0 to {MOST_CARE:g}.")
            for name, care in (
                ("salt, setting and raising agents", self.care),
                ("what is weighed in few steps", self.coarse_care),
            )
            if not 0 <= care <= MOST_CARE  # false for nan too
        ]
        wrong += [
            Mistake(f"A pack of {id} is {grams:g} g.", "Give its grams, above 0.")
            for id, grams in self.packs.items()
            if not 0 < grams < inf
        ]
        if wrong:
            raise FriendlyError(*wrong)


@dataclass(frozen=True, slots=True)
class ToWeigh:
    """A line, what it would weigh exactly, and what will do instead."""

    block: str
    """The layer or component that it stands in."""
    line: WeighedLine
    want: Want
    role: str
    """`salt`, `setting`, `raising`, or empty."""

    @property
    def egg_part(self) -> str:
        """The larder's name for the part of an egg that it is; empty if it is none."""
        return egg_part(self.line.ingredient)


def egg_part(found: Ingredient | None) -> str:
    """`whole-egg`, `egg-white` or `egg-yolk`; empty for everything else."""
    if found is None:
        return ""
    return next((name for name in (found.id, found.like) if name in PARTS), "")


def to_weigh(spec: Specification, asked: Asked) -> tuple[ToWeigh, ...]:
    """Every line that the card itself gives a weight, layers first, bottom up.

    A component that stands on another card is made by that card, and left as it is.
    """
    kitchen = spec.kitchen
    found: list[ToWeigh] = []
    for number, (block, lines) in enumerate(_blocks(spec)):
        found += (
            _to_weigh(block, number, line, lines, kitchen, asked)
            for line in lines
            if line.mass_g
        )
    return tuple(found)


def _blocks(spec: Specification) -> Iterator[tuple[str, tuple[WeighedLine, ...]]]:
    for layer, figures in zip(spec.card.layers, spec.layers, strict=True):
        yield layer.name, _own(layer.component, figures.batch.lines)
    worked = {slug(one.batch.component.name): one.batch for one in spec.components}
    for component in spec.card.components:
        batch = worked.get(slug(component.name))
        yield component.name, _own(component, batch.lines if batch else ())


def _own(component: Component, lines: Sequence[WeighedLine]) -> tuple[WeighedLine, ...]:
    written = component.lines
    return tuple(line for line in lines if line.line in written)


def _to_weigh(
    block: str,
    number: int,
    line: WeighedLine,
    lines: Sequence[WeighedLine],
    kitchen: Kitchen,
    asked: Asked,
) -> ToWeigh:
    grams = line.mass_g or 0.0
    role = role_of(line, lines)
    step = step_g(grams, kitchen, careful=bool(role))
    each = _each_g(line, kitchen, asked)
    id = line.ingredient.id if line.ingredient else ""
    pack_g = asked.packs.get(id) if id else None
    care = asked.care if role else 1.0
    if each is None and step < grams < FEW_STEPS * step:
        care = max(care, asked.coarse_care)
    want = Want(
        grams, number, step, care, each,
        _EGGS if each is not None and egg_part(line.ingredient) else "",
        id if pack_g else "", pack_g,
    )  # fmt: skip
    return ToWeigh(block, line, want, role)


def _each_g(line: WeighedLine, kitchen: Kitchen, asked: Asked) -> float | None:
    """What one piece weighs, where only whole pieces will do [g]."""
    found, said = line.ingredient, line.line
    if found is None or found.id in asked.weighed or said.part:
        return None
    if asked.weighs_eggs and egg_part(found):
        return None
    pieces = pieces_said(line)
    if pieces is not None and found.group in _COUNTED and line.mass_g:
        return round(line.mass_g / pieces, 6) if pieces <= MOST_COUNTED else None
    if found.id not in asked.whole:
        return None
    names = (measure_name(said.size or kitchen.eggs, kitchen.country), "each", "leaf")
    measures = (found.measure(name) for name in names)
    piece = next((one for one in measures if one is not None), None)
    if piece is None or (line.mass_g or 0.0) > MOST_COUNTED * piece.grams:
        return None
    return piece.grams


def pieces_said(line: WeighedLine) -> float | None:
    """How many pieces the card counts; None if it counts none."""
    amounts = line.line.amounts
    if len(amounts) != 1 or amounts[0].unit.name not in _PIECES or amounts[0].size:
        return None
    return amounts[0].value if amounts[0].value > 0 else None
