"""Names of ingredients by the beginnings of their words, misspelt ones too."""

import re
from bisect import bisect_left
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from itertools import takewhile
from typing import Final

from rapidfuzz import fuzz

from slabwright.larder.index import words_of
from slabwright.larder.lookup import Larder

_PART: Final = re.compile(r"[^\W_]+%?")
_NEAR: Final = 75.0
"""How alike, 0 to 100, a misspelt word's beginning must be. Our own limit."""
_LEAST_MISSPELT: Final = 4
_ALIAS: Final = 4
"""Letters that the name of our own list may be longer than another and come first."""


@dataclass(frozen=True, slots=True)
class Known:
    """A name that cooks of a country use, and whose it is."""

    text: str
    ingredient: str
    """The one name of what it stands for."""
    is_own: bool
    parts: tuple[str, ...]

    @property
    def note(self) -> str:
        """Where it is kept, and what else it is called."""
        where = "your larder" if self.is_own else "larder"
        return where if self.is_first else f"{where}: {self.ingredient}"

    @property
    def is_first(self) -> bool:
        """Whether it is the ingredient's own name."""
        return self.text.casefold() == self.ingredient.casefold()


@dataclass(frozen=True, slots=True)
class NamesBegun:
    """Every name, found by how its words begin."""

    names: tuple[Known, ...]
    words: tuple[str, ...]
    """In order, once for each name that has it."""
    bearers: tuple[int, ...]
    """Which name has the word at the same place."""
    exact: frozenset[str]

    def beginning(self, asked: str) -> tuple[Known, ...]:
        """Names in which every word that was begun begins a word; the best first.

        None if it is a name already. A word that begins none is taken for misspelt.
        """
        plain = " ".join(asked.casefold().split())
        begun = _PART.findall(plain)
        if not begun or plain in self.exact:
            return ()
        found: set[int] | None = None
        for word in begun:
            fits = self._with(word) or self._nearly(word)
            found = fits if found is None else found & fits
        best: dict[str, Known] = {}
        for name in sorted((self.names[i] for i in found or ()), key=_plainest(plain)):
            best.setdefault(name.ingredient, name)
        return tuple(sorted(best.values(), key=_likeliest(plain, begun[0])))

    def _with(self, word: str) -> set[int]:
        at = bisect_left(self.words, word)
        places = range(at, len(self.words))
        fits = takewhile(lambda i: self.words[i].startswith(word), places)
        return {self.bearers[i] for i in fits}

    def _nearly(self, word: str) -> set[int]:
        size = len(word)
        if size < _LEAST_MISSPELT:
            return set()
        found: set[int] = set()
        last, is_near = "", False
        for i, other in enumerate(self.words):
            if other != last:
                last = other
                alike = max(
                    fuzz.ratio(word, other[:size], score_cutoff=_NEAR),
                    fuzz.ratio(word, other[: size + 1], score_cutoff=_NEAR),
                )
                is_near = alike > 0 and abs(len(other) - size) < size
            if is_near:
                found.add(self.bearers[i])
        return found


def _plainest(plain: str) -> Callable[[Known], tuple[object, ...]]:
    """The order of the names of one ingredient: its own one before the others."""

    def order(name: Known) -> tuple[object, ...]:
        text = name.text.casefold()
        return not text.startswith(plain), not name.is_first, len(text), text

    return order


def _likeliest(plain: str, first: str) -> Callable[[Known], tuple[object, ...]]:
    """The order of ingredients, each under its best name."""

    def order(name: Known) -> tuple[object, ...]:
        text = name.text.casefold()
        long = len(text) + (0 if name.is_first else _ALIAS)
        starts = not text.startswith(plain), not name.is_own, not text.startswith(first)
        return *starts, long, text

    return order


@lru_cache(maxsize=16)
def names_begun(larder: Larder, country: str) -> NamesBegun:
    """The names of a larder as this country's cooks use them."""
    here = set(words_of(country))
    known: dict[str, Known] = {}
    for one in larder.ingredients:
        for called in one.names:
            key = called.text.casefold()
            if called.country in here and key not in known:
                parts = tuple(_PART.findall(key))
                known[key] = Known(called.text, one.name, one.own, parts)
    names = tuple(known.values())
    pairs = sorted((part, i) for i, name in enumerate(names) for part in name.parts)
    return NamesBegun(
        names,
        tuple(word for word, _ in pairs),
        tuple(i for _, i in pairs),
        frozenset(known),
    )
