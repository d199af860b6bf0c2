"""Tins on shelves: how many lie on one, and how many loads a number of them takes."""

from math import ceil, floor
from typing import Final

from slabwright.kitchen import Place
from slabwright.slab.tin import Tin

_SLACK_MM: Final = 1e-6


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


def loads(tin: Tin, place: Place) -> int | None:
    """How many times the place is filled until every tin has been in it.

    Args:
        tin: one of the tins, and how many there are.
        place: an oven, a fridge.

    Returns:
        0 where none fits; None where the place does not say its shelves.
    """
    if place.shelf_mm is None or not place.shelves:
        return None
    each = on_shelf((tin.rim.length_mm, tin.rim.width_mm), place.shelf_mm)
    return ceil(tin.count / (each * place.shelves)) if each else 0
