"""What a typed key means: an input by one of its names, or nothing that is known."""

import re
from difflib import SequenceMatcher, get_close_matches
from typing import Final

from slabwright.spec.calc.calculator import Calculator, Input
from slabwright.spec.calc.units import is_other_unit, split_unit, stem_of, unit_of

_LIKE: Final = 0.75
"""From here on two words are likely meant for each other."""
_SETTINGS: Final = frozenset(
    "temperature temp t altitude elevation alt height pressure barometer brix humidity "
    "rh mass weight grams probe boil boils time minutes ph aw power volume density tin "
    "size count number bloom rule storage room product surface air tare".split()
)
"""Words of settings rather than of food."""


def plain(key: str) -> str:
    """A key as it is compared: small letters, underscores for blanks and hyphens."""
    return re.sub(r"[\s_-]+", "_", key.strip().casefold()).replace("°", "")


def meant(calculator: Calculator, key: str) -> tuple[Input, ...]:
    """The inputs that a key may mean, by name or by another name with the same unit.

    More than one where it fits several: nobody may choose between them.
    """
    called = plain(key)
    for one in calculator.inputs:
        if plain(one.name) == called:
            return (one,)
    return tuple(
        one for one in calculator.inputs if called in {plain(name) for name in one.also}
    )


def without_unit(calculator: Calculator, key: str) -> tuple[Input, ...]:
    """The inputs that a key names but for the unit that is missing: `altitude`."""
    called = plain(key)
    return tuple(
        one for one in calculator.inputs
        if one.unit and called in _stems(one) and called != plain(one.name)
    )  # fmt: skip


def other_unit(calculator: Calculator, key: str) -> tuple[tuple[Input, ...], str]:
    """The inputs that a key names in another unit, and that unit: `altitude_ft`."""
    stem, unit = split_unit(plain(key))
    if not unit:
        return (), ""
    found = tuple(
        one for one in calculator.inputs
        if stem in _stems(one) and is_other_unit(unit, unit_of(one.name, one.unit))
    )  # fmt: skip
    return found, unit


def _stems(one: Input) -> set[str]:
    return {stem_of(name, one.unit) for name in (one.name, *one.also)}


def is_setting(key: str) -> bool:
    """Whether a key looks like a setting, by its unit or its words, and not a food."""
    stem, unit = split_unit(plain(key))
    return bool(unit) or not _SETTINGS.isdisjoint(stem.split("_"))


def near_inputs(calculator: Calculator, key: str) -> list[str]:
    """Names of inputs that were perhaps meant, nearest first, three at most."""
    called = plain(key)
    stem = split_unit(called)[0]
    names = {plain(one.name): one.name for one in calculator.inputs}
    others = {plain(n): one.name for one in calculator.inputs for n in one.also}
    close = get_close_matches(called, [*names, *others], 3, 0.7)
    words = set(stem.split("_"))
    close += [
        name for name in names if words & set(split_unit(name)[0].split("_")) - {"of"}
    ]
    close += get_close_matches(called, names, 3)
    every = {**others, **names}
    return list(dict.fromkeys(every[one] for one in close))[:3]


def is_like(key: str, name: str) -> bool:
    """Whether a name looks like a key, as a whole or in a word of it."""
    one, other = plain(key).replace("_", " "), plain(name).replace("_", " ")
    pairs = [(one, other), *((a, b) for a in one.split() for b in other.split())]
    return any(SequenceMatcher(None, a, b).ratio() >= _LIKE for a, b in pairs)


def takes(calculator: Calculator) -> str:
    """What a calculator takes, in one sentence."""
    names = ", ".join(one.name for one in calculator.inputs)
    if not calculator.takes_parts:
        return f"It takes {names}."
    parts = "parts by mass: sucrose=80 water=20"
    return f"It takes {names}, and {parts}." if names else f"It takes {parts}."
