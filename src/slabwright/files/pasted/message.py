"""A recipe in one paragraph: sentences and commas become lines of their own."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from slabwright.files.card.amounts import Reading, amount_at
from slabwright.files.card.names import Names
from slabwright.files.pasted.sheet import PastedLine, part_of

_FEW_LINES: Final = 6
_LONG: Final = 110
_SENTENCE: Final = re.compile(
    r"(?<=[^\d\s][.;!?])\s+(?=[A-Z\d½¼¾⅓⅔])|\s*;\s+|\.\s+(?=\d)"
)
_LABEL: Final = re.compile(
    r"^(?P<name>[^\W\d][\w' -]{1,40}?)\s*(?::|\s[-–—]\s)\s*(?=\S)"
)
_COMMA: Final = re.compile(
    r",\s+(?=(?:and\s+)?(?:\d|[½¼¾⅓⅔]|an?\s|one\s|two\s|half\s|juice|zest))"
)
_AND: Final = re.compile(r"\s+and\s+(?=\d|[½¼¾⅓⅔])")


def split_message(lines: Sequence[PastedLine], names: Names) -> tuple[PastedLine, ...]:
    """Lines as they are, or the pieces of a message that was one paragraph.

    Only long lines with several amounts in them are taken apart, and only where the
    text has few lines at all.
    """
    full = [line for line in lines if line.line.text]
    if not full or len(full) > _FEW_LINES:
        return tuple(lines)
    return tuple(piece for line in lines for piece in _pieces(line, names))


def _pieces(line: PastedLine, names: Names) -> Iterator[PastedLine]:
    text = line.line.text
    if len(text) < _LONG or len(re.findall(r"\d", text)) < len("abc"):
        yield line
        return
    at = 0
    for end in [m.start() for m in _SENTENCE.finditer(text)] + [len(text)]:
        yield from _sentence(line, at, end, names)
        at = end


def _sentence(
    line: PastedLine, start: int, end: int, names: Names
) -> Iterator[PastedLine]:
    text = line.line.text
    while start < end and text[start] in " .;":
        start += 1
    label = _LABEL.match(text, start, end)
    if label and _has_amount(line, label.end(), end):
        heading = part_of(line, label.start("name"), label.end("name"), "heading")
        yield heading
        start = label.end()
    if not _has_amount(line, start, end):
        if text[start:end].strip():
            yield part_of(line, start, end)
        return
    cuts = [m.start() for m in _COMMA.finditer(text, start, end)]
    cuts += [m.start() for m in _AND.finditer(text, start, end)]
    cuts += [
        m.start()
        for m in re.finditer(
            r",\s+(?=[a-z]+\s+(?:in|to|and|it|for|until|at|into)\b)", text[:end]
        )
        if m.start() > start
    ]
    at = start
    for cut in [*sorted(set(cuts)), end]:
        piece = part_of(line, at, cut)
        bare = re.sub(r"^(?:and|,)\s+", "", piece.line.text)
        if bare:
            shift = len(piece.line.text) - len(bare)
            inner = replace(piece.line, text=bare, column=piece.line.column + shift)
            yield replace(piece, line=inner)
        at = cut + 1


def _has_amount(line: PastedLine, start: int, end: int) -> bool:
    """Whether an amount with a unit stands between these places."""
    text = line.line.text
    for found in re.finditer(r"(?<![\w.,/])[\d½¼¾⅓⅔⅛]", text[:end]):
        if found.start() >= start and isinstance(
            amount_at(line.line, found.start()), Reading
        ):
            return True
    return False
