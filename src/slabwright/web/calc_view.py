"""A calculator as a page shows it: its fields as typed, their mistakes, its answer."""

import re
import shlex
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import count
from typing import Final

from slabwright.desk.calc import around_of
from slabwright.errors import Mistake
from slabwright.files.folder import Folder
from slabwright.physics.species import SPECIES
from slabwright.publish.calc import range_words, sources_of
from slabwright.publish.nature_words import value_words
from slabwright.slab.presets import preset_names
from slabwright.source import Source
from slabwright.spec.calc.calculated import (
    MOST_VALUES,
    Calculated,
    calculated,
    default_of,
)
from slabwright.spec.calc.calculator import CalcError, Calculator, Input
from slabwright.spec.calc.keys import meant, other_unit, without_unit

MOST_TYPED: Final = 200
"""Characters of one field."""
_EMPTY_ROWS: Final = 4
_LEAST_ROWS: Final = 6
_MOST_ROWS: Final = 40
_ROW: Final = re.compile(r"(part|mass)_(\d{1,3})")

Pair = tuple[str, str]


@dataclass(frozen=True, slots=True)
class Field:
    """An input with what was typed into it."""

    input: Input
    typed: str
    usual: str
    """What it is taken for if it is left empty."""
    said: str
    """What may be given, in words."""
    wrong: str


@dataclass(frozen=True, slots=True)
class Row:
    """A part of a make-up, as typed."""

    number: int
    name: str
    mass: str
    wrong: str = ""


class CalcView:
    """One calculator, asked by a form or an address.

    Args:
        calculator: which one.
        folder: the kitchen.
        given: what was typed: inputs and parts by their names, as a terminal has them,
            or parts as rows, `part_1` with `mass_1`.
        is_example: asks what the calculator's own example asks.
    """

    def __init__(
        self,
        calculator: Calculator,
        folder: Folder,
        given: Sequence[Pair],
        *,
        is_example: bool = False,
    ) -> None:
        self.calculator, self.folder, self.is_example = calculator, folder, is_example
        pairs = example_of(calculator) if is_example else given
        self._typed, self._rows = _split(calculator, pairs[: 2 * MOST_VALUES])
        self.found: Calculated | None = None
        self.mistakes: tuple[Mistake, ...] = ()
        try:
            self.found = calculated(calculator, self._asked(), around_of(folder))
        except CalcError as error:
            self.mistakes = error.mistakes

    def _asked(self) -> list[Pair]:
        """What was typed, as a calculator is asked; nothing is lost of a row."""
        asked = [pair for pair in self._typed if pair[1]]
        for row in self._rows:
            if row.name or row.mass:
                asked.append((row.name or f"part {row.number}", row.mass))
        return asked

    @cached_property
    def fields(self) -> list[Field]:
        """Every input, with what was typed and what is wrong."""
        typed = {self._name_of(key): value for key, value in self._typed}
        return [self._field(one, typed) for one in self.calculator.inputs]

    def _name_of(self, key: str) -> str:
        """The input that a key means, or the key itself."""
        found = meant(self.calculator, key)
        return found[0].name if len(found) == 1 else key

    def _field(self, one: Input, typed: dict[str, str]) -> Field:
        default = default_of(one, self.folder.kitchen)
        usual = f"{default:g}" if isinstance(default, float | int) else default or ""
        kept = typed.get(one.name, "")
        if self.is_example and not kept:
            kept = usual
        return Field(one, kept, usual, range_words(one, default), self._wrong(one.name))

    @cached_property
    def rows(self) -> list[Row]:
        """Parts as typed, and room for more."""
        kept = [row for row in self._rows if row.name or row.mass]
        shown = [
            Row(n, row.name, row.mass, self._wrong(row.name or f"part {row.number}"))
            for n, row in enumerate(kept, start=1)
        ]
        size = max(len(shown) + _EMPTY_ROWS, _LEAST_ROWS)
        return shown + [Row(n, "", "") for n in range(len(shown) + 1, size + 1)]

    @property
    def as_typed(self) -> list[Row]:
        """Every row that a form may have, under its own number, for what is wrong."""
        kept = {row.number: row for row in self._rows}
        every = (kept.get(n, Row(n, "", "")) for n in range(1, _MOST_ROWS + 1))
        return [
            replace(row, wrong=self._wrong(row.name or f"part {row.number}"))
            for row in every
        ]

    def _wrong(self, name: str) -> str:
        """What is wrong with a field, in words that stand beside it."""
        said = [one for one in self.mistakes if one.where.field == name and name]
        words = " ".join(f"{one.what} {one.do}" for one in said)
        return words.replace(f"{name}=", "").replace(f"{name} is ", "This is ")

    @property
    def apart(self) -> list[Mistake]:
        """Mistakes that stand beside no field."""
        beside = {one.input.name for one in self.fields}
        beside |= {row.name for row in self.rows}
        beside |= {f"part {row.number}" for row in self.rows}
        return [one for one in self.mistakes if one.where.field not in beside - {""}]

    @property
    def sources(self) -> list[Source]:
        """What the answer leans on; without an answer, what it would."""
        if self.found is None:
            return list(self.calculator.sources)
        return sources_of(self.calculator, self.found.answer)

    @property
    def sentence(self) -> str:
        """What a screen reader is told after a rest."""
        if self.found is None:
            return " ".join(f"{one.what} {one.do}" for one in self.mistakes)
        first = self.found.answer.first
        return f"{first.label}: {value_words(first.figure)}"

    @property
    def part_names(self) -> list[str]:
        """Names that a part may have: what dissolves, then what the larder knows."""
        species = [name.replace("_", " ") for name in SPECIES]
        return list(dict.fromkeys((*species, *self.ingredient_names)))

    @property
    def ingredient_names(self) -> list[str]:
        """What the larder knows the make-up of."""
        larder = self.folder.larder
        return [one.name for one in larder.ingredients if one.composition is not None]

    @property
    def tin_names(self) -> list[str]:
        """The kitchen's tins and the usual ones."""
        own = (name for name, _ in self.folder.kitchen.tins)
        return list(dict.fromkeys((*own, *preset_names())))


def _is_input(calculator: Calculator, key: str) -> bool:
    """Whether a key is an input, perhaps but for its unit, and so no part."""
    found = meant(calculator, key) or without_unit(calculator, key)
    return bool(found or other_unit(calculator, key)[0])


def example_of(calculator: Calculator) -> list[Pair]:
    """What the calculator's own example asks."""
    words = (word.partition("=") for word in shlex.split(calculator.example))
    return [(key, value) for key, equals, value in words if equals]


def _split(
    calculator: Calculator, pairs: Sequence[Pair]
) -> tuple[list[Pair], list[Row]]:
    """Inputs by name, and parts by row."""
    typed: list[Pair] = []
    rows: dict[int, Row] = {}
    free = count(1000)
    for key, value in ((key.strip(), value.strip()) for key, value in pairs):
        found = _ROW.fullmatch(key) if calculator.takes_parts else None
        if found:
            number = int(found[2])
            row = rows.get(number, Row(number, "", ""))
            name, mass = (value, row.mass) if found[1] == "part" else (row.name, value)
            rows[number] = Row(number, name, mass)
        elif calculator.takes_parts and not _is_input(calculator, key):
            number = next(free)
            rows[number] = Row(number, key.replace("_", " "), value)
        else:
            typed.append((key, value))
    return typed, [rows[number] for number in sorted(rows)]
