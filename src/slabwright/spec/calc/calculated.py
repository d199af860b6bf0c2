"""A calculator by its name, what was typed for it, and its answer."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from difflib import get_close_matches
from math import isfinite
from typing import Final

from slabwright.errors import Mistake, Where
from slabwright.figure import Figure, withheld
from slabwright.kitchen import Kitchen
from slabwright.spec.calc.asked import asked_of
from slabwright.spec.calc.calculator import (
    Answer,
    Around,
    Asked,
    CalcError,
    Calculator,
    Input,
    Shown,
)
from slabwright.spec.calc.calculators import CALCULATORS, calculator_named
from slabwright.spec.calc.typed import shortened

MOST_VALUES: Final = 100
"""Values that are read: five times what the longest calculator takes."""
_PLAIN: Final = (int, float, str)


@dataclass(frozen=True, slots=True)
class Calculated:
    """A calculator, what it was asked, and its answer."""

    calculator: Calculator
    asked: Asked
    answer: Answer


def calculator_at(name: str) -> Calculator:
    """The calculator of this name, hyphens, underscores and spaces alike.

    Raises:
        CalcError: if there is none, with the nearest names.
    """
    found = calculator_named(name)
    if found is not None:
        return found
    plain = "-".join(name.casefold().replace("_", " ").split())
    names = [one.name for one in CALCULATORS]
    near = [one.name for one in CALCULATORS if plain in _words_of(one)]
    near = list(dict.fromkeys((*near, *get_close_matches(plain, names, 3, 0.5))))[:3]
    do = f"Perhaps {' or '.join(near)}?" if near else f"There are {', '.join(names)}."
    what = f"There is no calculator '{shortened(name)}'."
    raise CalcError(Mistake(what, do, nearest=tuple(near)))


def _words_of(calculator: Calculator) -> list[str]:
    """The words of its title and of its sentence, in small letters."""
    said = f"{calculator.title} {calculator.what}".casefold()
    return re.findall(r"\w+", said)


def pairs_of(words: Sequence[str]) -> list[tuple[str, str]]:
    """Keys and values from words of a terminal: `altitude_m=500`.

    Raises:
        CalcError: with every word that is none.
    """
    pairs, mistakes = [], []
    for word in _closed_up(words)[: MOST_VALUES + 1]:
        key, equals, value = (part.strip() for part in word.partition("="))
        if equals and key and value:
            pairs.append((key, value))
            continue
        what = f"'{shortened(word)}' is no key=value."
        if equals and key:
            what = f"{shortened(key)} has no value."
        known = shortened(key) if key[:1].isalpha() else "altitude_m"
        do = f"Write it so: {known}=20."
        if not equals and pairs:
            before = shortened("=".join(pairs[-1]))
            do = f"Write it so: {known}=20; or in quotes, as one: '{before} {known}'."
        mistakes.append(Mistake(what, do, Where(field=shortened(key))))
    if mistakes:
        raise CalcError(*mistakes)
    return pairs


def _closed_up(words: Sequence[str]) -> list[str]:
    """Words of a terminal, blanks before and behind an equals sign taken out."""
    closed: list[str] = []
    for word in words[: 3 * MOST_VALUES + 3]:
        behind = closed[-1] if closed else ""
        opens = word.startswith("=") and behind and "=" not in behind
        follows = behind.endswith("=") and behind != "=" and "=" not in word
        if opens or follows:
            closed[-1] = f"{behind}{word}"
        else:
            closed.append(word)
    return closed


def calculated(
    calculator: Calculator, given: Sequence[tuple[str, str]], around: Around
) -> Calculated:
    """The answer of a calculator, in a kitchen.

    Args:
        calculator: which one.
        given: keys and their texts, as typed.
        around: the kitchen whose altitude, tins and ingredients count.

    Raises:
        CalcError: with everything that is wrong.
    """
    if len(given) > MOST_VALUES:
        what = f"More than {MOST_VALUES} values are given."
        raise CalcError(Mistake(what, "Give those that count."))
    asked = asked_of(calculator, given, around)
    answer = calculator.answer(asked)
    sound = Answer(
        _sound(answer.first),
        tuple(_sound(one) for one in answer.also),
        (*answer.notes, *asked.taken),
    )
    return Calculated(calculator, asked, sound)


def _sound(shown: Shown) -> Shown:
    """The same; withheld where no number came of a sum."""
    figure = shown.figure
    if figure.value is not None and not isfinite(figure.value):
        why = f"no number comes of it: {figure.sum}"
        return replace(shown, figure=withheld(figure.unit, why))
    ends = (figure.low, figure.high)
    if any(end is not None and not isfinite(end) for end in ends):
        kept: Figure = replace(figure, low=None, high=None)
        return replace(shown, figure=kept)
    return shown


def default_of(one: Input, kitchen: Kitchen) -> float | str | None:
    """What an input is taken for if it is left out, in this kitchen."""
    if not one.of_kitchen:
        return one.default
    found = getattr(kitchen, one.of_kitchen)
    return found if isinstance(found, _PLAIN) else None


def asked_values(asked: Asked) -> Mapping[str, float | str]:
    """Everything that a calculator was asked, defaults too, by name."""
    tins = {name: tin.describe() for name, tin in asked.tins.items()}
    ingredients = {name: one.name for name, one in asked.ingredients.items()}
    return {**asked.named, **asked.numbers, **asked.words, **ingredients, **tins}
