"""Which steps heat, boil or bake: what the bench sheet asks of a maker's words."""

import re
from functools import lru_cache
from typing import Final

from slabwright.formula.step import Band, Step
from slabwright.physics.water import boiling_point

_BOIL: Final = {"boil", "simmer", "cook", "reduce", "caramelise", "caramelize", "bring"}
_HEAT: Final = _BOIL | {"heat", "melt", "warm", "scald", "toast", "fry"}
_OVEN: Final = {"bake", "roast"}
_AWAY: Final = {"pour", "press", "spread", "chill", "cool", "set", "freeze", "leave"}
"""After these the mix is no longer in a vessel that stands on the scale."""
_WARM_C: Final = 40.0
"""A mix that is brought over this stands on a ring, not on the scale."""
RISE_K: Final = 0.3
"""A mix that ends so little above boiling water has only come to the boil."""
_LASTS: Final = frozenset({"boil", "simmer", "cook", "reduce", "caramelise"})
"""After these, `at 118 C` is where the boil ends."""
_WARMS: Final = _HEAT | _OVEN | {"stir", "whisk", "cool", "temper"}
"""After these, a bare number of this size was meant for a temperature."""
_BARE: Final = re.compile(
    r"\b(?:to|at)\s+(\d{2,3}(?:\s?[-–]\s?\d{2,3})?)\s*(?=,|$|\s{2}|then\b)"
)
_WORD: Final = re.compile(r"[a-z]+")


def first_word(step: Step) -> str:
    """First word of what is done, small letters."""
    return _first_of(step.does)


@lru_cache(maxsize=4096)
def _first_of(does: str) -> str:
    """Asked of every step many times over."""
    found = _WORD.search(does.casefold())
    return found.group() if found else ""


def is_oven(step: Step) -> bool:
    """Whether its temperature is an oven's, and not the mix's.

    What is given beside it as the end (`until core 82-84 C`) is the mix's all the same.
    """
    if first_word(step) in _OVEN or step.fan or step.fan_C is not None:
        return True
    return any("oven" in place.casefold() for place in step.places)


def is_boil(step: Step) -> bool:
    """Whether water goes off a pan."""
    top = hottest(step)
    over = top is not None and top >= 100 and not is_oven(step)
    return first_word(step) in _BOIL or over


def is_hot(step: Step) -> bool:
    """Whether the mix is on a ring or in an oven, and no longer on the scale."""
    if is_oven(step) or first_word(step) in _HEAT:
        return True
    top = hottest(step)
    return top is not None and top >= _WARM_C


def takes_away(step: Step) -> bool:
    """Whether what follows no longer goes into a vessel on the scale."""
    return is_hot(step) or first_word(step) in _AWAY


def hottest(step: Step) -> float | None:
    """The highest temperature that the mix is brought to by this step [°C]."""
    bands: list[Band | None] = [step.to_C]
    if not is_oven(step):
        bands.append(step.at_C)
    return max((band.high for band in bands if band is not None), default=None)


def says(step: Step, *words: str) -> bool:
    """Whether the maker's words have one of these in them."""
    return bool(set(words) & set(_WORD.findall(step.text.casefold())))


def ends_boil_at(step: Step, pressure_kPa: float) -> Band | None:
    """The temperature of the mix that ends a boil; None if it is no such boil.

    What only comes to the boil, or not so far, drives off what nobody can tell.
    """
    if is_oven(step) or not is_boil(step):
        return None
    to_C = step.to_C
    if to_C is None and first_word(step) in _LASTS:
        to_C = step.at_C
    plain_C = float(boiling_point(pressure_kPa))
    return to_C if to_C is not None and to_C.middle > plain_C + RISE_K else None


def without_unit(step: Step) -> str:
    """A number that looks like a temperature and has no unit; empty if none has.

    `boil to 118` is read as no temperature: nothing follows from it.
    """
    if step.to_C is not None or step.at_C is not None or first_word(step) not in _WARMS:
        return ""
    found = _BARE.search(step.text)
    return found.group(1) if found else ""
