"""The readings of a doubt that can be written into the text at a press."""

from typing import Final

from slabwright.errors import Span
from slabwright.files.card.edits import Edit
from slabwright.files.card.lines import LINE_END
from slabwright.files.card.reader import CardRead
from slabwright.finding import Ask, Reading
from slabwright.formula.line import Line

_WRITE: Final = "write "


def answer(text: str, read: CardRead, ask: Ask, reading: Reading) -> Edit | None:
    """The change that settles a doubt so; None where the maker must write it.

    Args:
        text: the card or the pasted recipe.
        read: the same, read.
        ask: the doubt.
        reading: one of its readings.
    """
    span = ask.span
    if span is None or not reading.does.startswith(_WRITE) or ":" in reading.does:
        return None
    value = reading.does.removeprefix(_WRITE).strip()
    if not value or LINE_END.search(value):
        return None
    line = _line_at(read, span)
    if line is None:
        return None
    where = line.name_span if value == reading.text else line.span
    starts = [0, *(match.end() for match in LINE_END.finditer(text))]
    start = starts[where.line - 1] + where.column - 1
    return Edit(start, start + where.end - where.column, value)


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
