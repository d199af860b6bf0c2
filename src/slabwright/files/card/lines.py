"""A card's lines: comments off, blanks known, columns kept."""

import re
from dataclasses import dataclass

from slabwright.errors import Span

LONGEST_LINE = 10_000
LONGEST_NAME = 120
MOST_G = 1e6
"""A tonne: more than any line of a slab weighs."""

_COMMENT = re.compile(r"(?:^|(?<=\s))#.*$")
LINE_END = re.compile("\r\n|[\n\r\v\f\x85\u2028\u2029]")
"""What ends a line, a word processor's marks too."""


@dataclass(frozen=True, slots=True)
class CardLine:
    """One line of a text, without its end and its comment."""

    number: int
    raw: str
    """As it stands, comment included."""
    text: str
    """What is read: no comment, no blanks at either end."""
    column: int
    """Where `text` begins, from 1."""
    is_patient: bool = False
    """Whether it was pasted: doubts become questions, not mistakes."""

    def span(self, start: int = 0, end: int | None = None) -> Span:
        """Where `text[start:end]` stands."""
        stop = len(self.text) if end is None else end
        return Span(self.number, self.column + start, self.column + stop)

    @property
    def comment(self) -> str:
        """What the comment says; empty without one."""
        found = _COMMENT.search(self.raw)
        return found.group()[1:].strip() if found else ""


def lines_of(text: str) -> tuple[CardLine, ...]:
    """Every line of a text, blank ones too."""
    return tuple(_line(i, raw) for i, raw in enumerate(LINE_END.split(text), start=1))


def _line(number: int, raw: str) -> CardLine:
    bare = raw if len(raw) > LONGEST_LINE else _COMMENT.sub("", raw)
    text = bare.strip()
    return CardLine(number, raw, text, len(bare) - len(bare.lstrip()) + 1)
