"""Changes to a card that are made beside it: a depth, a tin, a number of pieces.

Each gives the one stretch of text that becomes another; every other character stays.
What is no card yet is written as one first, so that the change has a place.
"""

import re
from collections.abc import Callable
from dataclasses import dataclass
from math import isfinite
from typing import Final

from slabwright.errors import FileError, Mistake, Span, Where
from slabwright.files.card.head import Tins
from slabwright.files.card.lines import LINE_END
from slabwright.files.card.names import Names
from slabwright.files.card.reader import CardRead, LineRead, read_card
from slabwright.files.card.sizes import number_of
from slabwright.files.pasted.adopt import adopted
from slabwright.formula.component import Deep, Density, Ends, Loses
from slabwright.spec.card import CardLayer

_NUMBER: Final = re.compile(
    r"\s*(?P<n>\d+(?:[.,]\d+)?|\d*\s?[½¼¾])\s*(?P<u>[^\d\s].*)?$"
)
_STAYS: Final = re.compile(r"(?:trim|knife|in)\b", re.IGNORECASE)
"""A clause of a cut that has nothing to do with how it is divided."""
_HEADS: Final = {"layer", "component", "finish"}
MOST_MM: Final = 500.0
MOST_G: Final = 1e6
MOST_PIECES: Final = 2000


@dataclass(frozen=True, slots=True)
class Edit:
    """One stretch of a text, and what is to stand there instead."""

    start: int
    """In characters from the text's beginning."""
    end: int
    value: str

    def applied(self, text: str) -> str:
        """The text with it."""
        return text[: self.start] + self.value + text[self.end :]


@dataclass(frozen=True, slots=True)
class Asked:
    """What is to be changed, as it was typed beside the drawing."""

    what: str
    """A key of `EDITS`."""
    value: str
    layer: int | None = None
    """From the bottom, from 0, for what is about one."""


@dataclass(frozen=True, slots=True)
class _On:
    """The card that is changed."""

    text: str
    read: CardRead
    asked: Asked

    @property
    def layer(self) -> CardLayer:
        """The layer that it is about."""
        layers, number = self.read.card.layers, self.asked.layer
        if number is None or not 0 <= number < len(layers):
            raise _error("There is no such layer any more.", "Open its figure again.")
        return layers[number]

    def own_layer(self) -> CardLayer:
        """The same, if its formula stands on this card."""
        layer = self.layer
        if layer.from_name:
            what = f"{layer.name} comes from the component '{layer.from_name}'."
            raise _error(what, "Change it on that component's card.")
        return layer

    def number(self, most: float, unit: str) -> str:
        """The number that was typed, as a card writes it."""
        found = _NUMBER.match(self.asked.value)
        value = number_of(found["n"]) if found else None
        said = (found["u"] or "").strip().casefold() if found else ""
        if value is None or (said and said not in {unit, f"{unit}.", unit + " deep"}):
            what = f"'{self.asked.value}' is no number of {unit or 'pieces'}."
            raise _error(what, f"Write it so: 12 {unit}".rstrip() + ".")
        if not isfinite(value) or not 0 < value <= most:
            what = f"{value:g} {unit} is not likely.".replace(" is", " is", 1)
            raise _error(what, f"Give more than 0 and at most {most:,.0f} {unit}.")
        return f"{value:.6g}"


def edited(text: str, asked: Asked, read: CardRead, names: Names, tins: Tins) -> Edit:
    """The change that makes the card say what was typed beside it.

    Args:
        text: the card, or a pasted recipe: that is written as a card first.
        asked: what is to be changed.
        read: the text as it was read.
        names: what this kitchen calls by name.
        tins: the tins that it knows.

    Raises:
        FileError: for a value that makes no sense, or that the card then can't be
            read with.
    """
    if asked.what not in EDITS:
        raise _error(f"'{asked.what}' can't be changed so.", "Change the card itself.")
    card = text
    if read.is_pasted:
        card = adopted(read, names, tins)
        read = read_card(card, names, tins, read.file)
    change = EDITS[asked.what](_On(card, read, asked))
    after = change.applied(card)
    _insist(read, read_card(after, names, tins, read.file))
    return change if card == text else Edit(0, len(text), after)


def _insist(before: CardRead, after: CardRead) -> None:
    """Refuse a change that brings a mistake."""
    known = {(one.what, one.do) for one in before.mistakes}
    new = [one for one in after.mistakes if (one.what, one.do) not in known]
    if new:
        raise FileError(*new)


def _error(what: str, do: str) -> FileError:
    return FileError(Mistake(what, do, Where(field="value")))


# --- the changes --------------------


def _measured_depth(on: _On) -> Edit:
    depth = f"{on.number(MOST_MM, 'mm')} mm"
    return _event(on, on.layer, (Deep,), "deep", depth)


def _mass_after(on: _On) -> Edit:
    mass = f"{on.number(MOST_G, 'g')} g weighed"
    return _event(on, on.own_layer(), (Ends, Loses), "ends", mass)


def _density(on: _On) -> Edit:
    density = f"{on.number(5.0, 'g/ml')} g/ml measured"
    return _event(on, on.own_layer(), (Density,), "density", density)


