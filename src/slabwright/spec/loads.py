"""Tins on shelves: how many lie on one, and how many loads a number of them takes."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil, floor
from typing import Final

from slabwright.figure import Figure, withheld
from slabwright.formula.heating import is_oven
from slabwright.formula.step import Step
from slabwright.kitchen import Kitchen, Place
from slabwright.slab.tin import Tin

_SLACK_MM: Final = 1e-6
_HOLDS_TINS: Final = ("oven", "fridge", "freezer", "shelf")


@dataclass(frozen=True, slots=True)
class PlaceLoads:
    """An oven, a fridge, a freezer or a shelf that the slab's tins go to."""

    place: str
    what: str
    tins: int
    tins_a_load: int | None
    """How many lie in it at once; None where the kitchen does not say its shelves."""
    loads: Figure
    """How many times it is filled until every tin has been in it."""


def on_shelf(tin_mm: tuple[float, float], shelf_mm: tuple[float, float]) -> int:
    """How many tins lie flat on a shelf, in rows along or across it.

    Rows one way, and in the strip beside them rows turned by a quarter.

    Args:
        tin_mm: length and width at the rim [mm].
        shelf_mm: length and width of the shelf [mm].

    >>> on_shelf((300, 200), (600, 400)), on_shelf((570, 370), (600, 400))
    (4, 1)
    >>> on_shelf((300, 200), (500, 300)), on_shelf((700, 200), (600, 400))
    (2, 0)
    """
    best = 0
    for a, b in (tin_mm, tin_mm[::-1]):
        for long, wide in (shelf_mm, shelf_mm[::-1]):
            for rows in range(_fits(wide, b) + 1):
                rest = _fits(long, b) * _fits(wide - rows * b, a)
                best = max(best, rows * _fits(long, a) + rest)
    return best


def _fits(room_mm: float, size_mm: float) -> int:
    return max(0, floor((room_mm + _SLACK_MM) / size_mm))


def place_loads(
    tin: Tin | None, steps: Sequence[Step], kitchen: Kitchen
) -> tuple[PlaceLoads, ...]:
    """Every place that the tins go to: each oven if something is baked, what is named.

    Args:
        tin: one of the slab's tins, and how many; None gives nothing.
        steps: everything that is done.
        kitchen: its places.
    """
    if tin is None:
        return ()
    return tuple(loads(tin, place) for place in _used(steps, kitchen))


def _used(steps: Sequence[Step], kitchen: Kitchen) -> Iterator[Place]:
    said = " ".join(step.text.casefold() for step in steps)
    bakes = any(map(is_oven, steps))
    kinds = [place.what for place in kitchen.places]
    for place in kitchen.places:
        if place.what not in _HOLDS_TINS:
            continue
        is_only = place.what in {"fridge", "freezer"} and kinds.count(place.what) == 1
        if (
            (place.what == "oven" and bakes)
            or _names(said, place.name)
            or (is_only and _names(said, place.what))
        ):
            yield place


def _names(said: str, name: str) -> bool:
    """Whether the words hold this name as words of their own."""
    return bool(re.search(rf"(?<!\w){re.escape(name.casefold())}(?!\w)", said))


def loads(tin: Tin, place: Place) -> PlaceLoads:
    """How many times the place is filled until every tin has been in it.

    Args:
        tin: one of the tins, and how many there are.
        place: an oven, a fridge.

    Returns:
        Withheld loads where none fits, or where the place does not say its shelves.
    """

    def known(each: int | None, figure: Figure) -> PlaceLoads:
        return PlaceLoads(place.name, place.what, tin.count, each, figure)

    def unknown(what: str) -> PlaceLoads:
        why = f"the kitchen does not say {what} the {place.name} has"
        return known(None, withheld("loads", why))

    if not place.shelves:
        return unknown("how many shelves")
    if place.shelf_mm is None:
        return unknown("what size of shelf")
    rim = (tin.rim.length_mm, tin.rim.width_mm)
    size = "{:g} × {:g} mm".format(*rim)
    shelf = "{:g} × {:g} mm".format(*place.shelf_mm)
    each = on_shelf(rim, place.shelf_mm) * place.shelves
    if not each:
        why = f"a tin of {size} at the rim does not lie on a shelf of {shelf}"
        return known(0, withheld("loads", why))
    number = ceil(tin.count / each)
    said = (
        f"{each // place.shelves} of {size} on a shelf of {shelf}, {place.shelves} "
        f"shelves: {tin.count} ÷ {each}, rounded up = {number}"
    )
    return known(each, Figure(number, "loads", said))
