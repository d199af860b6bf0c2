"""A tin or a cut, typed beside the drawing and written above the layers of its card."""

import re
from dataclasses import replace
from typing import Final

from slabwright.errors import FileError, Mistake, Where
from slabwright.files.card.cuts import read_cut
from slabwright.files.card.edit import (
    Edit,
    below,
    check_words,
    first_word,
    head_lines,
    over,
    refused,
)
from slabwright.files.card.head import Tins, read_head_tin
from slabwright.files.card.lines import CardLine
from slabwright.files.card.reader import CardRead, LineRead
from slabwright.files.card.typed import typed_pieces
from slabwright.spec.card import SaidCut

_LONGEST: Final = 120
_KEPT: Final = re.compile(
    r"\b(?:(?:trim|knife)\s*(?:to\s+)?[^\s,](?:[^,]|,(?=\d))*?"
    r"(?=\s*(?:,(?!\d)|$|\s(?:trim|knife|at\s+least|each|halved|quartered)\b)))",
    re.IGNORECASE,
)
"""Clauses of a cut that have nothing to do with how it is divided."""
_GRID: Final = "5 x 4"
_SIZE: Final = "58 x 47.5 mm"


def tin(text: str, read: CardRead, words: str, tins: Tins) -> Edit:
    """Another tin, or the first one.

    Args:
        text: the card.
        read: the same, read.
        words: its inner sizes, or the name of a tin.
        tins: the tins that this kitchen knows.

    Raises:
        FileError: for what is no tin, or where the card can't say it.
    """
    value = _bare(words, "tin", "30 x 20 x 5 cm, or its name")
    _insist_on_slab(read, "tin")
    found = read_head_tin(_alone("tin", value), value, tins)
    if isinstance(found, Mistake):
        raise _typed_wrongly(found)
    said = read.card.tin
    if said is not None:
        return over(text, said.span, value)
    return _placed(text, read, "tin", value)


def cut(text: str, read: CardRead, words: str, tins: Tins) -> Edit:
    """The card's cut, done another way; trim, knife and another tin stay as said.

    Args:
        text: the card.
        read: the same, read.
        words: any way to cut: `5 x 4`, `58 x 47.5 mm, trim 4 mm`, `12 wedges`.
        tins: the tins that this kitchen knows.

    Raises:
        FileError: for what is no cut, or where the card can't say it.
    """
    value = _bare(words, "cut", f"{_GRID}, or {_SIZE}")
    _insist_on_slab(read, "cut")
    _cut_read(value, tins)
    cuts = read.card.cuts
    said = next((one for one in cuts if not one.tin_name), next(iter(cuts), None))
    if said is None:
        return _placed(text, read, "cut", value)
    return over(text, said.span, f"{value}{_kept(said, value)}")


def pieces(text: str, read: CardRead, count: str | float, tins: Tins) -> Edit:
    """Cut it in so many pieces. Arguments and errors as for `cut`."""
    return cut(text, read, f"{typed_pieces(count)} pieces", tins)


def grid(text: str, read: CardRead, words: str, tins: Tins) -> Edit:
    """Cut it in rows: `5 x 4`. Arguments and errors as for `cut`."""
    value = _bare(words, "cut", _GRID)
    if _cut_read(value, tins).request.along is None:
        raise refused(f"'{value}' says no rows.", f"Write it so: {_GRID}.")
    return cut(text, read, value, tins)


def piece_size(text: str, read: CardRead, words: str, tins: Tins) -> Edit:
    """Cut it to a size: `58 x 47.5 mm`. Arguments and errors as for `cut`."""
    value = _bare(words, "cut", _SIZE)
    if _cut_read(value, tins).request.piece_length_mm is None:
        raise refused(f"'{value}' is no size of a piece.", f"Write it so: {_SIZE}.")
    return cut(text, read, value, tins)


def _insist_on_slab(read: CardRead, word: str) -> None:
    card = read.card
    if read.is_pasted:
        what = f"A pasted recipe has no line for a {word}."
        raise refused(what, "Write it as a card first; then it has.")
    if card.is_component:
        what = f"A component has no {word} of its own."
        raise refused(what, "Say it on the card of a slab.")
    if _headed(read, "slab") is None:
        raise refused("This is no card yet.", "Begin it with: slab and a name.")


def _bare(words: str, word: str, example: str) -> str:
    value = words.strip().removeprefix(f"{word} ").strip()
    check_words(value)
    if not value or len(value) > _LONGEST:
        raise refused(f"That is no {word}.", f"Write it so: {example}.")
    return value


def _alone(word: str, value: str) -> CardLine:
    return CardLine(1, f"{word} {value}", f"{word} {value}", 1)


def _cut_read(value: str, tins: Tins) -> SaidCut:
    found = read_cut(_alone("cut", value), value, tins)
    if isinstance(found, Mistake):
        raise _typed_wrongly(found)
    return found


def _typed_wrongly(mistake: Mistake) -> FileError:
    """The same mistake, which stands on no line of the card."""
    return FileError(replace(mistake, where=Where(field=mistake.where.field)))


def _kept(said: SaidCut, value: str) -> str:
    """What stays of a cut whose way becomes another, as it was written."""
    words, place = said.text, ""
    if said.tin_name:
        name = re.escape(said.tin_name)
        words = re.sub(rf",?\s+in\s+{name}\s*$", "", words)
        place = f", in {said.tin_name}"
    kept = [
        clause
        for clause in _KEPT.findall(words)
        if not re.search(rf"\b{'knife' if 'knife' in clause else 'trim'}\b", value)
    ]
    own = "" if re.search(r"\sin\s+[^\W\d]", value) else place
    return "".join(f", {clause}" for clause in kept) + own


def _placed(text: str, read: CardRead, word: str, value: str) -> Edit:
    """A word that the card does not have: below those that stand before it.

    A line that says it wrongly is written anew.
    """
    broken = _headed(read, word)
    if broken is not None:
        begins = len(broken.line.text.partition(" ")[0])
        return over(text, broken.line.span(begins), f" {value}")
    before = ("slab", "tin") if word == "cut" else ("slab",)
    found = [_headed(read, one) for one in before]
    lines = [one for one in found if one is not None]
    last = max(lines, key=lambda one: one.line.number)
    inset = last.line.raw[: last.line.column - 1]
    return below(text, last.line.number, f"{inset}{word} {value}")


def _headed(read: CardRead, word: str) -> LineRead | None:
    """The line above the layers that begins with a word, well read or not."""
    lines = head_lines(read)
    return next((one for one in lines if first_word(one) == word), None)
