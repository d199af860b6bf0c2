"""Where a slab lies and how warm it is there, from the card's keep lines."""

import re
from collections.abc import Sequence
from typing import Final

from slabwright.formula.step import Band
from slabwright.kitchen import Kitchen, Place
from slabwright.spec.card import Card, Keep
from slabwright.spec.nature.subject import Keeping

ROOM_C: Final = Band(18.0, 22.0)
"""A room, where nobody says how warm it is. Common practice, no source."""
_USUAL_C: Final = {"chilled": Band(2.0, 5.0), "frozen": Band(-20.0, -18.0)}
"""Where neither card nor kitchen says it. Common practice, no source."""
_WHAT: Final = {"chilled": "fridge", "frozen": "freezer"}
_BAND: Final = re.compile(
    r"(?P<up>up to|under|below|at most)?\s*(?P<low>[-−]?\d+(?:[.,]\d+)?)"
    r"(?:\s*(?:-|–|to)\s*(?P<high>[-−]?\d+(?:[.,]\d+)?))?\s*°?\s*C\b",
    re.IGNORECASE,
)
_COOL_K: Final = 4.0
"""`Up to 20 °C` is taken as so far down from there. Our own."""


def keepings(card: Card, kitchen: Kitchen) -> tuple[Keeping, ...]:
    """Every place where the card keeps the slab; a room if it names none."""
    found = tuple(_keeping(keep, kitchen) for keep in card.keeps)
    return found or (Keeping("room", ROOM_C, is_assumed=True),)


def _keeping(keep: Keep, kitchen: Kitchen) -> Keeping:
    said = _BAND.search(keep.text)
    if said:
        low = _number(said["low"])
        high = _number(said["high"]) if said["high"] else low
        if said["up"]:
            low = high - _COOL_K
        return Keeping(keep.text, Band(min(low, high), max(low, high)), keep.days)
    place = _place(keep, kitchen.places)
    if place is not None and place.temperature_C is not None:
        warm = place.temperature_C
        return Keeping(keep.text, Band(warm, warm), keep.days)
    usual = _USUAL_C.get(keep.place, ROOM_C)
    return Keeping(keep.text, usual, keep.days, is_assumed=True)


def _place(keep: Keep, places: Sequence[Place]) -> Place | None:
    """The kitchen's place that the words name, else its first of that kind."""
    plain = keep.text.casefold()
    named = [place for place in places if place.name.casefold() in plain]
    kind = _WHAT.get(keep.place)
    kinds = [place for place in places if place.what == kind]
    return next(iter((*named, *kinds)), None)


def _number(text: str) -> float:
    return float(text.replace(",", ".").replace("−", "-"))
