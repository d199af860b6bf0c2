"""Values of a card by the names that their maker calls them."""

from dataclasses import dataclass
from difflib import get_close_matches
from typing import Final

from slabwright.errors import FileError, Mistake, Span, Where
from slabwright.files.card.reader import CardRead, LineRead
from slabwright.formula.book import slug
from slabwright.formula.component import (
    Deep,
    Density,
    Ends,
    Event,
    Into,
    Loses,
    Reads,
)
from slabwright.formula.line import Line

_WORDS: Final = frozenset(
    "slab keep sold called pictured dated costs proved note kind".split()
)
"""Words whose value is all that stands after them."""
_BROKEN: Final = _WORDS | {"tin", "cut", "ends", "loses", "reads", "deep", "density"}
"""Words that are found by their name on a line with a mistake, too."""
_MOST_NAMED = 4


@dataclass(frozen=True, slots=True)
class Place:
    """A value on a card: what it is called, and where it stands."""

    block: str
    """The layer or component that it belongs to; empty above the first."""
    name: str
    line: int
    span: Span | None
    """Of the value alone; None if the line says no amount."""

    def __str__(self) -> str:
        return f"{self.block}/{self.name}" if self.block else self.name


def place_called(read: CardRead, what: str) -> Place:
    """The one value that is called so: `tin`, `demerara`, `LAYER/ends`, `keep`.

    Raises:
        FileError: if nothing is called so, or more than one thing.
    """
    places = _places(read)
    wanted = slug(what)
    found = [p for p in places if wanted in {slug(p.name), slug(str(p))}]
    if len(found) == 1:
        return found[0]
    if not found:
        wrong = f"Nothing on this card is called '{what}'."
        names = ", ".join(_near(what, places))
        do = f"Write tin, cut, a line's number, or one such as: {names}."
        raise FileError(Mistake(wrong, do, Where(read.file)))
    wrong = f"{len(found)} lines of this card are called '{what}'."
    by_name = {str(one): one.line for one in found}
    if len(by_name) == len(found):
        names = ", ".join(f"{name} (line {line})" for name, line in by_name.items())
        do = f"Write one of: {names}."
    else:
        numbers = ", ".join(str(one.line) for one in found)
        do = f"Write a line's number and all that it is to say: {numbers}."
    raise FileError(Mistake(wrong, do, Where(read.file)))


def _places(read: CardRead) -> tuple[Place, ...]:
    card = read.card
    tin = [("tin", card.tin.span)] if card.tin else []
    said = tin + [("cut", cut.span) for cut in card.cuts[:1]]
    found = [
        Place("", word, span.line, span)
        for word, span in said
        if span.end > span.column  # a pasted recipe's tin may have no place
    ]
    blocks = [one.component for one in card.layers] + list(card.components)
    for block in blocks:
        found += [
            Place(block.name, name, event.span.line, span)
            for event in block.events
            for name, span in _named(event)
        ]
    begins = {block.span.line: block.name for block in blocks}
    inside = ""
    for one in read.lines:
        inside = begins.get(one.line.number, inside)
        if one.word == "finish":
            inside = "finish"
        found += _word(one, inside)
    return tuple(found)


def _named(event: Event) -> list[tuple[str, Span | None]]:
    if isinstance(event, Line):
        return [(event.name, _amount(event))]
    if isinstance(event, Ends | Loses | Reads | Deep | Density | Into):
        return [(type(event).__name__.casefold(), event.span)]
    return []


def _amount(line: Line) -> Span | None:
    """Where a line says how much: its amount, or what stands after `=`."""
    if line.amounts:
        first, last = line.amounts[0].span, line.amounts[-1].span
        return Span(first.line, first.column, last.end)
    return line.stated_span


def _word(one: LineRead, inside: str) -> list[Place]:
    """A word of the card that is no event, or one whose value can't be read."""
    word, _, value = one.line.text.partition(" ")
    word = word.casefold().rstrip(":")
    is_broken = one.reads_as == "mistake" and word in _BROKEN
    if not is_broken and not (one.word == word and word in _WORDS):
        return []
    span = one.line.span(len(one.line.text) - len(value.lstrip()))
    return [Place(inside, word, one.line.number, span)]


def _near(what: str, places: tuple[Place, ...]) -> list[str]:
    """Names that look like it; without any, the first value of each block."""
    by_name = {str(place).casefold(): str(place) for place in places}
    for place in places:
        by_name.setdefault(place.name.casefold(), str(place))
    asked = what.casefold().strip()
    part = asked.rpartition("/")[2].strip()
    holding = [name for key, name in by_name.items() if part and part in key]
    like = get_close_matches(asked, by_name, _MOST_NAMED, 0.7)
    near = dict.fromkeys([*holding, *(by_name[key] for key in like)])
    if near:
        return list(near)[:_MOST_NAMED]
    firsts = {place.block: str(place) for place in reversed(places) if place.block}
    return list(reversed(firsts.values()))[:_MOST_NAMED]
