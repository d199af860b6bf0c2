"""How a slab is sold, called and dated: typed beside its card, kept in its head."""

from collections.abc import Callable, Mapping
from typing import Final

from slabwright.errors import Mistake
from slabwright.files.card.bearing import read_costs
from slabwright.files.card.edit import (
    Edit,
    below,
    check_words,
    first_word,
    head_lines,
    over,
    refused,
)
from slabwright.files.card.lines import CardLine
from slabwright.files.card.reader import CardRead, LineRead
from slabwright.files.card.selling import (
    read_called,
    read_dated,
    read_pictured,
    read_sold,
)
from slabwright.kitchen import Told
from slabwright.spec.card import Sold

_READ: Final[Mapping[str, Callable[[CardLine, str], object]]] = {
    "sold": read_sold,
    "called": read_called,
    "pictured": read_pictured,
    "dated": read_dated,
    "costs": read_costs,
}
SELLING: Final = tuple(_READ)
"""Words of a card that a label or a price leans on."""
_BEFORE: Final = ("slab", "tin", "cut", "keep", *SELLING)
_LONGEST: Final = 400


def selling(text: str, read: CardRead, word: str, typed: str) -> Edit:
    """One of these words on the card, in place of what it said or as a new line.

    A card may be sold in several ways: only the line of the same offer is replaced, and
    a price that begins on a day stands beside the one before it.

    Args:
        text: the card.
        read: the same, read.
        word: one of `SELLING`.
        typed: what it is to say.

    Raises:
        FileError: for words that say nothing of the kind, or where a card can't say it.
    """
    value = " ".join(typed.split()).removeprefix(f"{word} ").strip()
    check_words(value)
    if read.is_pasted or not read.card.name:
        what = f"A pasted recipe has no line for {word}."
        raise refused(what, "Write it as a card first; then it has.")
    if read.card.is_component:
        raise refused("A component is not sold.", "Say it on the card of a slab.")
    if not value or len(value) > _LONGEST:
        what = "There is nothing to write." if not value else "That is too long."
        raise refused(what, f"Write it in at most {_LONGEST} characters.")
    said = _READ[word](CardLine(1, f"{word} {value}", f"{word} {value}", 1), value)
    if isinstance(said, Mistake):
        raise refused(said.what, said.do)
    lines = [one for one in head_lines(read) if first_word(one) == word]
    there = next((one for one in lines if _gives_way(one, said)), None)
    if there is not None:
        begins = len(there.line.text.partition(" ")[0])
        return over(text, there.line.span(begins), f" {value}")
    heads = [one for one in head_lines(read) if first_word(one) in _BEFORE]
    last = max(heads, key=lambda one: one.line.number)
    inset = last.line.raw[: last.line.column - 1]
    return below(text, last.line.number, f"{inset}{word} {value}")


def _gives_way(one: LineRead, said: object) -> bool:
    """Whether a line of the same word is to be replaced by this one."""
    other = next(iter(one.values), None)
    if isinstance(said, Told):
        return isinstance(other, Told) and (other.kind, other.per, other.what) == (
            said.kind,
            said.per,
            said.what,
        )
    if not isinstance(said, Sold):
        return True
    if not isinstance(other, Sold):
        return one.reads_as == "mistake" or other is None
    if other.way is None or said.way is None:
        return other.how.casefold() == said.how.casefold()
    return other.offer == said.offer and other.from_day == said.from_day
