"""What a pasted recipe can itself say: its tin, and how many pieces it makes."""

import re
from collections.abc import Iterator
from typing import Final

from slabwright.errors import Span
from slabwright.files.card.cuts import read_cut
from slabwright.files.card.edit import Edit, below, is_verbatim, over, read_at
from slabwright.files.card.head import Tins, read_head_tin
from slabwright.files.card.lines import CardLine
from slabwright.files.card.names import Names
from slabwright.files.card.reader import CardRead
from slabwright.files.card.typed import typed_pieces
from slabwright.files.pasted.reader import read_pasted
from slabwright.spec.card import Card, SaidCut, SaidTin

_DEEP: Final = re.compile(r",?\s*\d+(?:[.,]\d+)?\s*(?:cm|mm|in(?:ch(?:es)?)?)\s+deep\b")


def pasted_edit(
    text: str, read: CardRead, what: str, value: str, names: Names, tins: Tins
) -> Edit | None:
    """The change in the recipe's own words; None where these have no place for it.

    Nothing else may read otherwise afterwards: that is tried.

    Args:
        text: the pasted recipe.
        read: the same, read.
        what: `tin` or `pieces`; nothing else can be said.
        value: what was typed.
        names: what this kitchen calls by name.
        tins: the tins that it knows.

    Raises:
        FileError: for a number of pieces that makes no sense.
    """
    wanted: object
    if what == "pieces":
        count = typed_pieces(value)
        wanted = read_cut(_alone(f"cut {count} pieces"), f"{count} pieces", tins)
        ways = _pieces_ways(text, read, count)
    elif what == "tin":
        words = value.strip().removeprefix("tin ").strip()
        wanted = read_head_tin(_alone(f"tin {words}"), words, tins)
        ways = _tin_ways(text, read, words)
    else:
        return None
    for way in ways:
        after = read_pasted(way.applied(text), names, tins, read.file)
        if _says(after.card, wanted) and _lines(after.card) == _lines(read.card):
            return way
    return None


def _alone(words: str) -> CardLine:
    return CardLine(1, words, words, 1)


def _says(card: Card, wanted: object) -> bool:
    if isinstance(wanted, SaidTin):
        return card.tin is not None and card.tin.tin == wanted.tin
    if isinstance(wanted, SaidCut):
        return bool(card.cuts) and card.cuts[0].request == wanted.request
    return False


def _lines(card: Card) -> list[tuple[str, tuple[str, ...]]]:
    """What goes in, layer by layer."""
    blocks = (layer.component for layer in card.layers)
    return [(one.name, tuple(line.text for line in one.lines)) for one in blocks]


def _pieces_ways(text: str, read: CardRead, count: int) -> Iterator[Edit]:
    """The number that says how many it makes, or a line that does."""
    for said in read.card.cuts[:1]:
        line = read_at(read, said.span.line)
        old = str(said.request.pieces)
        if line is None or not is_verbatim(text, line):
            return
        for found in re.finditer(rf"(?<![\d.,]){old}(?![\d.,]?\d)", line.line.text):
            yield over(text, line.line.span(found.start(), found.end()), str(count))
        return
    yield from _below_title(text, read, f"Makes {count} pieces")


def _tin_ways(text: str, read: CardRead, words: str) -> Iterator[Edit]:
    """The words that name the tin, or a line that does."""
    said = read.card.tin
    if said is None:
        yield from _below_title(text, read, f"Tin: {words}")
        return
    line = read_at(read, said.span.line)
    if line is None or not is_verbatim(text, line):
        return
    end = said.span.end - line.line.column
    deep = _DEEP.match(line.line.text, end)
    stop = line.line.column + (deep.end() if deep else end)
    span = Span(said.span.line, said.span.column, stop)
    yield over(text, span, f"{words} tin")
    shape, _, size = words.partition(" ")
    if shape in {"round", "square"}:
        first, comma, rest = size.partition(",")
        yield over(text, span, f"{first} {shape} tin{comma}{rest}")


def _below_title(text: str, read: CardRead, words: str) -> Iterator[Edit]:
    first = next((one for one in read.lines if one.line.text), None)
    if first is not None and is_verbatim(text, first):
        yield below(text, first.line.number, words)
