"""The readings of a doubt that can be written into the text at a press."""

import re
from typing import Final

from slabwright.errors import Span
from slabwright.files.card.edits import Edit
from slabwright.files.card.lines import LINE_END
from slabwright.files.card.reader import CardRead
from slabwright.finding import Ask, Reading
from slabwright.formula.line import Line

_WRITE: Final = "write "
_IN_ALL: Final = re.compile(r"(?:used:|would be) (?P<g>[\d.]+) g in all")


def answer(text: str, read: CardRead, ask: Ask, reading: Reading) -> Edit | None:
    """The change that settles a doubt so; None where the maker must write it.

    Args:
        text: the card or the pasted recipe.
        read: the same, read.
        ask: the doubt.
        reading: one of its readings.
    """
    span = ask.span
    packed = _IN_ALL.fullmatch(reading.does)
    if span is not None and packed:
        line = _line_at(read, span)
        if line is None or line.stated_g is not None:
            return None
        at = _offset(text, line.span.line, line.span.end)
        return Edit(at, at, f" = {packed['g']} g")
    if span is None or not reading.does.startswith(_WRITE) or ":" in reading.does:
        return None
    value = reading.does.removeprefix(_WRITE).strip()
    if not value or LINE_END.search(value):
        return None
    line = _line_at(read, span)
    if line is None:
        return None
    where = line.name_span if value == reading.text else line.span
    start = _offset(text, where.line, where.column)
    return Edit(start, start + where.end - where.column, value)


def _offset(text: str, line: int, column: int) -> int:
    starts = [0, *(match.end() for match in LINE_END.finditer(text))]
    return starts[line - 1] + column - 1


def _line_at(read: CardRead, span: Span) -> Line | None:
    return next(
        (
            value
            for one in read.lines
            if one.line.number == span.line
            for value in one.values
            if isinstance(value, Line)
        ),
        None,
    )
