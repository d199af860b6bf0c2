"""From `key=value` texts to what a calculator was asked; every mistake told at once."""

import shlex
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from math import inf

from slabwright.errors import GeometryError, Mistake, Where
from slabwright.larder.ingredient import Ingredient
from slabwright.larder.lookup import Match
from slabwright.slab.tin import Tin
from slabwright.spec.calc.calculator import (
    Around,
    Asked,
    CalcError,
    Calculator,
    Input,
)
from slabwright.spec.calc.keys import is_like, meant, other_unit, plain, without_unit
from slabwright.spec.calc.larder import found_in, taken_for
from slabwright.spec.calc.mistyped import (
    either,
    example_of,
    given_again,
    missing,
    mistake,
    no_choice,
    no_number,
    not_between,
    swapped,
    unknown,
)
from slabwright.spec.calc.mixture import Mixture
from slabwright.spec.calc.typed import number_typed, shortened
from slabwright.spec.calc.units import split_unit, unit_of


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
    mixture = reader.mixture
    return Asked(
        reader.numbers, reader.words, reader.ingredients, reader.tins,
        mixture.row if calculator.takes_parts else None, mixture.named,
        tuple(reader.taken), reader.said,
        frozenset(reader.seen), frozenset(reader.with_unit), around.kitchen,
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
    mistakes: list[Mistake] = field(default_factory=list)
    taken: list[str] = field(default_factory=list)
    said: dict[str, str] = field(default_factory=dict)
    with_unit: set[str] = field(default_factory=set)
    mixture: Mixture = field(init=False)

    def __post_init__(self) -> None:
        self.mixture = Mixture(self.calculator, self.around, self.mistakes, self.taken)

    def take(self, key: str, text: str) -> None:
        found = meant(self.calculator, key)
        if len(found) == 1:
            self._given(found[0], key, text)
        elif found:
            self.mistakes.append(either(key, found))
        elif not (self.mixture.take(key, text) or self._nearly(key, text)):
            self.mistakes.append(unknown(self.calculator, self.around, key))

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
                sample = self._examples.get(one.name) or example_of(one)
                self.mistakes.append(missing(one, sample))
        self.mixture.complete()

    @property
    def _examples(self) -> dict[str, str]:
        """Values as the calculator's own example gives them."""
        said = (word.partition("=") for word in shlex.split(self.calculator.example))
        return {key: shlex.quote(value) for key, _, value in said if value}

    def _given(self, one: Input, key: str, text: str) -> None:
        if one.name in self.seen:
            self.mistakes.append(given_again(key, one.name))
            return
        if not text:
            return
        self.seen.add(one.name)
        if plain(key) != plain(one.name):
            self.said[one.name] = key
            self.taken.append(f"{key}: taken as {one.name}, {one.what}.")
        if split_unit(plain(key))[1] or _has_unit(text, one.unit):
            self.with_unit.add(one.name)
        self._input(one, text)

    def _nearly(self, key: str, text: str) -> bool:
        """A key without its unit, or in another; False if it is none.

        Without its unit it is taken where the value has it.
        """
        found, unit = without_unit(self.calculator, key), ""
        if not found:
            found, unit = other_unit(self.calculator, key)
        if len(found) > 1:
            self.mistakes.append(either(key, found))
        elif found and not unit and _has_unit(text, found[0].unit):
            self._given(found[0], key, text)
        elif found:
            asked_in = unit_of(found[0].name, found[0].unit)
            told = swapped(key, text, unit, found[0].name, asked_in)
            self.mistakes.append(told)
        return bool(found)

    def _input(self, one: Input, text: str) -> None:
        if one.kind == "word":
            self._word(one, text)
        elif one.kind == "ingredient":
            self._ingredient(one, text)
        elif one.kind == "tin":
            self._tin(one, text)
        else:
            self._number(one, text)

    def _number(self, one: Input, text: str) -> None:
        value = number_typed(text, one.unit)
        low = -inf if one.low is None else one.low
        high = inf if one.high is None else one.high
        if value is None:
            told = no_number(self.calculator, one.name, text, one.unit)
            self.mistakes.append(told)
        elif low <= value <= high:
            self.numbers[one.name] = value
        else:
            self.mistakes.append(not_between(one, value))

    def _word(self, one: Input, text: str) -> None:
        alike = {plain(word): choice for word, choice in one.same.items()}
        alike |= {plain(choice): choice for choice in one.choices}
        if not one.choices:
            self.words[one.name] = text
        elif plain(text) in alike:
            self.words[one.name] = alike[plain(text)]
        else:
            self.mistakes.append(no_choice(one, text))

    def _ingredient(self, one: Input, text: str) -> None:
        found = self._find(one, text)
        if found is not None and found.ingredient.composition is not None:
            self.ingredients[one.name] = found.ingredient
            self.taken += taken_for(text, found)
            return
        country = self.around.kitchen.country
        near = self.around.larder.nearest(f"{text[:200]} {_noun(one)}", country)
        near = tuple(name for name in near if is_like(text[:200], name))
        what = f"{one.name} is '{shortened(text)}', which the larder does not know."
        if found is not None:
            what = f"Nobody here knows what '{shortened(text)}' is made of."
        do = f"Perhaps {' or '.join(near)}?" if near else "Add it to the larder."
        self.mistakes.append(mistake(what, do, one.name, near))

    def _find(self, one: Input, text: str) -> Match | None:
        """What a name means; `double` is `double cream` where a cream is asked.

        Milk can be asked for in place of a cream, but never for a chocolate.
        """
        found, noun = found_in(self.around, text), _noun(one)
        if not noun or noun in plain(text).split("_"):
            return found
        longer = found_in(self.around, f"{text} {noun}")
        is_sure = longer is not None and longer.how != "spelling"
        if found is None or found.how == "spelling":
            return longer or found
        return longer if is_sure and noun == "chocolate" else found

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
        what = f"{one.name} is '{shortened(text)}', which is no tin."
        do = "Write it so: 30 x 20 cm, or 23 cm round."
        self.mistakes.append(mistake(what, do, one.name))


def _noun(one: Input) -> str:
    """What an input asks for, if its name says so: `cream` of `to_cream`."""
    noun = one.name.rpartition("_")[2]
    return noun if noun in {"chocolate", "cream"} else ""


def _has_unit(text: str, unit: str) -> bool:
    """Whether a number stands there with this unit behind it."""
    return number_typed(text, "") is None and number_typed(text, unit) is not None