def _wished_depth(on: _On) -> Edit:
    layer = on.layer
    depth = f"{on.number(MOST_MM, 'mm')} mm"
    head = _line(on.read, layer.component.span.line)
    if layer.take.span is not None:
        return _over(on.text, layer.take.span, depth)
    at = _offset(on.text, head.line.span().line, head.line.span().end)
    return Edit(at, at, f", {depth}")


def _pieces(on: _On) -> Edit:
    count = on.number(MOST_PIECES, "pieces")
    if "." in count:
        raise _error(f"{count} pieces can't be cut.", "Give a whole number.")
    return _cut(on, f"{count} pieces")


def _as_typed(on: _On) -> Edit:
    value = on.asked.value.strip().removeprefix("cut ").strip()
    if not value or len(value) > 120 or LINE_END.search(value) or "#" in value:
        raise _error("That is no cut.", "Write it so: 5 x 4, or 58 x 47.5 mm.")
    return _cut(on, value)


def _tin(on: _On) -> Edit:
    value = on.asked.value.strip().removeprefix("tin ").strip()
    if not value or len(value) > 120 or LINE_END.search(value) or "#" in value:
        raise _error("That is no tin.", "Write it so: 30 x 20 x 5 cm, or its name.")
    said = on.read.card.tin
    if said is not None and said.span.end > said.span.column:
        return _over(on.text, said.span, value)
    broken = _headed(on.read, "tin")
    if broken is not None:
        return _over(on.text, broken.line.span(), f"tin {value}")
    return _below(on, _head_end(on.read, ("slab", "component")), f"tin {value}", "")


def _cut(on: _On, way: str) -> Edit:
    """The card's first cut, done another way; what it trims stays."""
    cuts = on.read.card.cuts
    own = [cut for cut in cuts if not cut.tin_name]
    if own or cuts:
        said = (own or list(cuts))[0]
        start = _offset(on.text, said.span.line, said.span.column)
        end = _offset(on.text, said.span.line, said.span.end)
        clauses = [part.strip() for part in on.text[start:end].split(",")]
        kept = [part for part in clauses[1:] if _STAYS.match(part)]
        new = [part for part in kept if part.split()[0] not in way.split()]
        return Edit(start, end, ", ".join([way, *new]))
    broken = _headed(on.read, "cut")
    if broken is not None:
        return _over(on.text, broken.line.span(), f"cut {way}")
    last = _head_end(on.read, ("slab", "component", "tin"))
    return _below(on, last, f"cut {way}", "")


EDITS: Final[dict[str, Callable[[_On], Edit]]] = {
    "measured_depth": _measured_depth,
    "wished_depth": _wished_depth,
    "mass_after": _mass_after,
    "density": _density,
    "pieces": _pieces,
    "grid": _as_typed,
    "piece_size": _as_typed,
    "cut": _as_typed,
    "tin": _tin,
}
"""What can be changed beside the card."""


# --- where --------------------


def _event(
    on: _On, layer: CardLayer, kinds: tuple[type, ...], word: str, value: str
) -> Edit:
    """Another value for the last such word of a layer, or a line with it."""
    there = [event for event in layer.component.events if isinstance(event, kinds)]
    first = layer.component.span.line
    if there:
        return _whole(on, there[-1].span.line, f"{word} {value}")
    own = _block(on.read, first)
    last = max((one.line.number for one in own if one.line.text), default=first)
    inner = next((one for one in own if one.line.text), None)
    indent = inner.line.raw[: inner.line.column - 1] if inner else "  "
    return _below(on, last, f"{word} {value}", indent)


def _whole(on: _On, number: int, value: str) -> Edit:
    """A line written anew; its indentation and its comment stay."""
    return _over(on.text, _line(on.read, number).line.span(), value)


def _below(on: _On, number: int, value: str, indent: str) -> Edit:
    """A new line below this one, with the line end that the text has."""
    found = LINE_END.search(on.text)
    end = found.group() if found else "\n"
    ends = [match.start() for match in LINE_END.finditer(on.text)]
    at = ends[number - 1] if number <= len(ends) else len(on.text)
    return Edit(at, at, f"{end}{indent}{value}")


def _over(text: str, span: Span, value: str) -> Edit:
    start = _offset(text, span.line, span.column)
    return Edit(start, start + span.end - span.column, value)


def _offset(text: str, line: int, column: int) -> int:
    starts = [0, *(match.end() for match in LINE_END.finditer(text))]
    return starts[line - 1] + column - 1


def _line(read: CardRead, number: int) -> LineRead:
    return next(one for one in read.lines if one.line.number == number)


def _block(read: CardRead, first: int) -> list[LineRead]:
    """The lines below a head, up to the next one."""
    found: list[LineRead] = []
    for one in read.lines:
        if one.line.number <= first:
            continue
        if one.word in _HEADS:
            break
        found.append(one)
    return found


def _headed(read: CardRead, word: str) -> LineRead | None:
    """The line above the layers that begins with a word, read or not."""
    for one in read.lines:
        if one.word in _HEADS:
            return None
        if one.line.text.casefold().split(" ")[0].rstrip(":") == word:
            return one
    return None


def _head_end(read: CardRead, words: tuple[str, ...]) -> int:
    """The last line above the layers that begins with one of these words."""
    found = [_headed(read, word) for word in words]
    numbers = [one.line.number for one in found if one is not None]
    if not numbers:
        raise _error("This is no card yet.", "Begin it with: slab and a name.")
    return max(numbers)
