"""What every ingredient of a larder brings, down through its parts and theirs."""

from collections.abc import Iterable, Iterator
from typing import Final

from slabwright.label.allergen.allergens import IN_IT, Doubt
from slabwright.label.allergen.brought import (
    MOST_WAYS,
    Brought,
    Load,
    below,
    by_table,
    by_word,
    exempted,
    own_of,
    through_parts,
)
from slabwright.label.allergen.doubts import hidden, named_in_vain, still_open
from slabwright.label.allergen.part_words import (
    exemption_of,
    exemptions_called,
    is_only_doubted,
    split_parts,
    told,
)
from slabwright.larder.ingredient import ALLERGENS, Ingredient
from slabwright.larder.lookup import Larder

_PLAIN: Final = ("name", "usual")
"""Ways of finding a part that read nothing into its name."""
_DEEPEST: Final = 20
"""Compounds in compounds that are opened; beyond, it is not known what is in them."""


class Contents:
    """What every ingredient of a larder brings, each worked out once."""

    def __init__(self, larder: Larder, country: str) -> None:
        self.larder = larder
        self.country = country
        self._ours = {one.id: one for one in larder.ingredients if not one.own}
        self._known: dict[int, tuple[Ingredient, Load]] = {}
        self._texts: dict[str, tuple[Ingredient, ...]] = {}
        self._parts: dict[str, Load] = {}

    def of(self, ingredient: Ingredient) -> Load:
        """What this ingredient brings."""
        return self._load(ingredient, ())

    def of_part(self, text: str) -> Load:
        """What these words of a supplier's list bring."""
        if text not in self._parts:
            self._parts[text] = self._part(text, ())
        return self._parts[text]

    def known(self, name: str) -> Ingredient | None:
        """The ingredient that is called just so; None if none is."""
        return self._found(name)

    def named_in(self, text: str) -> tuple[Ingredient, ...]:
        """Ingredients that a sentence names, each once."""
        if text not in self._texts:
            named = self.larder.mentions(text, self.country)
            found = {id(one): one for _, _, one in named}
            self._texts[text] = tuple(found.values())
        return self._texts[text]

    def _load(self, one: Ingredient, inside: tuple[int, ...]) -> Load:
        """Its own allergens, those of its parts, and what neither settles.

        Args:
            one: the ingredient.
            inside: compounds that it stands in, so that none is opened within itself.
        """
        if id(one) in self._known:
            return self._known[id(one)][1]
        path = (*inside, id(one))
        parts = [self._part(part.name, path) for part in one.parts]
        inner = [found for load in parts for found in load.brought]
        if not one.own:
            inner, unsure = by_table(one, inner)
        else:
            unsure = []
        through = {found.allergen for found in inner if found.state in IN_IT}
        own = tuple(own_of(one, through))
        said = {found.allergen for found in own if found.state in IN_IT} | through
        open = [*unsure, *(doubt for load in parts for doubt in load.doubts)]
        doubts = tuple(still_open(self._doubts(one, open, said), said))
        is_cut = any(load.is_cut for load in parts)
        free = (one for one in _called_exempt(one.name) if one.allergen not in said)
        known = (*own, *free, *through_parts(inner, said))
        load = Load(known, doubts[:MOST_WAYS], is_cut)
        if not (is_cut and inside):  # within a circle it lacks what stands around it
            self._known[id(one)] = (one, load)
        return load

    def _part(self, text: str, inside: tuple[int, ...]) -> Load:
        """One part of a compound, by the larder, by its brackets, by its words."""
        covered = exemption_of(text)
        if covered is not None:
            return Load(tuple(exempted(text, covered, (text,))))
        name, inner = split_parts(text)
        words, named = told(name), self._found(name)
        if named is not None and is_only_doubted(name):
            named = None  # the larder takes a bare `lecithin` for one of soya
        if len(inside) > _DEEPEST or (named is not None and id(named) in inside):
            why = f"its part “{text}” is made of itself, or of too many compounds"
            return Load((), (Doubt(ALLERGENS, why, (text,)),), is_cut=True)
        loads = [self._part(part, inside) for part in inner]
        if named is not None:
            loads.insert(0, self._load(named, inside))
        shown = name if inner and name else text
        found = [below(one, shown) for load in loads for one in load.brought]
        doubts = [
            Doubt(one.allergens, one.why, (shown, *one.way))
            for load in loads
            for one in load.doubts
        ]
        for word in words.words:
            if word.how == "contains":
                found += by_word(text, word)
            elif named is None:
                doubts.append(Doubt(word.allergens, word.note, (text,)))
        if not loads and not words.is_all and not exemptions_called(name):
            why = f"the larder does not know its part “{text}”"
            doubts.append(Doubt(ALLERGENS, why, (text,)))
        is_cut = any(load.is_cut for load in loads)
        return Load(tuple(found), tuple(doubts), is_cut)

    def _found(self, name: str) -> Ingredient | None:
        match = self.larder.find(name, self.country) if name else None
        return match.ingredient if match and match.how in _PLAIN else None

    def _doubts(
        self, one: Ingredient, inner: Iterable[Doubt], said: set[str]
    ) -> Iterator[Doubt]:
        """What nobody has settled about it."""
        warned = tuple(hidden(one, self.country))
        yield from warned
        if one.allergens_by in {"row", "answer"}:
            yield from self._against(one, said)
            return
        told_of = {allergen for doubt in warned for allergen in doubt.allergens}
        for doubt in inner:
            # our tables tell what hides in it; an unnamed flavouring is no news there
            is_news = one.own or set(doubt.allergens) != set(ALLERGENS)
            if is_news and not told_of.issuperset(doubt.allergens):
                yield doubt
        if one.allergens_by == "nobody" and not one.parts:
            why = "its row in larder.yaml says nothing of allergens"
            yield Doubt(ALLERGENS, why, ())
        if one.own:
            yield from named_in_vain(one, said)

    def _against(self, one: Ingredient, said: set[str]) -> Iterator[Doubt]:
        """What a row leaves out, though its name or what it is like says it.

        A row that names its source is taken at its word against what it is like, but
        not where it is that very thing by another pack.
        """
        yield from named_in_vain(one, said)
        like = self._ours.get(one.like)
        if like is None:
            return
        own = {called.text.casefold() for called in one.names}
        is_same = not own.isdisjoint(called.text.casefold() for called in like.names)
        if one.allergens_by == "answer" and not is_same:
            return
        left = tuple(a for a in ALLERGENS if a in self.of(like).in_it - said)
        if left:
            why = (
                f"it is {'' if is_same else 'like '}{like.name}; its row leaves it out"
            )
            yield Doubt(left, why, ())


def _called_exempt(name: str) -> Iterator[Brought]:
    """What an ingredient is made of by its own name, and need not be declared."""
    by = exemption_of(name)
    return exempted(name, by, ()) if by else iter(())
