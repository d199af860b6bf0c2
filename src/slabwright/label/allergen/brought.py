"""What an ingredient or a part of it brings, and its way below the line."""

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final

from slabwright.label.allergen.allergens import IN_IT, Doubt, State, Way
from slabwright.label.allergen.annex import Exemption, number_of
from slabwright.label.allergen.part_words import Word, told
from slabwright.larder.ingredient import Allergen, Ingredient
from slabwright.source import Source

MOST_WAYS: Final = 24
"""Ways that are kept of one allergen into one compound."""


@dataclass(frozen=True, slots=True)
class Brought:
    """One allergen in an ingredient, and its way below the line."""

    allergen: str
    state: State
    way: Way
    """Compounds and parts, outermost first; empty for the ingredient itself."""
    why: str
    source: str


@dataclass(frozen=True, slots=True)
class Load:
    """Everything that an ingredient brings, known and not known."""

    brought: tuple[Brought, ...] = ()
    doubts: tuple[Doubt, ...] = ()
    is_cut: bool = False
    """Whether a circle of compounds, or too many in each other, was left unopened."""

    @property
    def in_it(self) -> frozenset[str]:
        """Allergens that it contains."""
        return frozenset(one.allergen for one in self.brought if one.state in IN_IT)


def own_of(one: Ingredient, through: set[str]) -> Iterator[Brought]:
    """What its own row says; what a part explains is left to the part."""
    for said in one.allergens:
        known = _known(one, said)
        if said.how == "contains" and said.name not in through:
            yield Brought(said.name, State.CONTAINS, (), said.note, known)
        elif said.how == "may contain":
            yield Brought(said.name, State.MAY_CONTAIN, (), said.note, known)


def _known(one: Ingredient, said: Allergen) -> str:
    if one.allergens_by == "like" and not said.source.key.startswith("own-"):
        return f"as {one.like} in our larder; {_source(said.source)}"
    return _source(said.source)


def exempted(text: str, by: Exemption, way: Way) -> Iterator[Brought]:
    """What it is made of, and need not be declared."""
    why, known = f"{by.in_law}: {by.article}", _source(by.source)
    for allergen in dict.fromkeys(
        a for word in told(text).words for a in word.allergens
    ):
        if number_of(allergen) == by.number:
            yield Brought(allergen, State.EXEMPT, way, why, known)


def by_word(text: str, word: Word) -> Iterator[Brought]:
    """What a word of a part's name names."""
    why, known = f"its part “{text}” names it", _source(word.source)
    for allergen in word.allergens:
        yield Brought(allergen, State.THROUGH, (text,), why, known)


def through_parts(below: Iterable[Brought], said: set[str]) -> Iterator[Brought]:
    """What comes through its parts, each way once."""
    seen: set[tuple[str, State, Way]] = set()
    ways: Counter[tuple[str, State]] = Counter()
    for found in below:
        key = (found.allergen, found.state, found.way)
        is_covered = found.state is State.MAY_CONTAIN and found.allergen in said
        is_many = ways[key[:2]] >= MOST_WAYS
        if key not in seen and not is_covered and not is_many:
            seen.add(key)
            ways[key[:2]] += 1
            yield found


def below(one: Brought, text: str) -> Brought:
    """The same, seen from the compound that this part is in."""
    state = State.THROUGH if one.state is State.CONTAINS else one.state
    return Brought(one.allergen, state, (text, *one.way), one.why, one.source)


def by_table(
    one: Ingredient, below: Iterable[Brought]
) -> tuple[list[Brought], list[Doubt]]:
    """Parts of ours are the usual ones: they show a way, and prove nothing new."""
    contains = {said.name for said in one.allergens if said.how == "contains"}
    sure: list[Brought] = []
    unsure: list[Doubt] = []
    for found in below:
        if found.state not in IN_IT or found.allergen in contains:
            sure.append(found)
        else:
            why = f"{found.way[-1]} is in most"
            unsure.append(Doubt((found.allergen,), why, found.way))
    return sure, unsure


def _source(source: Source) -> str:
    return f"{source.text} ({source.seen.value})"
