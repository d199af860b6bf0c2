"""From `key=value` texts to what a calculator was asked; every mistake told at once."""

import re
import shlex
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from difflib import get_close_matches
from math import inf
from typing import Final

import numpy as np

from slabwright.composition import INDEX
from slabwright.errors import GeometryError, Mistake, Where
from slabwright.larder.ingredient import Ingredient
from slabwright.larder.lookup import Match
from slabwright.physics.species import AT, SPECIES, Parts, parts_of
from slabwright.slab.tin import Tin
from slabwright.spec.calc.calculator import (
    Around,
    Asked,
    CalcError,
    Calculator,
    Input,
)
from slabwright.spec.calc.typed import number_typed, shortened

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
_MUCH: Final = 0.005
"""Share of an ingredient of the kitchen's own that may go untold without a word."""
_LEAST_PART, _MOST_PART = 1e-6, 1e6
"""Parts by mass between which ratios stay exact."""


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
        reader.named, tuple(reader.taken), around.kitchen,
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
    taken: list[str] = field(default_factory=list)

    def take(self, key: str, text: str) -> None:
        one = self.calculator.input(key)
        if key in self.seen:
            self._wrong(f"{key} is given twice.", "Give it once.", key)
            return
        if one is not None:
            if text:
                self.seen.add(key)
                self._input(one, text)
            return
        species = self._species(key) if self.calculator.takes_parts else None
        if species is None:
            self._unknown(key)
            return
        self.seen.add(key)
        mass = self._number(key, text, "g")
        if mass is not None and mass and not _LEAST_PART <= mass <= _MOST_PART:
            between = f"Give 0, or a part from {_LEAST_PART:f} to {_MOST_PART:,.0f}."
            self._wrong(f"{key} is {mass:g}.", between, key)
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
                example = self._examples.get(one.name) or _example(one)
                self._wrong(what, f"Give it so: {one.name}={example}.", one.name)
        needs = self.calculator.takes_parts and not self.calculator.parts_are_optional
        if needs and not self.mistakes and not self.row.sum() > 0:
            what = f"{self.calculator.name} needs a make-up in parts by mass."
            self._wrong(what, "Give it so: sucrose=80 water=20.", "")

    @property
    def _examples(self) -> dict[str, str]:
        """Values as the calculator's own example gives them."""
        said = (word.partition("=") for word in shlex.split(self.calculator.example))
        return {key: shlex.quote(value) for key, _, value in said if value}

    def _species(self, key: str) -> Parts | None:
        """One gram of what a key names, by species; None if nobody knows it."""
        plain = re.sub(r"[\s-]+", "_", key.casefold())
        plain = _ALSO.get(plain, plain)
        if plain in AT:
            row = np.zeros(len(SPECIES))
            row[AT[plain]] = 1.0
            return row
        found = self._find(key)
        if found is None or found.how == "spelling":
            return None  # `glucse` is glucose here, and not a syrup of the larder
        composition = found.ingredient.composition
        if composition is not None:
            self._took(key, found)
            return parts_of(composition)
        return None

    def _find(self, name: str) -> Match | None:
        plain = re.sub(r"[_-]+", " ", name)
        country = self.around.kitchen.country
        found = (self.around.larder.find(text, country) for text in (name, plain))
        return next((one for one in found if one is not None), None)

    def _took(self, name: str, found: Match) -> None:
        if found.taken:
            self.taken.append(f"{name}: {found.taken}.")
        made = found.ingredient.composition
        rest = 0.0 if made is None else float(made[INDEX["rest"]])
        if found.ingredient.own and rest > _MUCH:
            what = f"{100 * rest:.3g} % of it is not told; that counts as not dissolved"
            self.taken.append(f"{name}: {what}.")

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
            self._wrong(f"{one.name} is '{shortened(text)}'.", do, one.name, near)

    def _ingredient(self, one: Input, text: str) -> None:
        found = self._find(text)
        if found is not None and found.ingredient.composition is not None:
            self.ingredients[one.name] = found.ingredient
            self._took(text, found)
            return
        near = self.around.larder.nearest(text[:200], self.around.kitchen.country)
        what = f"{one.name} is '{shortened(text)}', which the larder does not know."
        if found is not None:
            what = f"Nobody here knows what '{shortened(text)}' is made of."
        do = f"Perhaps {' or '.join(near)}?" if near else "Add it to the larder."
        self._wrong(what, do, one.name, near)

    def _tin(self, one: Input, text: str) -> None:
        tin = self.around.kitchen.tin(text)
        try:
            tin = tin or self.around.read_tin(text)
        except GeometryError as error:
            here = Where(field=one.name)
            self.mistakes.extend(replace(each, where=here) for each in error.mistakes)
            return
        if tin is not None:
            self.tins[one.name] = tin
            return
        do = "Write it so: 30 x 20 cm, or 23 cm round."
        self._wrong(
            f"{one.name} is '{shortened(text)}', which is no tin.", do, one.name
        )

    def _number(self, key: str, text: str, unit: str) -> float | None:
        value = number_typed(text, unit)
        if value is None:
            what = f"{key} is '{shortened(text)}', which is no number"
            in_unit = f" of {unit}" if unit else ""
            self._wrong(f"{what}{in_unit}.", f"Write it so: {key}=20.", key)
        return value

    def _unknown(self, key: str) -> None:
        names = [one.name for one in self.calculator.inputs]
        shown = shortened(key)
        what = f"{self.calculator.name} knows no '{shown}'."
        do = f"It takes {', '.join(names)}." if names else ""
        near = get_close_matches(key, names, 3)
        if self.calculator.takes_parts:
            if self._find(key) is not None:
                what = f"Nobody here knows for sure what '{shown}' is made of."
            near += get_close_matches(key, SPECIES, 3)
            country = self.around.kitchen.country
            near = near or [*self.around.larder.nearest(key[:200], country)]
            part = "A part is a sugar, water, or what the larder knows."
            do = part if near else f"{do} {part}".strip()
        if near:
            do = f"Perhaps {' or '.join(near[:3])}? {do}"
        self._wrong(what, do or "It takes nothing.", key, tuple(near[:3]))

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
