"""What a calculator is: its inputs, its range, its sources, its answer."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Literal

from slabwright.errors import Mistake, SlabwrightError, Where
from slabwright.figure import Figure
from slabwright.kitchen import Kitchen
from slabwright.larder.ingredient import Ingredient
from slabwright.larder.lookup import Larder
from slabwright.physics.species import Parts
from slabwright.slab.tin import Tin
from slabwright.source import Source


class CalcError(SlabwrightError):
    """What was asked of a calculator can't be worked out."""


def wrong(what: str, do: str, name: str = "") -> CalcError:
    """An error about one input, to be raised."""
    return CalcError(Mistake(what, do, Where(field=name)))


@dataclass(frozen=True, slots=True)
class Input:
    """One value that a calculator asks for."""

    name: str
    """As it is typed, its unit in it: `altitude_m`."""
    unit: str
    what: str
    """In words, as it stands beside the field."""
    kind: Literal["number", "word", "ingredient", "tin"] = "number"
    default: float | str | None = None
    """None if it must be given, unless it is optional."""
    low: float | None = None
    high: float | None = None
    """Beyond these it makes no sense; a relation's narrower range is told with the
    answer."""
    choices: tuple[str, ...] = ()
    """What a word is chosen from."""
    same: Mapping[str, str] = field(default_factory=dict)
    """Other words for a choice: `soda` for `bicarbonate-of-soda`."""
    is_optional: bool = False
    """Whether it may be left out without a default."""
    of_kitchen: str = ""
    """The field of the kitchen that is its default, such as `altitude_m`."""
    also: tuple[str, ...] = ()
    """Other names that can mean nothing else here, in the same unit. A name that two
    inputs share is told, not chosen."""


@dataclass(frozen=True, slots=True)
class Shown:
    """A figure with the name that programs know it by and the words that people read.

    The name holds the unit: `boiling_point_C`.
    """

    name: str
    label: str
    figure: Figure


@dataclass(frozen=True, slots=True)
class Answer:
    """What a calculator gives: one figure first, others beside it, words about both."""

    first: Shown
    also: tuple[Shown, ...] = ()
    notes: tuple[str, ...] = ()
    """What its user should know: a range left, a rule that others see otherwise, the
    usual caution where a hand is about to do it."""


@dataclass(frozen=True, slots=True)
class Asked:
    """What was asked, checked and completed with defaults."""

    numbers: Mapping[str, float] = field(default_factory=dict)
    words: Mapping[str, str] = field(default_factory=dict)
    ingredients: Mapping[str, Ingredient] = field(default_factory=dict)
    tins: Mapping[str, Tin] = field(default_factory=dict)
    parts: Parts | None = None
    """Parts by mass, shape (len(SPECIES),), where the calculator takes them."""
    named: Mapping[str, float] = field(default_factory=dict)
    """The same parts under the names that they were given by."""
    taken: tuple[str, ...] = ()
    """What names were taken for, where they do not say it themselves."""
    said: Mapping[str, str] = field(default_factory=dict)
    """The key of an input that was given by another name, by its own."""
    given: frozenset[str] = frozenset()
    """Inputs that were typed, not left to their default."""
    with_unit: frozenset[str] = frozenset()
    """Those of them whose unit was typed, in the key or behind the number."""
    kitchen: Kitchen = field(default_factory=Kitchen)

    def number(self, name: str) -> float:
        """A number that was given or has a default."""
        return self.numbers[name]

    def optional(self, name: str) -> float | None:
        """A number that may have been left out."""
        return self.numbers.get(name)

    def word(self, name: str) -> str:
        """A word that was given or has a default; empty if it was left out."""
        return self.words.get(name, "")


@dataclass(frozen=True, slots=True)
class Around:
    """What a calculator may lean on beside its inputs."""

    kitchen: Kitchen
    larder: Larder
    read_tin: Callable[[str], Tin | None]
    """Reads a tin as a card has it: `20 cm square`; None if it is none."""


@dataclass(frozen=True, slots=True)
class Calculator:
    """One sum of the trade."""

    name: str
    """As it is typed: `boiling-point`."""
    title: str
    what: str
    """One sentence: what it answers."""
    answer: Callable[[Asked], Answer]
    inputs: tuple[Input, ...] = ()
    takes_parts: bool = False
    """Whether it asks for a make-up in parts by mass, species or larder names."""
    parts_are_optional: bool = False
    """Whether it answers without a make-up too."""
    parts_are_grams: bool = False
    """Whether they are what lies on the scale, so that per cents won't do."""
    example: str = ""
    """A call of it, without the program's name: `calc tin-factor from=20x20 …`."""
    sources: tuple[Source, ...] = ()
    python: str = ""
    """The function of the package that does the same for arrays, with its module."""

    def input(self, name: str) -> Input | None:
        """The input of this name."""
        return next((one for one in self.inputs if one.name == name), None)
