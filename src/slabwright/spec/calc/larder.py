"""What the larder makes of a name that was typed for a calculator."""

import re
from typing import Final

from slabwright.composition import INDEX
from slabwright.larder.lookup import Match
from slabwright.spec.calc.calculator import Around

_MUCH: Final = 0.005
"""Share of an ingredient of the kitchen's own that may go untold without a word."""


def found_in(around: Around, name: str) -> Match | None:
    """What a name means in this kitchen's larder, hyphens or underscores in it or not.

    A larder's own id, as its JSON has it, means its row.

    Args:
        around: the kitchen and its larder.
        name: as typed.
    """
    spaced = re.sub(r"[_-]+", " ", name)
    country = around.kitchen.country
    row = around.larder.by_id(name)
    names = (name, spaced) if row is None else (name, spaced, row.name)
    found = (around.larder.find(text, country) for text in names)
    return next((one for one in found if one is not None), None)


def taken_for(name: str, found: Match) -> list[str]:
    """What should be told of that: what it was taken for, how much of it is unknown."""
    told = [f"{name}: {found.taken}."] if found.taken else []
    made = found.ingredient.composition
    rest = 0.0 if made is None else float(made[INDEX["rest"]])
    if found.ingredient.own and rest > _MUCH:
        what = f"{100 * rest:.3g} % of it is not told; that counts as not dissolved"
        told.append(f"{name}: {what}.")
    return told
