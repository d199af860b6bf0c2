"""A recipe in one paragraph: its amounts become lines, the words between them steps."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from slabwright.files.card.amounts import STEP_UNITS, Reading, amount_at
from slabwright.files.card.names import Names
from slabwright.files.card.naming import HANDLING
from slabwright.files.pasted.sheet import PastedLine, part_of
from slabwright.quantity.numbers import Number, number_at

_FEW_LINES: Final = 8
_LOOKED_AT: Final = 60
"""A text of more lines than this is taken apart by no sentence."""
_LONG: Final = 90
_SHORT: Final = 30
_SENTENCE: Final = re.compile(r"(?<=[^\d\s][.;!?])\s+|(?<=\d[.;])\s+(?=[A-Z])|\s*;\s+")
_LABEL: Final = re.compile(
    r"(?P<name>[^\W\d][^\d,:.]{1,40}?)\s*(?::|\s[-–—]\s)\s*(?=\S)", re.IGNORECASE
)
_BEGINS: Final = re.compile(
    r"(?<![\w.,/°])(?=[\d½¼¾⅓⅔⅛])|\b(?=(?:an?|one|two|three|half an?|juice of|zest of"
    r"|pinch of|knob of)\s)",
    re.IGNORECASE,
)
_JOINT: Final = re.compile(r"[\s,.;:&+-]*(?:\b(?:and|plus|with|then|of)\b[\s,]*)*")
_PART_OF: Final = re.compile(
    r"(?:juice|zest)(?: and (?:juice|zest))? of\s+", re.IGNORECASE
)
_NAME_ENDS: Final = re.compile(r"[,.;()]|\s(?:and|then|in|into|with|until|plus)\s")
_ENOUGH: Final = 3
"""Fewer amounts than this make no paragraph of ingredients."""


def split_message(lines: Sequence[PastedLine], names: Names) -> tuple[PastedLine, ...]:
    """Lines as they are, or the pieces of a message that was one paragraph.

    Only long lines with several amounts in them are taken apart, and only where the
    text has few lines at all.
    """
    full = [line for line in lines if line.line.text]
    listed = sum(_is_listed(line, names) for line in full[:_LOOKED_AT])
    if not full or len(full) > _LOOKED_AT or (listed and len(full) > _FEW_LINES):
        return tuple(lines)
    enough = _ENOUGH if listed else 1
    return tuple(piece for line in lines for piece in _pieces(line, names, enough))


def _is_listed(line: PastedLine, names: Names) -> bool:
    """Whether a line is short and begins with an amount of something known."""
    text = line.line.text
    if len(text) > _LONG or not _BEGINS.match(text):
        return False
    return _amount_and_name(line, 0, len(text), names) is not None


def _pieces(line: PastedLine, names: Names, enough: int) -> Iterator[PastedLine]:
    text = line.line.text
    is_long = len(text) >= (_LONG if enough > 1 else _SHORT)
    if not is_long or len(_found(line, 0, len(text), names)) < enough:
        yield line
        return
    at = 0
    for end in [*(m.end() for m in _SENTENCE.finditer(text)), len(text)]:
        yield from _sentence(line, at, end, names)
        at = end


def _sentence(
    line: PastedLine, start: int, end: int, names: Names
) -> Iterator[PastedLine]:
    text = line.line.text
    label = _LABEL.match(text, start, end)
    if label and _found(line, label.end(), end, names):
        yield part_of(line, label.start("name"), label.end("name"), "heading")
        start = label.end()
    at = start
    for begin, stop in _found(line, start, end, names):
        yield from _between(line, at, begin)
        yield part_of(line, begin, stop, "ingredient")
        at = stop
    yield from _between(line, at, end)


def _between(line: PastedLine, start: int, end: int) -> Iterator[PastedLine]:
    """Words between two amounts: a step, unless they only join them."""
    text = line.line.text
    joint = _JOINT.match(text, start, end)
    begin = joint.end() if joint else start
    words = text[begin:end].strip(" ,.;:-")
    if words:
        piece = part_of(line, begin, end, "step")
        yield replace(piece, line=replace(piece.line, text=words))


def _found(
    line: PastedLine, start: int, end: int, names: Names
) -> list[tuple[int, int]]:
    """Where an amount with a known name stands: begin and end of each."""
    text = line.line.text
    found: list[tuple[int, int]] = []
    at = start
    for match in _BEGINS.finditer(text, start, end):
        if match.start() < at:
            continue
        stop = _amount_and_name(line, match.start(), end, names)
        if stop is not None:
            found.append((match.start(), stop))
            at = stop
    return found


def _amount_and_name(
    line: PastedLine, start: int, end: int, names: Names
) -> int | None:
    text = line.line.text
    part = _PART_OF.match(text, start)
    reading = amount_at(line.line, part.end() if part else start)
    if isinstance(reading, Reading):
        at = reading.end
    else:
        number = number_at(text, part.end() if part else start)
        if not isinstance(number, Number) or STEP_UNITS.match(text, number.end):
            return None
        at = number.end
    while at < end and text[at] == " ":
        at += 1
    handling = HANDLING.match(text, at, end)
    stop = _NAME_ENDS.search(text, at, end)
    upto = stop.start() if stop else end
    for begin in (at, handling.end() if handling else at):
        for last in (end, upto):
            known = names.length_of_name(text[begin:last])
            if known:
                return begin + known
    if not isinstance(reading, Reading):
        return None
    return upto
