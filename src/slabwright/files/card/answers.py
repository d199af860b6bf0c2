"""A doubt settled by one of its readings: what that writes into the text."""

import re
from typing import Final

from slabwright.errors import Span
from slabwright.files.card.answers_cups import US_CUPS, us_cups
from slabwright.files.card.answers_kept import is_kept, kept_answer
from slabwright.files.card.edit import (
    Edit,
    below,
    is_verbatim,
    line_bounds,
    over,
    read_at,
    refused,
)
from slabwright.files.card.edit_line import weighed_place
from slabwright.files.card.lines import LINE_END
from slabwright.files.card.reader import CardRead, LineRead
from slabwright.finding import Ask, Reading
from slabwright.formula.line import Line

_WRITE: Final = "write "
_TIN: Final = "write tin "
_SO: Final = "write it so"
_ALONE: Final = "write it on a line of its own: "
_FIRST: Final = "the first one counts"
_OTHER: Final = "write it first, or alone"
_IN_ALL: Final = re.compile(r"(?:used:|would be) (?P<g>[\d.]+) g in all")
_AND: Final = re.compile(r"[\s,;]*(?:[+&]|\bplus\b|\band\b)?\s*$", re.IGNORECASE)


def answered(text: str, read: CardRead, ask: Ask, choice: int) -> Edit:
    """The change that settles a doubt by one of its readings.

    Args:
        text: the card or the pasted recipe.
        read: the same, read.
        ask: the doubt.
        choice: which of its readings, from 0.

    Raises:
        FileError: if there is no such reading, or if it writes nothing.
    """
    if not 0 <= choice < len(ask.readings):
        raise refused("There is no such reading.", "Take one that is offered.")
    reading = ask.readings[choice]
    made = answer(text, read, ask, reading)
    if made is None:
        what = f"'{reading.text}' changes nothing on the card: {reading.does}."
        raise refused(what, "Take another reading, or change the line itself.")
    return made


def answer(text: str, read: CardRead, ask: Ask, reading: Reading) -> Edit | None:
    """The same; None where the reading holds already, or the maker must write it.

    Args:
        text: the card or the pasted recipe.
        read: the same, read.
        ask: the doubt.
        reading: one of its readings.
    """
    if is_kept(text, ask):
        return kept_answer(text, read, ask, reading)
    if reading.does.startswith(_TIN):
        return _tin(text, read, reading)
    if reading.does == US_CUPS:
        return us_cups(text, read)
    one = read_at(read, ask.span.line) if ask.span is not None else None
    if one is None or not is_verbatim(text, one):
        return None
    if reading.does.endswith(_SO):
        return over(text, one.line.span(), reading.text)
    lines = [value for value in one.values if isinstance(value, Line)]
    return _on_line(text, one, lines[0], reading) if lines else None


def _on_line(text: str, one: LineRead, line: Line, reading: Reading) -> Edit | None:
    """What a reading writes on an ingredient's line."""
    if reading.does.startswith(_ALONE):
        return _alone(text, one, reading)
    if reading.does in {_FIRST, _OTHER}:
        return _one_measure(text, line, reading)
    packed = _IN_ALL.fullmatch(reading.does)
    if packed is None:
        return _written(text, line, reading)
    if line.stated_g is not None:
        return None
    behind = Span(line.span.line, line.span.end, line.span.end)
    return over(text, behind, f" = {packed['g']} g")


def _written(text: str, line: Line, reading: Reading) -> Edit | None:
    """`write 5 g yeast`, `write plain flour`: what is said in place of that."""
    if not reading.does.startswith(_WRITE) or ":" in reading.does:
        return None
    value = reading.does.removeprefix(_WRITE).strip()
    if not value or LINE_END.search(value) or "#" in value:
        return None
    if value == reading.text:
        return over(text, line.name_span, value)
    is_whole = not value.endswith(line.name) or line.name_span.column < line.span.column
    end = line.span.end if is_whole else line.name_span.end
    return over(text, Span(line.span.line, line.span.column, end), value)


def _one_measure(text: str, line: Line, reading: Reading) -> Edit | None:
    """`170 g/6 oz`, which differ: one of them alone."""
    start, _ = line_bounds(text, line.span.line)
    own = text[start + line.span.column - 1 : start + line.span.end - 1]
    place = weighed_place(line, own)
    if place is None or line.second is None:
        return None
    first, last = line.amounts[0].span, line.amounts[-1].span
    begins, ends = first.column, last.end
    if reading.does == _OTHER:
        begins, ends = line.second.span.column, line.second.span.end
    return over(text, place, text[start + begins - 1 : start + ends - 1])


def _alone(text: str, one: LineRead, reading: Reading) -> Edit | None:
    """What a note says is taken besides, on a line of its own below."""
    at = one.line.text.find(reading.text)
    if at < 0:
        return None
    begun = _AND.search(one.line.text, 0, at)
    cut = begun.start() if begun else at
    rest = one.line.text[at + len(reading.text) :].rstrip()
    before = one.line.raw[: one.line.column - 1]
    taken = reading.does.removeprefix(_ALONE)
    under = below(text, one.line.number, f"{before}{taken}")
    start = line_bounds(text, one.line.number)[0] + one.line.column - 1 + cut
    tail = text[start + len(one.line.text) - cut : under.start]
    value = f"{rest}{tail}{under.value}"
    return Edit(start, under.start, value, under.line)


def _tin(text: str, read: CardRead, reading: Reading) -> Edit | None:
    """Another of the tins that a pasted recipe names, in place of the first."""
    said = read.card.tin
    one = read_at(read, said.span.line) if said else None
    if said is None or one is None or not is_verbatim(text, one):
        return None
    return over(text, said.span, f"{reading.text} tin")
