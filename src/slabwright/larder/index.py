"""Every name of every ingredient, found in any order of its words, by country."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from typing import Final

from slabwright.larder.ingredient import Ingredient, Name
from slabwright.larder.words import Number, Parsed, key_of, parse

_ASK: Final = {
    "US": ("US", ""),
    "CA": ("CA", "US", ""),
    "NZ": ("NZ", "AU", "GB", ""),
}
"""Whose words a country's cooks use, first their own."""

COUNTRIES: Final = {
    "GB": "Britain",
    "IE": "Ireland",
    "US": "the United States",
    "CA": "Canada",
    "AU": "Australia",
    "NZ": "New Zealand",
    "ZA": "South Africa",
}
"""Countries whose names the larder knows, in words."""


def words_of(country: str) -> tuple[str, ...]:
    """Countries whose names are tried, in order; the empty one is everywhere."""
    return _ASK.get(country) or tuple(dict.fromkeys((country, "GB", "")))


@dataclass(frozen=True, slots=True)
class Called:
    """An ingredient under one of its names."""

    ingredient: Ingredient
    name: Name


class NameIndex:
    """Names of a larder's ingredients, for exact look-up."""

    def __init__(self, ingredients: Iterable[Ingredient]) -> None:
        self._ingredients = tuple(ingredients)

    @cached_property
    def _by_key(self) -> dict[str, dict[str, list[Called]]]:
        """Who bears a name, by its plain form and the country that calls it so."""
        found: dict[str, dict[str, list[Called]]] = {}
        for ingredient in self._ingredients:
            for name in ingredient.names:
                by_country = found.setdefault(key_of(name.text), {})
                by_country.setdefault(name.country, []).append(Called(ingredient, name))
        for by_country in found.values():
            for called in by_country.values():
                called.sort(key=_precedence)
        return found

    @cached_property
    def _parsed(self) -> dict[str, Parsed]:
        return {
            key_of(name.text): parse(name.text)
            for ingredient in self._ingredients
            for name in ingredient.names
        }

    @cached_property
    def _by_order(self) -> dict[tuple[str, ...], set[str]]:
        found: dict[tuple[str, ...], set[str]] = defaultdict(set)
        for key, parsed in self._parsed.items():
            found[parsed.loose].add(key)
        return found

    @cached_property
    def _by_joined(self) -> dict[str, str]:
        return {parsed.joined: key for key, parsed in reversed(self._parsed.items())}

    @cached_property
    def _numbered(self) -> dict[tuple[str, ...], list[tuple[Number, str]]]:
        found: dict[tuple[str, ...], list[tuple[Number, str]]] = defaultdict(list)
        for key, parsed in self._parsed.items():
            for number in parsed.numbers[:1]:
                found[parsed.words].append((number, key))
        return found

    @cached_property
    def vocabulary(self) -> frozenset[str]:
        """Every word of every name, in its plain form."""
        return frozenset(word for p in self._parsed.values() for word in p.words)

    @cached_property
    def first_words(self) -> frozenset[str]:
        """The words with which a name may begin."""
        return frozenset(p.words[0] for p in self._parsed.values() if p.words)

    @cached_property
    def longest(self) -> int:
        """Most words in a name, a number and its sign counted too."""
        sizes = (len(p.words) + 2 * len(p.numbers) for p in self._parsed.values())
        return max(sizes, default=1)

    def exact(self, key: str, country: str) -> tuple[Called, ...]:
        """Who bears this name where these cooks are, likeliest first; else abroad."""
        by_country = self._by_key.get(key)
        if not by_country:
            return ()
        here = [by_country[place] for place in words_of(country) if place in by_country]
        found = here or [next(iter(by_country.values()))]
        own = next((c for called in found for c in called if c.ingredient.own), None)
        if own or found[0][0].name.sense == "same":
            return (own or found[0][0],)
        broad = {c.ingredient.id: c for called in reversed(found) for c in called}
        order = dict.fromkeys(c.ingredient.id for called in found for c in called)
        return tuple(broad[id] for id in order)

    def any_order(self, parsed: Parsed, country: str) -> tuple[Called, ...]:
        """The same whatever the order of the words.

        Without a comma the last word must not be a name of something else: milk
        chocolate is no chocolate milk.
        """
        keys = self._by_order.get(parsed.loose)
        if keys is None:
            return ()
        ways = {key: self.exact(key, country) for key in sorted(keys)}
        meant = {way[0].ingredient.id for way in ways.values()}
        if len(meant) > 1:
            return ()
        found = next(iter(ways.values()))
        if parsed.commas or not parsed.words:
            return found
        last = self.exact(parsed.words[-1], country)
        others = {c.ingredient.id for c in last} - {c.ingredient.id for c in found}
        return () if others and last[0].ingredient is not found[0].ingredient else found

    def joined(self, parsed: Parsed, country: str) -> tuple[Called, ...]:
        """The same however the words are run together: `corn flour`, `cornflour`."""
        key = self._by_joined.get(parsed.joined)
        return self.exact(key, country) if key else ()

    def numbered(self, parsed: Parsed) -> tuple[tuple[float, str], ...]:
        """Names with the same words and another number of the same kind: gap, key."""
        if len(parsed.numbers) != 1:
            return ()
        (wanted,) = parsed.numbers
        gaps = [
            (wanted.apart(number), key)
            for number, key in self._numbered.get(parsed.words, ())
            if number.kind == wanted.kind
        ]
        return tuple(sorted(gaps))


def _precedence(called: Called) -> tuple[bool, bool, int]:
    name = called.name
    return (not called.ingredient.own, name.sense != "same", name.rank)
