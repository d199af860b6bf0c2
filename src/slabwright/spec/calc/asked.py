"""From `key=value` texts to what a calculator was asked; every mistake told at once."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from difflib import get_close_matches
from math import inf, isfinite
from typing import Final

import numpy as np

from slabwright.errors import GeometryError, Mistake, Where
from slabwright.larder.ingredient import Ingredient
from slabwright.physics.species import AT, SPECIES, Parts, parts_of
from slabwright.slab.tin import Tin
from slabwright.spec.calc.calculator import (
    Around,
    Asked,
    CalcError,
    Calculator,
    Input,
)

_ALSO: Final = {
    "dextrose": "glucose",
    "saccharose": "sucrose",
    "sugar": "sucrose",
    "levulose": "fructose",
    "glycerine": "glycerol",
    "ethanol": "alcohol",
    "sodium_chloride": "salt",
}
"""Other words for a species."""
_VALUE: Final = re.compile(r"([-−+]?\d*[.,]?\d+(?:[eE][-+]?\d+)?)\s*(\S*)")


def asked_of(
    calculator: Calculator, given: Sequence[tuple[str, str]], around: Around
) -> Asked:
    """What was typed, checked, and completed with what is usual.

    Args:
        calculator: which one is asked.
        given: keys and their texts, as typed.
        around: the kitchen, the larder, and who reads a tin.

    Raises:
        CalcError: with everything that is wrong.
    """
    reader = _Reader(calculator, around)
    for key, text in given:
        reader.take(key.strip(), text.strip())
    reader.complete()
    if reader.mistakes:
        raise CalcError(*reader.mistakes)
    parts = reader.row if calculator.takes_parts else None
    return Asked(
        reader.numbers, reader.words, reader.ingredients, reader.tins, parts,
        reader.named, around.kitchen,
    )  # fmt: skip


@dataclass
class _Reader:
    """Reads inputs one by one and keeps every mistake."""

    calculator: Calculator
    around: Around
    numbers: dict[str, float] = field(default_factory=dict)
    words: dict[str, str] = field(default_factory=dict)
    ingredients: dict[str, Ingredient] = field(default_factory=dict)
    tins: dict[str, Tin] = field(default_factory=dict)
    seen: set[str] = field(default_factory=set)
    named: dict[str, float] = field(default_factory=dict)
    row: Parts = field(default_factory=lambda: np.zeros(len(SPECIES)))
    mistakes: list[Mistake] = field(default_factory=list)

    def take(self, key: str, text: str) -> None:
        one = self.calculator.input(key)
        if one is not None:
            if key in self.seen:
                self._wrong(f"{key} is given twice.", "Give it once.", key)
            elif text:
                self.seen.add(key)
                self._input(one, text)
            return
        species = self._species(key) if self.calculator.takes_parts else None
        if species is None:
            self._unknown(key)
            return
        mass = self._number(key, text, "g")
        if mass is not None and mass < 0:
            self._wrong(f"{key} is {mass:g}.", "Give a part of 0 or more.", key)
        elif mass is not None:
            self.row += mass * species
            self.named[key] = self.named.get(key, 0.0) + mass

    def complete(self) -> None:
        """Fill in what was left out; say what must not be."""
        for one in self.calculator.inputs:
            if one.name in self.seen:
                continue
            default = one.default
            if one.of_kitchen:
                default = getattr(self.around.kitchen, one.of_kitchen)
            if default is not None:
                self._input(one, f"{default}")
            elif not one.is_optional:
                what = f"{one.name} is missing: {one.what}."
                self._wrong(what, f"Give it so: {one.name}={_example(one)}.", one.name)
        needs = self.calculator.takes_parts and not self.calculator.parts_are_optional
        if needs and not self.mistakes and not self.row.sum() > 0:
            what = f"{self.calculator.name} needs a make-up in parts by mass."
            self._wrong(what, "Give it so: sucrose=80 water=20.", "")

    def _species(self, key: str) -> Parts | None:
        """One gram of what a key names, by species; None if nobody knows it."""
        plain = re.sub(r"[\s-]+", "_", key.casefold())
        plain = _ALSO.get(plain, plain)
        if plain in AT:
            row = np.zeros(len(SPECIES))
            row[AT[plain]] = 1.0
            return row
        found = self._find(key)
        composition = found.composition if found else None
        return None if composition is None else parts_of(composition)

    def _find(self, name: str) -> Ingredient | None:
        plain = re.sub(r"[_-]+", " ", name)
        country = self.around.kitchen.country
        for text in (name, plain):
            found = self.around.larder.find(text, country)
            if found is not None:
                return found.ingredient
        return None

    def _input(self, one: Input, text: str) -> None:
        if one.kind == "word":
            self._word(one, text)
        elif one.kind == "ingredient":
            self._ingredient(one, text)
        elif one.kind == "tin":
            self._tin(one, text)
        else:
            value = self._number(one.name, text, one.unit)
            low = -inf if one.low is None else one.low
            high = inf if one.high is None else one.high
            if value is not None and low <= value <= high:
                self.numbers[one.name] = value
            elif value is not None:
                what = f"{one.name} is {value:g}."
                self._wrong(what, f"Give {_between(one)}.", one.name)

    def _word(self, one: Input, text: str) -> None:
        plain = re.sub(r"[\s-]+", "_", text.casefold())
        alike = {choice.replace("-", "_"): choice for choice in one.choices}
        if not one.choices:
            self.words[one.name] = text
        elif plain in alike:
            self.words[one.name] = alike[plain]
        else:
            near = tuple(get_close_matches(plain, one.choices, 3))
            do = f"Give one of {', '.join(one.choices)}."
            self._wrong(f"{one.name} is '{text}'.", do, one.name, near)

    def _ingredient(self, one: Input, text: str) -> None:
        found = self._find(text)
        if found is not None and found.composition is not None:
            self.ingredients[one.name] = found
            return
        near = self.around.larder.nearest(text, self.around.kitchen.country)
        what = f"{one.name} is '{text}', which the larder does not know."
        if found is not None:
            what = f"Nobody here knows what '{text}' is made of."
        do = f"Perhaps {' or '.join(near)}?" if near else "Add it to the larder."
        self._wrong(what, do, one.name, near)

    def _tin(self, one: Input, text: str) -> None:
        tin = self.around.kitchen.tin(text)
        try:
            tin = tin or self.around.read_tin(text)
        except GeometryError as error:
            self.mistakes.extend(error.mistakes)
            return
        if tin is not None:
            self.tins[one.name] = tin
            return
        do = "Write it so: 30 x 20 cm, or 23 cm round."
        self._wrong(f"{one.name} is '{text}', which is no tin.", do, one.name)

    def _number(self, key: str, text: str, unit: str) -> float | None:
        found = _VALUE.fullmatch(text)
        if found and found[2].strip("°") in {"", unit.strip("°")}:
            value = float(found[1].replace(",", ".").replace("−", "-"))
            if isfinite(value):
                return value
        do = f"Write it so: {key}=20."
        self._wrong(f"{key} is '{text}', which is no number.", do, key)
        return None

    def _unknown(self, key: str) -> None:
        names = [one.name for one in self.calculator.inputs]
        near = get_close_matches(key, names, 3)
        do = f"It takes {', '.join(names)}." if names else ""
        if self.calculator.takes_parts:
            near += get_close_matches(key, SPECIES, 3)
            do = f"{do} A part is a sugar, water, or what the larder knows.".strip()
        what = f"{self.calculator.name} knows no '{key}'."
        self._wrong(what, do or "It takes nothing.", key, tuple(near))

    def _wrong(self, what: str, do: str, name: str, near: tuple[str, ...] = ()) -> None:
        self.mistakes.append(Mistake(what, do, Where(field=name), near))


def _between(one: Input) -> str:
    unit = f" {one.unit}" if one.unit else ""
    if one.low is None:
        return f"at most {one.high:g}{unit}"
    if one.high is None:
        return f"{one.low:g}{unit} or more"
    return f"from {one.low:g} to {one.high:g}{unit}"


def _example(one: Input) -> str:
    if one.choices:
        return one.choices[0]
    if one.kind == "tin":
        return "'30 x 20 cm'"
    if one.kind == "ingredient":
        return "'dark chocolate 60%'"
    middle = one.low if one.low is not None and one.low > 0 else 20.0
    return f"{middle:g}"
