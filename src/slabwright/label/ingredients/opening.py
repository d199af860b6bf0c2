"""Opening a compound: its own list in brackets, by the rules that hold for it."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache
from typing import Final

from slabwright.label.allergen.contents import Contents
from slabwright.label.allergen.part_words import exemption_of, split_parts
from slabwright.label.ingredients.declared import Declared, Nation, declared
from slabwright.label.ingredients.name import Named, named
from slabwright.label.ingredients.rules import additive, categories
from slabwright.larder.ingredient import ALLERGENS, Ingredient
from slabwright.larder.words import key_of

SMALL: Final = 0.02
"""Share of the finished food under which some lists may be left out; ING-16, -17."""
_DEEPEST: Final = 12
"""Brackets in brackets that are opened."""
_BARE: Final = frozenset(
    key_of(text)
    for text in (
        "vegetable oil",
        "vegetable fat",
        "vegetable oils and fats",
        "vegetable fats and oils",
        "vegetable oil and fat",
    )
)
"""Oils and fats whose plant must follow; ING-26."""


@dataclass(frozen=True, slots=True)
class Opened:
    """A bought thing as it stands in the list."""

    named: Named
    rules: tuple[str, ...]
    """Ids of the rules that shaped it."""
    asks: tuple[str, ...]
    """What must be asked of its pack before this may be printed."""


class Opener:
    """Names and opens the ingredients of one kitchen, for one nation and day."""

    def __init__(
        self, contents: Contents, where: Nation, *, numbers: bool = False
    ) -> None:
        self.contents = contents
        self.where = where
        self.numbers = numbers
        self._known: dict[int, tuple[Ingredient, Declared]] = {}

    def declared(self, one: Ingredient) -> Declared:
        """What it is called and made of."""
        if id(one) not in self._known:
            found = declared(one, self.where, numbers=self.numbers)
            self._known[id(one)] = (one, found)
        return self._known[id(one)][1]

    def opened(
        self, one: Ingredient, must_show: Iterable[str], *, is_small: bool
    ) -> Opened:
        """It as it stands in the list, every allergen shown.

        Args:
            one: an ingredient of the larder.
            must_show: allergens that it contains.
            is_small: whether it is surely less than `SMALL` of the finished food.
        """
        said = self.declared(one)
        rules, asks = [said.rule], [said.ask] if said.ask else []
        parts, words = said.parts, ""
        if said.kind == "law" and is_small:
            rules.append("ING-16")
            parts = tuple(part for part in parts if self._is_additive(part))
        elif said.kind == "spices" and is_small:
            rules.append("ING-17")
            parts = ()
        elif not said.is_said:
            words = _usual(said)
        if words:
            asks.append(words)
        inside = []
        for part in parts:
            found, more = self._part(part, said, (id(one),))
            inside.append(found)
            asks += more
        if inside:
            rules.append("ING-15")
        shown = named(said.name, _in_order(must_show), inside)
        if shown.allergens:
            rules += ["ING-20", "ING-21"]
        return Opened(shown, tuple(dict.fromkeys(rules)), tuple(dict.fromkeys(asks)))

    def _is_additive(self, part: str) -> bool:
        name = split_parts(part)[0]
        return _is_category(name) or additive(name) is not None

    def _part(
        self, text: str, within: Declared, path: tuple[int, ...], *, is_of: str = ""
    ) -> tuple[Named, list[str]]:
        """One part of a list, and what must be asked of it.

        Args:
            text: the part, as its list has it.
            within: the compound that it is in.
            path: compounds that it stands in, so that none is opened within itself.
            is_of: the category or name whose brackets it stands in.
        """
        before, inner, after = _brackets(text)
        load = self.contents.of_part(text)
        if exemption_of(text) is not None or len(path) > _DEEPEST:
            return named(text, _in_order(load.in_it)), []
        asks: list[str] = []
        if inner:
            found = []
            for part in inner:
                one, more = self._part(part, within, path, is_of=before)
                found.append(one)
                asks += more
            own = self.contents.of_part(before).in_it if before else ()
            return named(before, _in_order(own), found, after), asks
        kept = self._within(text, within, path)
        if kept is not None:
            return kept
        if within.kind in {"compound", "law"} and not is_of:
            known = additive(text)
            if known is not None:  # our usual lists name additives without category
                one = named(text, _in_order(load.in_it))
                return named(known.categories[0], (), [one]), asks
        asks += _bare(text)
        return named(text, _in_order(load.in_it)), asks

    def _within(
        self, text: str, within: Declared, path: tuple[int, ...]
    ) -> tuple[Named, list[str]] | None:
        """A compound of the maker's own inside another, opened in its turn."""
        known = self.contents.known(text)
        if known is None or not known.own or not known.parts:
            return None
        if id(known) in path:
            ask = f"what {text} is made of: its list leads back to itself"
            return named(text, _in_order(self.contents.of(known).in_it)), [ask]
        asks: list[str] = []
        found = []
        for part in known.parts:
            one, more = self._part(part.name, within, (*path, id(known)))
            found.append(one)
            asks += more
        load = self.contents.of(known)
        return named(text, _in_order(load.in_it), found), asks


def _usual(said: Declared) -> str:
    if not said.parts:
        return "its list of ingredients"
    return "its list of ingredients; the one in brackets is the usual one, from memory"


def _bare(text: str) -> Iterator[str]:
    """What a part leaves open that the law wants said."""
    if key_of(text) in _BARE:
        yield f"of which plants the {text} is (ING-26)"
    elif _is_category(text):
        yield f"which {text} it is (ING-13)"


def _is_category(text: str) -> bool:
    return key_of(text) in _category_keys()


@cache
def _category_keys() -> frozenset[str]:
    return frozenset(key_of(name) for name in categories())


def _brackets(text: str) -> tuple[str, tuple[str, ...], str]:
    """What stands before, in and behind the brackets of a part.

    >>> _brackets("vegetable oils (palm, rapeseed) in varying proportions")
    ('vegetable oils', ('palm', 'rapeseed'), 'in varying proportions')
    """
    _, inner = split_parts(text)
    start, end = text.find("("), text.rfind(")")
    depth = 0
    for letter in text[start:end]:
        depth += {"(": 1, ")": -1}.get(letter, 0)
        if depth == 0:  # closed before the end: not one pair of brackets
            return text.strip(), (), ""
    if not inner or _letters("".join(inner)) != _letters(text[start + 1 : end]):
        return text.strip(), (), ""
    return text[:start].strip(), inner, text[end + 1 :].strip()


def _letters(text: str) -> str:
    """What is written, but for what parts a list."""
    return "".join(
        letter for letter in text if not letter.isspace() and letter not in ",;"
    )


def _in_order(allergens: Iterable[str]) -> list[str]:
    found = set(allergens)
    return [one for one in ALLERGENS if one in found]
