"""A whole card: every line read, every mistake kept with its place, nothing dropped."""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Final

from slabwright.errors import Mistake, Span, Where
from slabwright.files.card import head, selling
from slabwright.files.card.asked import keep_asked
from slabwright.files.card.bearing import read_costs
from slabwright.files.card.block import NotAWord, Word, read_word
from slabwright.files.card.cuts import read_cut
from slabwright.files.card.draft import Block, Draft
from slabwright.files.card.ingredient import read_ingredient
from slabwright.files.card.lines import (
    LONGEST_LINE,
    LONGEST_NAME,
    CardLine,
    lines_of,
)
from slabwright.files.card.names import Names
from slabwright.files.card.opening import names_on, read_layer
from slabwright.files.card.outcome import NotALine
from slabwright.files.card.steps import read_step
from slabwright.formula.component import Deep, Density, Event, Note
from slabwright.formula.kinds import Kind
from slabwright.formula.line import Line
from slabwright.formula.step import Step
from slabwright.spec.card import Card, UnreadLine

_OPENS: Final = re.compile(r"^(slab|component)\s+(?=\S)", re.IGNORECASE)
_UNNAMED: Final = "Layer"
_FINISH: Final = re.compile(r"^finish\s*:?$", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class LineRead:
    """One line of the text, and what it was taken for."""

    line: CardLine
    reads_as: str
    """blank, word, ingredient, step, mistake."""
    word: str = ""
    """The card word, for a word."""
    values: tuple[object, ...] = ()
    """What was read: values of the core."""


@dataclass(frozen=True, slots=True)
class CardRead:
    """A card, every line of it, and its mistakes."""

    card: Card
    lines: tuple[LineRead, ...]
    mistakes: tuple[Mistake, ...]
    text: str = ""
    file: str = ""
    is_pasted: bool = False
    """Whether it was no card, but a recipe as people have them."""


def is_card(text: str) -> bool:
    """Whether the first line that says anything begins a card."""
    first = next((line for line in lines_of(text) if line.text), None)
    return first is not None and _OPENS.match(first.text) is not None


def read_card(text: str, names: Names, tins: head.Tins, file: str = "") -> CardRead:
    """Everything that this card says, and every mistake in it, all at once.

    Args:
        text: the card, without byte order mark.
        names: what this kitchen's larder and components are called.
        tins: the tins that this kitchen knows by name.
        file: the card's file, for the places of mistakes.
    """
    lines = lines_of(text)
    if not is_card(text):
        return _no_card(lines, text, file)
    known = names.with_components(names_on(lines))
    draft = Draft(file)
    read = tuple(_read_line(line, draft, known, tins) for line in lines)
    return CardRead(draft.card(), read, tuple(draft.mistakes), text, file)


def _no_card(lines: tuple[CardLine, ...], text: str, file: str) -> CardRead:
    first = next((line for line in lines if line.text), None)
    span = first.span() if first else Span(1, 1, 1)
    what = (
        "This is not a card: its first line does not begin with slab and a name."
        if first
        else "The card is empty."
    )
    mistake = Mistake(
        what, "Begin with: slab NAME, or: component NAME.", Where(file, span)
    )
    read = tuple(LineRead(line, "blank" if not line.text else "step") for line in lines)
    return CardRead(Card(""), read, (mistake,), text, file)


def _read_line(line: CardLine, draft: Draft, names: Names, tins: head.Tins) -> LineRead:
    if not line.text:
        keep_asked(line, draft)
        return LineRead(line, "blank")
    if len(line.raw) > LONGEST_LINE:
        what = f"The line has {len(line.raw):,} characters; at most {LONGEST_LINE:,}."
        return _mistake(line, draft, Mistake(what, "Break it up.", _at(line)))
    word, _, value = line.text.partition(" ")
    word, value = word.casefold().rstrip(":"), value.strip()
    opened = _open_block(line, word, value, draft, names)
    if opened is not None:
        return opened
    if word == "note" and value:
        if draft.block is None:
            draft.notes.append(value)
            return LineRead(line, "word", "note", (value,))
        return _event(line, draft, "note", Note(line.span(), value))
    if draft.block is None:
        said = _head_word(line, word, value, draft, tins)
        if said is not None:
            return said
    return _in_block(line, draft, names)


def _open_block(
    line: CardLine, word: str, value: str, draft: Draft, names: Names
) -> LineRead | None:
    """A line that opens the slab or one of its blocks; None if it opens none."""
    if _FINISH.match(line.text):
        draft.open(Block("finish", "finish", line.span()))
        return LineRead(line, "word", "finish")
    if word not in {"slab", "component", "layer"} or not (value or word == "layer"):
        return None
    if word == "slab":
        return _open_slab(line, value, draft)
    opened = _layer(line, value, names) if word == "layer" else _component(line, value)
    block, mistake = opened
    if word == "component" and draft.has_component(block.name):
        what = f"Two components are called '{block.name}'."
        mistake = Mistake(what, "Give each its own name.", _at(line))
    if word == "component" and not draft.name:
        draft.name, draft.is_component = block.name, True
    draft.open(block)  # also after a mistake: its lines are no one else's
    if mistake is not None:
        return _mistake(line, draft, mistake)
    return LineRead(line, "word", word, (block if word == "layer" else value,))


def _open_slab(line: CardLine, value: str, draft: Draft) -> LineRead | None:
    if draft.name:
        return None
    draft.name = value[:LONGEST_NAME]
    if len(value) > LONGEST_NAME:
        return _mistake(line, draft, _too_long(line, value))
    return LineRead(line, "word", "slab", (value,))


def _component(line: CardLine, value: str) -> tuple[Block, Mistake | None]:
    block = Block("component", value[:LONGEST_NAME], line.span())
    too_long = len(value) > LONGEST_NAME
    return block, _too_long(line, value) if too_long else None


def _layer(line: CardLine, value: str, names: Names) -> tuple[Block, Mistake | None]:
    name = re.split(r"\s+from\s+|,", value)[0].strip()
    bare = Block("layer", name[:LONGEST_NAME] or _UNNAMED, line.span())
    if not name:
        what, do = "The layer has no name.", "Write layer Rye shortbread."
        return bare, Mistake(what, do, _at(line))
    if len(name) > LONGEST_NAME:
        return bare, _too_long(line, name)
    block = read_layer(line, value, names)
    if isinstance(block, Mistake):
        return bare, block
    if len(block.name) > LONGEST_NAME:  # with commas that say no amount
        return bare, _too_long(line, block.name)
    return block, None


def _too_long(line: CardLine, name: str) -> Mistake:
    what = f"The name has {len(name)} characters; at most {LONGEST_NAME}."
    return Mistake(what, "Shorten it.", _at(line))


def _head_word(
    line: CardLine, word: str, value: str, draft: Draft, tins: head.Tins
) -> LineRead | None:
    if not value or word not in HEAD_WORDS:
        return None
    said: object
    if word == "tin":
        said = head.read_head_tin(line, value, tins)
    elif word == "cut":
        said = read_cut(line, value, tins)
    else:
        said = _READERS[word](line, value)
    if isinstance(said, Mistake):
        return _mistake(line, draft, said)
    if not draft.say(word, said):
        what = f"'{word}' stands on this card twice."
        return _mistake(line, draft, Mistake(what, "Keep one of them.", _at(line)))
    return LineRead(line, "word", word, (said,))


_READERS: Final[Mapping[str, Callable[[CardLine, str], object]]] = {
    "keep": head.read_keep, "sold": selling.read_sold, "proved": head.read_proved,
    "called": selling.read_called, "pictured": selling.read_pictured,
    "dated": selling.read_dated, "costs": read_costs,
}  # fmt: skip
HEAD_WORDS: Final = frozenset({"tin", "cut", *_READERS})
"""Words that count above the first layer alone."""

Body = Word | Mistake | tuple[Line, ...] | Step
"""What a line inside a block may be."""


def _body(line: CardLine, names: Names) -> Body:
    """What this line says, wherever it stands; remembered, since most lines stay."""
    known: Body | None = names.memo.get(line)
    if known is not None:
        return known
    said: Body | NotAWord | NotALine = read_word(line, names)
    if isinstance(said, NotAWord):
        said = read_ingredient(line, names)
    if isinstance(said, NotALine):
        said = read_step(line, names)
    if isinstance(said, NotAWord | NotALine):
        raise TypeError(said)
    names.remember(line, said)
    return said


def _in_block(line: CardLine, draft: Draft, names: Names) -> LineRead:
    said = _body(line, names)
    if not isinstance(said, Mistake | Step):
        said = _misplaced(line, said, draft) or said
    if isinstance(said, Mistake):
        return _mistake(line, draft, said)
    if isinstance(said, Kind):
        draft.block_here(line.span()).kind = said.name
        return LineRead(line, "word", "kind", (said.name,))
    if isinstance(said, tuple):
        draft.block_here(line.span()).events.extend(said)
        return LineRead(line, "ingredient", "", said)
    if isinstance(said, Step):
        draft.block_here(line.span(), is_step=True).events.append(said)
        return LineRead(line, "step", "", (said,))
    return _event(line, draft, type(said).__name__.casefold(), said)


def _misplaced(
    line: CardLine, said: Word | tuple[Line, ...], draft: Draft
) -> Mistake | None:
    """What is wrong with where a line stands, if anything is."""
    if isinstance(said, tuple):
        if draft.block is not None and draft.block.what == "finish":
            what = "An ingredient stands in finish, where it would be in no figure."
            do = "Move it to the last layer, or give it a layer of its own."
            return Mistake(what, do, _at(line))
        return None
    word = line.text.split()[0]
    if draft.block is None:
        what = f"'{word}' stands above the first layer."
        return Mistake(what, "Move it into its layer.", _at(line))
    if isinstance(said, Deep | Density) and draft.has_event(type(said)):
        what = f"'{word}' stands in this layer twice."
        return Mistake(what, "Keep one of them.", _at(line))
    return None


def _event(line: CardLine, draft: Draft, word: str, event: Event) -> LineRead:
    draft.block_here(line.span()).events.append(event)
    return LineRead(line, "word", word, (event,))


def _mistake(line: CardLine, draft: Draft, mistake: Mistake) -> LineRead:
    placed = replace(mistake, where=replace(mistake.where, file=draft.file))
    if placed.where.span is None:
        placed = replace(placed, where=replace(placed.where, span=line.span()))
    draft.mistakes.append(placed)
    draft.unread.append(UnreadLine(line.text, line.span()))
    if draft.block is not None:
        draft.block.is_broken = True
    return LineRead(line, "mistake", "", (placed,))


def _at(line: CardLine) -> Where:
    return Where(span=Span(line.number, line.column, line.column + 1))
