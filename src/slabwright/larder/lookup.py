"""Finding the ingredient that a cook means by a name."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Final, Literal

from rapidfuzz import fuzz, process

from slabwright.larder.index import COUNTRIES, Called, NameIndex, words_of
from slabwright.larder.ingredient import Ingredient
from slabwright.larder.mention import spans
from slabwright.larder.note import HANDLING, begins_note, strength
from slabwright.larder.spelling import corrections
from slabwright.larder.words import Parsed, key_of, parse, plain_word

_NEAR: Final = {"%": 6.0, "de": 6.0, "bloom": 30.0}
"""How far a strength may lie from ours and still be taken for it, said aloud."""

How = Literal["name", "usual", "words", "spelling", "number"]


@dataclass(frozen=True, slots=True)
class Match:
    """The ingredient that a name was taken for."""

    ingredient: Ingredient
    how: How
    taken: str
    """What the cook should know of it, in words; empty if the name says just this."""
    alternatives: tuple[Ingredient, ...] = ()


class Larder:
    """Ingredients, and every way to find one by what cooks call it."""

    def __init__(self, ingredients: Iterable[Ingredient]) -> None:
        self.ingredients = tuple(ingredients)
        self.doubles: tuple[str, ...] = ()
        """Names of the user's own ingredients that cover one of ours."""
        self._by_id = {found.id: found for found in reversed(self.ingredients)}
        self._index = NameIndex(self.ingredients)
        self._found: dict[tuple[str, str], Match | None] = {}

    @cached_property
    def _words(self) -> frozenset[str]:
        return self._index.vocabulary | HANDLING

    def by_id(self, id: str) -> Ingredient | None:
        """The ingredient with this id."""
        return self._by_id.get(id)

    def find(self, name: str, country: str = "GB") -> Match | None:
        """The ingredient that a cook of this country means; None if nobody knows it."""
        asked = (name, country)
        if asked not in self._found:
            if len(self._found) >= 8192:
                self._found.clear()
            self._found[asked] = self._look_up(parse(name), country)
        return self._found[asked]

    def nearest(
        self, name: str, country: str = "GB", count: int = 3
    ) -> tuple[str, ...]:
        """Names that look most like this one, one for each ingredient."""
        asked = " ".join(parse(name).words)
        if not asked:
            return ()
        here = set(words_of(country))
        names = {
            called.text: ingredient.id
            for ingredient in self.ingredients
            for called in ingredient.names
            if called.country in here
        }
        close = process.extract(
            asked,
            names.keys(),
            scorer=fuzz.WRatio,
            limit=8 * count,
        )
        first = {names[text]: text for text, _, _ in reversed(close)}
        ranked = sorted(first.values(), key=[text for text, _, _ in close].index)
        return tuple(ranked[:count])

    def longest_prefix(self, words: Sequence[str], country: str) -> int:
        """How many of these words, a comma being one, form a known name; 0 if none.

        Words of handling before the name belong to it, words behind it do not; a
        strength behind it does, known or not. Where it goes on without a comma as no
        note would, as in `coconut sugar` or `butter beans`, it is another thing: 0.
        """
        start = 0
        while start < len(words) and plain_word(words[start].casefold()) in HANDLING:
            start += 1
        for skipped in dict.fromkeys((0, start)):
            for end in range(len(words), skipped, -1):
                if words[end - 1] == ",":
                    continue
                if self._plainly(parse(" ".join(words[skipped:end])), country):
                    name = end + strength(words[end:])
                    return name if begins_note(words[name:]) else 0
        return 0

    def mentions(
        self, text: str, country: str = "GB"
    ) -> tuple[tuple[int, int, Ingredient], ...]:
        """Ingredients named in a sentence: start, end and ingredient, in order."""

        def known(words: str) -> Ingredient | None:
            called = self._index.exact(key_of(words), country)
            return called[0].ingredient if called else None

        return tuple(
            spans(text, known, self._index.first_words, longest=self._index.longest)
        )

    def over(self, own: Iterable[Ingredient]) -> "Larder":
        """A larder where the user's own ingredients cover ours of the same name."""
        mine = tuple(replace(ingredient, own=True) for ingredient in own)
        larder = Larder((*mine, *self.ingredients))
        larder.doubles = tuple(
            called.text
            for ingredient in mine
            for called in ingredient.names
            if self._index.exact(key_of(called.text), called.country)
        )
        return larder

    def _look_up(self, parsed: Parsed, country: str) -> Match | None:
        return (
            self._plainly(parsed, country)
            or self._without_handling(parsed, country)
            or self._spelt(parsed, country)
        )

    def _plainly(self, parsed: Parsed, country: str) -> Match | None:
        found = self._named(parsed, country)
        if found or not parsed.numbers:
            return found
        shorter = parsed.without_fillers()
        return (
            self._named(shorter, country)
            or self._other_number(parsed, country)
            or self._other_number(shorter, country)
        )

    def _named(self, parsed: Parsed, country: str) -> Match | None:
        called = (
            self._index.exact(parsed.key, country)
            or self._index.any_order(parsed, country)
            or self._index.joined(parsed, country)
        )
        return _match(called, country) if called else None

    def _other_number(self, parsed: Parsed, country: str) -> Match | None:
        gaps = self._index.numbered(parsed)
        if gaps:
            return self._nearest_number(parsed, gaps, country)
        bare = self._named(Parsed(parsed.words), country)
        if not bare:
            return None
        said = ", ".join(map(str, parsed.numbers))
        taken = f"taken as {bare.ingredient.name}; {said} is not taken into account"
        return replace(bare, how="number", taken=taken)

    def _nearest_number(
        self, parsed: Parsed, gaps: tuple[tuple[float, str], ...], country: str
    ) -> Match | None:
        (wanted,) = parsed.numbers
        found = [
            (gap, self._index.exact(key, country)[0].ingredient) for gap, key in gaps
        ]
        unlike = dict.fromkeys(ingredient.id for _, ingredient in found)
        gap, first = found[0]
        if gap == 0:
            return Match(first, "name", "")
        if gap > _NEAR[wanted.kind]:
            return None
        others = tuple(self._by_id[id] for id in list(unlike)[1:3])
        taken = f"taken as {first.name} for {wanted}{_also(others)}"
        return Match(first, "number", taken, others)

    def _without_handling(self, parsed: Parsed, country: str) -> Match | None:
        kept = tuple(word for word in parsed.words if word not in HANDLING)
        if not kept or kept == parsed.words:
            return None
        for left in _fewer(parsed.words):
            found = self._plainly(parsed.with_words(left), country)
            if found:
                gone = " ".join(w for w in parsed.words if w not in left)
                taken = found.taken or f"taken as {found.ingredient.name}"
                return replace(found, how="words", taken=f"{taken}, without “{gone}”")
        return None

    def _spelt(self, parsed: Parsed, country: str) -> Match | None:
        known = self._words
        best: dict[str, Match] = {}
        least = 99
        for apart, words in corrections(parsed.words, known):
            if apart > least:
                break
            other = parsed.with_words(words)
            found = self._plainly(other, country) or self._without_handling(
                other, country
            )
            if found:
                least = apart
                read = f"read as {' '.join(words)}"
                taken = f"{read}; {found.taken}" if found.taken else read
                best[found.ingredient.id] = replace(found, how="spelling", taken=taken)
        return next(iter(best.values())) if len(best) == 1 else None


def _match(called: tuple[Called, ...], country: str) -> Match:
    first, *rest = called
    others = tuple(c.ingredient for c in rest)
    if first.name.country and first.name.country not in words_of(country):
        abroad = COUNTRIES.get(first.name.country, first.name.country)
        taken = f"taken as {first.ingredient.name}, as in {abroad}{_also(others)}"
        return Match(first.ingredient, "usual", taken, others)
    if first.name.sense == "same":
        return Match(first.ingredient, "name", "")
    taken = f"taken as {first.ingredient.name}{_also(others)}"
    return Match(first.ingredient, "usual", taken, others)


def _also(others: Iterable[Ingredient]) -> str:
    names = ", ".join(other.name for other in others)
    return f"; also: {names}" if names else ""


def _fewer(words: tuple[str, ...]) -> Iterable[tuple[str, ...]]:
    """These words without those of handling: fewest left out first."""
    handled = [i for i, word in enumerate(words) if word in HANDLING]
    if len(handled) <= 3:
        for i in handled if len(handled) > 1 else ():
            yield words[:i] + words[i + 1 :]
    yield tuple(word for word in words if word not in HANDLING)
