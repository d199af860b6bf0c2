"""One line of a card or a pasted recipe: its amount, its spelling, its place."""

import re
from typing import Final, Literal

from slabwright.errors import Span
from slabwright.files.card.edit import (
    Edit,
    check_words,
    is_verbatim,
    line_bounds,
    over,
    refused,
)
from slabwright.files.card.lines import LINE_END
from slabwright.files.card.reader import CardRead
from slabwright.files.card.typed import typed_g
from slabwright.formula.line import Line
from slabwright.quantity.amount import Amount

_ASIDE: Final = re.compile(r"\s*\((?:about|approx\.?|or|=|~|c\.)?\s*$", re.IGNORECASE)
_LIKE: Final = re.compile(r"\s*/\s*")


def amount(text: str, read: CardRead, number: int, grams: str | float) -> Edit:
    """So many grams of an ingredient, where its line says how much.

    What is counted stays counted, with its weight behind it: `6 eggs = 300 g`.

    Args:
        text: the card or the pasted recipe.
        read: the same, read.
        number: of the line, from 1.
        grams: what was typed: `95`, `95 g`, `1.2 kg`.

    Raises:
        FileError: for a value that makes no sense, or a line that says no one amount.
    """
    said, line = typed_g(grams), _ingredient(text, read, number)
    if line.stated_span is not None:
        return over(text, line.stated_span, said)
    start, _ = line_bounds(text, number)
    own = text[start + line.span.column - 1 : start + line.span.end - 1]
    place = weighed_place(line, own)
    if place is None:
        end = line.span.end
        return over(text, Span(number, end, end), f" = {said}")
    return over(text, place, said)


def moved_line(text: str, number: int, way: Literal["up", "down"]) -> Edit:
    """A line and its neighbour in each other's place; line ends stay where they are.

    Raises:
        FileError: if it has no neighbour there.
    """
    first = number - 1 if way == "up" else number
    start, middle = line_bounds(text, number)  # there must be such a line at all
    if first < 1 or (first == number and not LINE_END.match(text, middle)):
        what = f"Line {number} is the {'first' if way == 'up' else 'last'} one."
        raise refused(what, "It can only go the other way.", "line", number)
    start, middle = line_bounds(text, first)
    after, end = line_bounds(text, first + 1)
    value = f"{text[after:end]}{text[middle:after]}{text[start:middle]}"
    return Edit(start, end, value, first if way == "up" else first + 1)


def spelled(text: str, span: Span, nearest: str) -> Edit:
    """A mistake's nearest reading in its place.

    Raises:
        FileError: if there is no such place, or nothing to write.
    """
    if not nearest.strip():
        raise refused("There is nothing to write.", "Type what it is to say.")
    check_words(nearest)
    return over(text, span, nearest)


def _ingredient(text: str, read: CardRead, number: int) -> Line:
    """The one ingredient of a line, if the text says it where it was read."""
    on_it = [one for one in read.lines if one.line.number == number]
    lines = [value for one in on_it for value in one.values if isinstance(value, Line)]
    if not lines:
        raise refused(f"Line {number} is no ingredient.", "Change it itself.")
    if len(lines) > 1:
        names = " and ".join(dict.fromkeys(line.name for line in lines))
        what = f"Line {number} is about {names} at once."
        raise refused(what, "Give each a line of its own first.")
    if not any(is_verbatim(text, one) for one in on_it):
        what = "This came as a page or a table, and the line is made of pieces of it."
        raise refused(what, "Write it as a card first; then it has one place.")
    return lines[0]


def weighed_place(line: Line, own: str) -> Span | None:
    """Where it says how much, if grams can stand there; another measure goes along.

    Args:
        line: as it was read.
        own: its words.
    """
    found = line.amounts
    if not found or line.part or line.size or not all(map(_is_measure, found)):
        return None
    number, start, end = line.span.line, found[0].span.column, found[-1].span.end
    if line.second is None:
        return Span(number, start, end)
    second = line.second.span
    between = own[end - line.span.column : second.column - line.span.column]
    after = own[second.end - line.span.column :]
    if _LIKE.fullmatch(between):
        return Span(number, start, second.end)
    if _ASIDE.fullmatch(between) and after.startswith(")"):
        return Span(number, start, second.end + 1)
    return None


def _is_measure(amount: Amount) -> bool:
    if amount.size is not None:
        inner, outer = amount.size.span, amount.span
        return outer.column <= inner.column and inner.end <= outer.end
    return amount.unit.kind != "count"
