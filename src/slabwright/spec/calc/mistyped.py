"""What is said of a key or a value that can't be taken, with what to type instead."""

from collections.abc import Sequence
from difflib import get_close_matches
from math import inf
from typing import Final

from slabwright.errors import Mistake, Where
from slabwright.physics.species import SPECIES
from slabwright.spec.calc.calculator import Around, Calculator, Input
from slabwright.spec.calc.keys import (
    is_like,
    is_setting,
    near_inputs,
    plain,
    takes,
)
from slabwright.spec.calc.larder import found_in
from slabwright.spec.calc.typed import shortened
from slabwright.spec.calc.units import comes_to, unit_of

_SAMPLES: Final = (20.0, 200.0, 2.0, 0.2)
"""Plain numbers to show how an input is typed."""
_MOST_KEY: Final = 200


def mistake(what: str, do: str, key: str, near: Sequence[str] = ()) -> Mistake:
    """A mistake about one key."""
    return Mistake(what, do, Where(field=key), tuple(near))


def no_number(calculator: Calculator, key: str, text: str, unit: str) -> Mistake:
    """A value that is no number of the unit that is asked."""
    what = f"{key} is '{shortened(text)}', which is no number"
    in_unit = f" of {unit}" if unit else ""
    one = calculator.input(key)
    sample = "20" if one is None else example_of(one)
    do = f"Write it so: {key}={sample}."
    there = comes_to(text, "", unit_of(key, unit))
    if there is not None:
        do = f"{there[0]} is {there[1]:.10g}{in_unit[3:]}: give {key}={there[1]:.10g}."
    return mistake(f"{what}{in_unit}.", do, key)


def swapped(key: str, text: str, typed: str, name: str, unit: str) -> Mistake:
    """A key without its unit, or with another: which is asked, and what that makes.

    Args:
        key: as typed.
        text: its value.
        typed: the unit in the key; empty without one.
        name: the key that is asked for.
        unit: its unit.
    """
    asked = "a share of 1" if unit == "share" else unit
    what = f"{key} is not in {asked}." if typed else f"{key} has no unit."
    there = comes_to(text, typed, unit)
    do = f"Give {name}, in {asked}."
    if there is not None:
        in_unit = "" if unit == "share" else f" {unit}"
        do = f"{there[0]} is {there[1]:.10g}{in_unit}: give {name}={there[1]:.10g}."
    return mistake(what, do, key, (name,))


def either(key: str, found: Sequence[Input]) -> Mistake:
    """A key that may mean several inputs."""
    told = " or ".join(f"{one.name} ({one.what})" for one in found)
    names = tuple(one.name for one in found)
    return mistake(f"{key} may be {told}.", f"Give {' or '.join(names)}.", key, names)


def given_again(key: str, name: str) -> Mistake:
    """A key that was given before, perhaps by another name."""
    also = "" if plain(key) == plain(name) else f", as {name} too"
    return mistake(f"{shortened(key)} is given twice{also}.", "Give it once.", key)


def not_between(one: Input, value: float) -> Mistake:
    """A number that makes no sense there."""
    unit = f" {one.unit}" if one.unit else ""
    between = f"from {one.low:g} to {one.high:g}{unit}"
    if one.low is None:
        between = f"at most {one.high:g}{unit}"
    elif one.high is None:
        between = f"{one.low:g}{unit} or more"
    return mistake(f"{one.name} is {value:g}.", f"Give {between}.", one.name)


def no_choice(one: Input, text: str) -> Mistake:
    """A word that is none of those to choose from; `soda` finds `baking-soda`."""
    called = plain(text)
    plainly = {plain(choice): choice for choice in one.choices}
    near = [choice for choice in one.choices if called in choice.split("-")]
    near += [plainly[word] for word in get_close_matches(called, plainly, 3)]
    near = list(dict.fromkeys(near))[:3]
    do = f"Give one of {', '.join(one.choices)}."
    if near:
        do = f"Perhaps {' or '.join(near)}? {do}"
    return mistake(f"{one.name} is '{shortened(text)}'.", do, one.name, near)


def unknown(calculator: Calculator, around: Around, key: str) -> Mistake:
    """A key that nobody knows: what was perhaps meant, and all that may be given."""
    shown = shortened(key)
    what = f"{calculator.name} knows no '{shown}'."
    near = near_inputs(calculator, key[:_MOST_KEY])
    if calculator.takes_parts and found_in(around, key) is not None:
        what = f"Nobody here knows for sure what '{shown}' is made of."
    if calculator.takes_parts and not is_setting(key):
        near += get_close_matches(plain(key), SPECIES, 3)
        near = near or _foods(around, key[:_MOST_KEY])
    do = takes(calculator)
    if near:
        do = f"Perhaps {' or '.join(near[:3])}? {do}"
    return mistake(what, do, key, near[:3])


def missing(one: Input, sample: str) -> Mistake:
    """An input that must be given."""
    what = f"{one.name} is missing: {one.what}."
    return mistake(what, f"Give it so: {one.name}={sample}.", one.name)


def example_of(one: Input) -> str:
    """A value that it takes."""
    if one.choices:
        return one.choices[0]
    if one.kind == "tin":
        return "'30 x 20 cm'"
    if one.kind == "ingredient":
        return "'dark chocolate 60%'"
    low = -inf if one.low is None else one.low
    high = inf if one.high is None else one.high
    return f"{next((at for at in _SAMPLES if low <= at <= high), low):g}"


def _foods(around: Around, key: str) -> list[str]:
    """What the larder knows that looks like a key."""
    near = around.larder.nearest(key, around.kitchen.country)
    return [name for name in near if is_like(key, name)]
