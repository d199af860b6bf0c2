"""Shares of a formula: of its total, and the baker's percentage on a base."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from slabwright.formula.weighed import WeighedLine

_BASES: Final = (
    ("flour", re.compile(r"flour|semolina|\boats|oatmeal|cornmeal|polenta|\bbran")),
    ("chocolate", re.compile(r"chocolate|couverture")),
    ("sugar", re.compile(r"sugar")),
)  # fmt: skip
"""What counts as 100 %, the first that is there. Common practice, no source."""
_LEAST_SHARE: Final = 0.1
"""Less than this of the whole thickens or sweetens, and is no base: our choice."""


@dataclass(frozen=True, slots=True)
class Base:
    """What counts as 100 %."""

    words: str
    mass_g: float
    ids: tuple[str, ...] = ()


def usual_base(lines: Sequence[WeighedLine]) -> Base | None:
    """Flour if there is enough, else chocolate, else sugar, else all; None if empty."""
    whole = sum(line.mass_g or 0.0 for line in lines)
    for words, pattern in _BASES:
        found = [
            line
            for line in lines
            if line.ingredient and pattern.search(line.ingredient.id) and line.mass_g
        ]
        mass_g = sum(line.mass_g or 0.0 for line in found)
        if found and mass_g >= _LEAST_SHARE * whole:
            ids = tuple(line.ingredient.id for line in found if line.ingredient)
            return Base(words, mass_g, ids)
    return Base("the whole", whole) if whole > 0 else None


def base_on(name: str, lines: Sequence[WeighedLine]) -> Base | None:
    """Any line of the formula as 100 %; None if no weighed line has this name."""
    plain = name.casefold()
    found = [
        line
        for line in lines
        if line.mass_g
        and (
            plain in line.line.name.casefold()
            or (line.ingredient is not None and line.ingredient.id == plain)
        )
    ]
    return Base(name, sum(line.mass_g or 0.0 for line in found)) if found else None
