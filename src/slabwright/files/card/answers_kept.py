"""Questions that stand on a card as comments, answered: the comments go with them."""

import re
from typing import Final

from slabwright.files.card.edit import (
    Edit,
    below,
    joined,
    line_bounds,
    over,
    without_lines,
)
from slabwright.files.card.lines import LINE_END
from slabwright.files.card.reader import CardRead
from slabwright.finding import Ask, Reading

_COMMENT: Final = re.compile(r"(?P<inset>\s*)#")
_ASKS: Final = re.compile(r"\s*#\s*ask:", re.IGNORECASE)
_TIN: Final = "write tin "
_SO: Final = "write it so"
_ALONE: Final = "write it on a line of its own: "
_MAKERS: Final = "write them before"
"""What only the maker can write: the grams that nobody else knows."""


def is_kept(text: str, ask: Ask) -> bool:
    """Whether a question is a comment of the card."""
    if ask.span is None:
        return False
    lines = LINE_END.split(text)
    number = ask.span.line
    return number <= len(lines) and bool(_ASKS.match(lines[number - 1]))


def kept_answer(text: str, read: CardRead, ask: Ask, reading: Reading) -> Edit | None:
    """The card without the question, saying what the reading says.

    None for a reading that only the maker can write.
    """
    if ask.span is None or reading.does.startswith(_MAKERS):
        return None
    first, last = ask.span.line, ask.span.line + len(ask.readings)
    gone = without_lines(text, first, last)
    if reading.does.endswith(_SO):
        return _in_its_place(text, first, last, reading.text)
    if reading.does.startswith(_TIN):
        said = read.card.tin
        return joined(text, over(text, said.span, reading.text), gone) if said else None
    if reading.does.startswith(_ALONE):
        own = _raw(text, last + 1)
        inset = own[: len(own) - len(own.lstrip())]
        taken = reading.does.removeprefix(_ALONE)
        return joined(text, gone, below(text, last + 1, f"{inset}{taken}"))
    return gone


def _in_its_place(text: str, first: int, last: int, words: str) -> Edit:
    """A line in place of the question and of what was asked about, a comment too."""
    follows = _raw(text, last + 1) if last < len(LINE_END.findall(text)) + 1 else ""
    if _COMMENT.match(follows) and not _ASKS.match(follows):
        last += 1
    start, _ = line_bounds(text, first)
    _, end = line_bounds(text, last)
    inset = _COMMENT.match(text, start)
    return Edit(start, end, f"{inset['inset'] if inset else ''}{words}", first)


def _raw(text: str, number: int) -> str:
    start, end = line_bounds(text, number)
    return text[start:end]
