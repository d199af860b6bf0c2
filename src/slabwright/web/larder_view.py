"""An ingredient as its page shows it: drawn, and every value with its source."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Final

from markupsafe import Markup

from slabwright.composition import FATS, INDEX, SATURATES, SUGARS
from slabwright.cost.opened import Opened, once_opened
from slabwright.figure import Figure, Standing
from slabwright.larder.index import words_of
from slabwright.larder.ingredient import Allergen, Cited, Ingredient, Measure
from slabwright.larder.lookup import Larder, Match
from slabwright.larder.words import parse
from slabwright.publish import words
from slabwright.publish.drawing.share_bar import BarPart, share_bar_svg, swatch_svg
from slabwright.source import Seen, Source
from slabwright.web.shown import drawing

_PARTS: Final = (
    ("water", ("water",), "clear"),
    ("alcohol", ("alcohol",), "falling"),
    ("fat", FATS, "solid"),
    ("sugars", SUGARS, "rising"),
    ("starch and fibre", ("starch", "higher_saccharides", "fibre"), "level"),
    ("protein", ("protein",), "upright"),
    ("the rest", ("polyols", "organic_acids", "salt", "minerals", "rest"), "crossed"),
)
"""What the bar shows, from the left."""
_WEAK: Final = {Seen.MEMORY, Seen.TRADE}
_NEAREST: Final = 6
_CONSTITUENTS: Final = {
    "rest": "not named", "fat_milk": "milk fat", "fat_cocoa": "cocoa fat",
    "fat_lauric": "coconut and palm kernel fat", "fat_nut": "nut and seed fat",
    "fat_other": "other fat", "saturates": "of the fat, saturates",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Value:
    """A constituent, with its figure and its source."""

    name: str
    figure: Figure
    cited: Cited

    @property
    def source(self) -> Source:
        """Where it comes from."""
        return self.cited.source

    @property
    def places(self) -> int:
        """Decimals that it is shown with."""
        grams = self.cited.value
        if not grams:
            return 0
        return 1 if grams >= 10 else 2 if grams >= 0.1 else 3


@dataclass(frozen=True)
class IngredientView:
    """What the page of one ingredient says."""

    found: Ingredient

    @cached_property
    def bar(self) -> Markup:
        """Its composition as a bar in ink."""
        title = f"What {self.found.name} is made of, by weight"
        return drawing(share_bar_svg(self.parts, prefix="made-of", title=title))

    @property
    def key(self) -> Iterator[tuple[Markup, str, str]]:
        """The key of the bar: a swatch, a name, a share."""
        for part in self.parts:
            swatch = drawing(swatch_svg(part.manner))
            yield swatch, part.name, words.percent(part.share, 1)

    @cached_property
    def parts(self) -> tuple[BarPart, ...]:
        """Shares of its weight, as the bar draws them."""
        row = self.found.composition
        if row is None:
            return ()
        shares = (
            (name, float(sum(row[INDEX[one]] for one in of)), manner)
            for name, of, manner in _PARTS
        )
        return tuple(BarPart(*one) for one in shares if one[1] > 0)

    @property
    def values(self) -> Iterator[Value]:
        """All that it holds, per 100 g, the most first."""
        held = [(n, c) for n, c in self.found.values.items() if c.value or not c.note]
        held.sort(key=lambda one: (one[0] == SATURATES, -one[1].value))
        for name, cited in held:
            yield Value(constituent(name), _figure(cited, name), cited)

    @property
    def none_of(self) -> Mapping[str, list[str]]:
        """What it holds none of, by the reason."""
        found: dict[str, list[str]] = {}
        for name, cited in self.found.values.items():
            if not cited.value and cited.note:
                found.setdefault(cited.note, []).append(constituent(name))
        return found

    @property
    def measures(self) -> Iterator[tuple[Measure, str, Figure]]:
        """Density first, then pieces, spoons and cups: what, and what it weighs."""
        order = sorted(self.found.measures, key=lambda one: _rank(one.name))
        for one in order:
            unit = "g/ml" if one.name == "ml" else "g"
            said = f"{one.what}: {one.grams:g} {unit}"
            yield one, _measured(one), _ranged(one, unit, said)

    @property
    def contains(self) -> tuple[Allergen, ...]:
        """Allergens that are in it."""
        return tuple(a for a in self.found.allergens if a.how == "contains")

    @property
    def may_contain(self) -> tuple[Allergen, ...]:
        """Allergens that may hide in it."""
        return tuple(a for a in self.found.allergens if a.how != "contains")

    @property
    def names(self) -> str:
        """What else it is called, with the country where only some call it so."""
        said = dict.fromkeys(
            f"{one.text} ({one.country})" if one.country else one.text
            for one in self.found.names
            if one.text != self.found.name
        )
        return ", ".join(said)

    @property
    def opened(self) -> Opened | None:
        """How it keeps once opened."""
        return once_opened(self.found)

    def number_of(self, source: Source) -> int:
        """Under which number a source stands in the list of them."""
        return self.sources.index(source) + 1

    @cached_property
    def sources(self) -> tuple[Source, ...]:
        """Every source of it, once."""
        found = self.found
        every: list[Source] = [cited.source for cited in found.values.values()]
        for some in (found.measures, found.allergens, found.parts, found.packs):
            every += [one.source for one in some]
        if found.energy:
            every.append(found.energy.source)
        return tuple(dict.fromkeys(every))


def constituent(name: str) -> str:
    """A constituent in words."""
    return _CONSTITUENTS.get(name, name.replace("_", " "))


def allergen_words(name: str) -> str:
    """An allergen in words: the cereal or nut by its name.

    >>> allergen_words("gluten:rye"), allergen_words("milk")
    ('rye (gluten)', 'milk')
    """
    group, _, kind = name.partition(":")
    return f"{kind} ({group})" if kind else group


def _figure(cited: Cited, name: str) -> Figure:
    record = f", record {cited.record}" if cited.record else ""
    note = f"; {cited.note}" if cited.note else ""
    said = f"{cited.value:g} g of {constituent(name)} in 100 g{record}{note}"
    return Figure(
        cited.value, "g", said, _standing(cited.source), sources=(cited.source,)
    )


def _ranged(one: Measure, unit: str, said: str) -> Figure:
    wide = one.high_g > one.low_g
    return Figure(
        one.grams, unit, said, _standing(one.source),
        one.low_g if wide else None, one.high_g if wide else None, (one.source,),
    )  # fmt: skip


def _standing(source: Source) -> Standing:
    return Standing.ASSUMED if source.seen in _WEAK else Standing.WORKED_OUT


def _rank(name: str) -> tuple[int, str]:
    if name == "ml":
        return 0, name
    return (1 if name.startswith("each") else 2), name


def _measured(one: Measure) -> str:
    return "density, as poured or spooned" if one.name == "ml" else one.what


# --- finding --------------------


@dataclass(frozen=True, slots=True)
class Found:
    """What the larder has for a name."""

    match: Match | None
    holding: tuple[Ingredient, ...]
    """Others in whose names all these words stand."""
    near: tuple[tuple[str, Ingredient], ...]
    """The nearest spellings, with whose they are."""


def found_for(asked: str, larder: Larder, country: str) -> Found:
    """All that a name may mean, the likeliest first."""
    match = larder.find(asked, country)
    first = {match.ingredient.id} if match else set()
    first |= {one.id for one in match.alternatives} if match else set()
    holding = tuple(
        one
        for one in _holding(asked, larder.ingredients, country)
        if one.id not in first
    )
    known = first | {one.id for one in holding}
    near = []
    for name in larder.nearest(asked, country, _NEAREST):
        other = larder.find(name, country)
        if other and other.ingredient.id not in known:
            near.append((name, other.ingredient))
    return Found(match, holding, tuple(near))


def _holding(
    asked: str, ingredients: Iterable[Ingredient], country: str
) -> Iterator[Ingredient]:
    wanted = set(parse(asked).words)
    here = set(words_of(country))
    for one in ingredients if wanted else ():
        names = (n.text for n in one.names if n.country in here)
        if any(wanted <= set(parse(name).words) for name in names):
            yield one


def groups_of(larder: Larder) -> list[tuple[str, tuple[Ingredient, ...]]]:
    """The user's own ingredients first, then ours by group."""
    found: dict[str, list[Ingredient]] = {}
    for one in larder.ingredients:
        found.setdefault("" if one.own else one.group, []).append(one)
    order = sorted(found, key=lambda group: (group != "", group))
    return [
        (group, tuple(sorted(found[group], key=lambda one: one.name.casefold())))
        for group in order
    ]


def share_words(one: Ingredient) -> str:
    """Water, fat and sugars of it in a few words."""
    parts = {part.name: part.share for part in IngredientView(one).parts}
    named = ("water", "fat", "sugars", "protein")
    said = [f"{n} {words.percent(parts[n])}" for n in named if parts.get(n, 0) >= 0.005]
    return ", ".join(said) or "what it is made of is not known"
