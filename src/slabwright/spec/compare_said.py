"""What two cards say otherwise: their heads, and everything in a block but weights."""

import textwrap
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from slabwright.formula.book import slug
from slabwright.formula.component import Deep, Density
from slabwright.spec.compare_blocks import Block, Blocks
from slabwright.spec.compare_lines import LineChange, Spoons, says_otherwise, two_lines
from slabwright.spec.compare_lines import grams as grams_of
from slabwright.spec.compare_meaning import (
    amount_in_words,
    near,
    notes_of,
    of_take,
    plain,
    take_in_words,
)
from slabwright.spec.compare_twins import Entry, Twin, twins
from slabwright.spec.specification import LineFigures

_LONGEST: Final = 40
"""Of the words that name an entry by which another stands."""


@dataclass(frozen=True, slots=True)
class Said:
    """Something that the cards say otherwise: tin, cut, a step, a loss."""

    where: str
    what: str
    before: str
    """Empty where it is new."""
    after: str
    """Empty where it is gone."""


def differs(where: str, what: str, before: str, after: str) -> Iterator[Said]:
    """What is said otherwise, if anything is; white space says nothing."""
    if plain(before) != plain(after):
        yield Said(where, what, before, after)


def said_of_lists(
    where: str, old: Sequence[Entry], new: Sequence[Entry]
) -> Iterator[Said]:
    """Entries that came, went, were said otherwise or changed place.

    Args:
        where: the slab or the block that they stand in.
        old: what stood there, in its order.
        new: what stands there now.
    """
    for twin in twins(old, new):
        yield from _said_of_twin(where, twin, old, new)


def _said_of_twin(
    where: str, twin: Twin, old: Sequence[Entry], new: Sequence[Entry]
) -> Iterator[Said]:
    a = old[twin.before] if twin.before is not None else None
    b = new[twin.after] if twin.after is not None else None
    one = b or a
    if one is None:
        return
    is_line = one.kind == "line"  # its weight is a line's own matter
    if not is_line and (a is None or b is None or a.meaning != b.meaning):
        yield Said(where, one.kind, a.words if a else "", b.words if b else "")
    if twin.has_moved and twin.before is not None and twin.after is not None:
        places = _place(old, twin.before), _place(new, twin.after)
        if places[0] == places[1]:
            ends = _next(old, twin.before), _next(new, twin.after)
            places = f"{places[0]}, {ends[0]}", f"{places[1]}, {ends[1]}"
        yield Said(where, f"place of {_short(one)}", *places)


def _place(among: Sequence[Entry], n: int) -> str:
    return f"after {_short(among[n - 1])}" if n else "first"


def _next(among: Sequence[Entry], n: int) -> str:
    return f"before {_short(among[n + 1])}" if n + 1 < len(among) else "last"


def _short(entry: Entry) -> str:
    words = f"into {entry.words}" if entry.kind == "into" else entry.words
    return textwrap.shorten(words, _LONGEST, placeholder="…")


def said_of_blocks(two: Blocks, spoons: Spoons) -> Iterator[Said]:
    """What a block says otherwise, but for what its lines weigh.

    Args:
        two: the block in two versions.
        spoons: whose spoons the two kitchens have.
    """
    a, b = two.before, two.after
    if two.what in {"layer", "component"} and (a is None or b is None):
        yield Said(two.name, two.what, a.name if a else "", b.name if b else "")
        return
    if a is not None and b is not None:
        yield from differs(b.name, "name", a.name, b.name)
        yield from _said_of_words(a, b)
    sides = [one.entries if one else () for one in (a, b)]
    for twin in two.twins:
        yield from _said_of_twin(two.name, twin, *sides)
    yield from said_of_lists(two.name, *(one.notes if one else () for one in (a, b)))
    for before, after in two_lines(two):
        yield from said_of_line(two.name, before, after, spoons)


def _said_of_words(a: Block, b: Block) -> Iterator[Said]:
    """Kind, component, how much of it, density, measured depth."""
    yield from differs(b.name, "kind", a.component.kind, b.component.kind)
    if a.layer and b.layer:
        names = a.layer.from_name, b.layer.from_name
        if slug(names[0]) != slug(names[1]):
            yield Said(b.name, "made from", *names)
        takes = a.layer.take, b.layer.take
        if of_take(takes[0]) != of_take(takes[1]):
            words = (take_in_words(take) or "all of it" for take in takes)
            yield Said(b.name, "how much of it", *words)
    yield from differs(b.name, "density", _density(a), _density(b))
    yield from differs(b.name, "deep", _deep(a), _deep(b))


def _density(block: Block) -> str:
    said = block.last(Density)
    if said is None:
        return ""
    return f"{near(said.g_ml):.9g} g/ml{', measured' if said.is_measured else ''}"


def _deep(block: Block) -> str:
    said = block.last(Deep)
    return f"{near(said.depth_mm):.9g} mm" if said else ""


def said_of_line(
    where: str, a: LineFigures, b: LineFigures, spoons: Spoons
) -> Iterator[Said]:
    """What two versions of a line say otherwise, where they weigh the same.

    Args:
        where: the layer.
        a: the line before.
        b: the line after.
        spoons: whose spoons the two kitchens have.
    """
    weights = grams_of(a), grams_of(b)
    known = [one for one in weights if one is not None]
    same = len(known) == len(weights) and near(known[0]) == near(known[1])
    if same and says_otherwise(a, b, spoons):
        words = [amount_in_words(one.weighed.line) for one in (a, b)]
        if words[0] == words[1]:
            words = [plain(one.text) for one in (a, b)]
        yield Said(where, f"amount of {b.name}", *words)
    taken = [one.weighed.match.taken if one.weighed.match else "" for one in (a, b)]
    names = [plain(one.weighed.line.name) for one in (a, b)]
    if taken[0] != taken[1] and names[0].casefold() != names[1].casefold():
        yield Said(where, f"name of {b.name}", *names)
    notes = [notes_of(one.weighed.line) for one in (a, b)]
    if Counter(map(str.casefold, notes[0])) != Counter(map(str.casefold, notes[1])):
        yield Said(where, f"note on {b.name}", *(", ".join(one) for one in notes))


def said_of_moved(changes: Sequence[LineChange], spoons: Spoons) -> Iterator[Said]:
    """What lines that moved to another layer say otherwise there."""
    for one in changes:
        if one.what == "moved" and one.before and one.after:
            yield from said_of_line(one.where, one.before, one.after, spoons)
