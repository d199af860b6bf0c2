"""Changing one value of a card: its span alone, every other character as it was."""

import os
import tempfile
from dataclasses import dataclass
from pathlib import Path

from slabwright.errors import FileError, Mistake, Span, Where
from slabwright.files.card.lines import LINE_END
from slabwright.files.card.reader import CardRead
from slabwright.files.raw import Text, read_text
from slabwright.formula.book import slug
from slabwright.formula.component import Component, Deep, Density, Ends, Loses
from slabwright.formula.line import Line


@dataclass(frozen=True, slots=True)
class Change:
    """A card before and after one value was written over."""

    before: Text
    text: Text
    span: Span
    was: str
    value: str


def replaced(text: Text, span: Span, value: str) -> Change:
    """The text with `value` in this span and nothing else changed.

    Raises:
        FileError: if the value would break the line or the span lies outside.
    """
    if LINE_END.search(value) or "#" in value:
        what = "A value stands on one line and holds no #."
        raise FileError(Mistake(what, "Write it without.", Where(text.file, span)))
    start = _offset(text.text, span.line) + span.column - 1
    end = start + span.end - span.column
    if not 0 <= start <= end <= len(text.text):
        what = "There is no such place in the card."
        raise FileError(Mistake(what, "Read it again.", Where(text.file, span)))
    was = text.text[start:end]
    new = Text(text.text[:start] + value + text.text[end:], text.file, text.has_bom)
    return Change(text, new, span, was, value)


def amended(text: Text, read: CardRead, what: str, value: str) -> Change:
    """The card with one value changed.

    Args:
        text: the card.
        read: the same, read.
        what: `tin`, `cut`, `LAYER/ends`, `LAYER/density`, `LAYER/deep`,
            `LAYER/loses`, `LAYER/INGREDIENT` (its amount), or a line's number.
        value: what is to stand there.

    Raises:
        FileError: if nothing on the card is called so.
    """
    return replaced(text, _span(text, read, what), value)


def changed_line(change: Change) -> str:
    """The line before and after, for a look at what was done."""
    number = change.span.line
    old = LINE_END.split(change.before.text)[number - 1]
    new = LINE_END.split(change.text.text)[number - 1]
    return f"line {number}\n- {old}\n+ {new}"


def write_back(path: Path, change: Change) -> None:
    """Write the changed card, whole or not at all.

    Raises:
        FileError: if the file was changed by somebody else since it was read.
    """
    if read_text(path) != Text(change.before.text, str(path), change.before.has_bom):
        what = f"'{path}' was changed meanwhile."
        raise FileError(Mistake(what, "Read it again, then change it."))
    mode = path.stat().st_mode
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.")
    with os.fdopen(handle, "wb") as file:
        file.write(change.text.encoded(change.text.text))
        file.flush()
        os.fsync(file.fileno())
    Path(name).chmod(mode)
    Path(name).replace(path)


def _offset(text: str, line: int) -> int:
    """Where a line begins."""
    ends = [match.end() for match in LINE_END.finditer(text)]
    starts = [0, *ends]
    if not 1 <= line <= len(starts):
        what = f"The card has no line {line}."
        raise FileError(Mistake(what, f"It has {len(starts)}."))
    return starts[line - 1]


def _span(text: Text, read: CardRead, what: str) -> Span:
    card = read.card
    if what.isdigit():
        found = next((one for one in read.lines if one.line.number == int(what)), None)
        if found is not None and found.line.text:
            return found.line.span()
    if what.casefold() == "tin" and card.tin:
        return card.tin.span
    if what.casefold() == "cut" and card.cuts:
        return card.cuts[0].span
    layer, _, part = what.partition("/")
    blocks = [one.component for one in card.layers] + list(card.components)
    for block in blocks:
        if slug(block.name) == slug(layer):
            span = _in_block(block, part)
            if span is not None:
                return span
    names = ", ".join(f"{b.name}/{_first(b)}" for b in blocks[:4])
    what_is_wrong = f"Nothing on this card is called '{what}'."
    do = f"Write tin, cut, a line's number, or one such as: {names}."
    raise FileError(Mistake(what_is_wrong, do, Where(text.file)))


def _first(block: Component) -> str:
    return block.lines[0].name if block.lines else "ends"


def _in_block(block: Component, part: str) -> Span | None:
    kinds = {"ends": Ends, "loses": Loses, "deep": Deep, "density": Density}
    wanted = kinds.get(part.casefold().strip())
    for event in block.events:
        if wanted is not None and isinstance(event, wanted):
            return event.span
        if isinstance(event, Line) and slug(event.name) == slug(part):
            return _amount(event)
    return None


def _amount(line: Line) -> Span | None:
    """Where a line says how much: its amount, or what stands after `=`."""
    if line.amounts:
        first, last = line.amounts[0].span, line.amounts[-1].span
        return Span(first.line, first.column, last.end)
    return line.stated_span
