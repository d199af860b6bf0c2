"""A card with what was understood beside each line, as text."""

import textwrap
from collections.abc import Iterator, Mapping, Sequence

_LEAST = 24
"""Columns that each side keeps, however narrow the terminal."""


def reading_text(
    lines: Sequence[str], understood: Mapping[int, str], columns: int = 80
) -> str:
    """The card at the left, what was understood at the right.

    Args:
        lines: the card's lines as they stand.
        understood: what was understood, by line number from 1.
        columns: width of the page.
    """
    longest = max((len(line.expandtabs(2)) for line in lines), default=0)
    left = max(_LEAST, min(longest, columns // 2 - 3))
    return "".join(
        f"{row.rstrip()}\n"
        for number, line in enumerate(lines, start=1)
        for row in _rows(line, understood.get(number, ""), left, columns)
    )


def _rows(line: str, words: str, left: int, columns: int) -> Iterator[str]:
    right = max(_LEAST, columns - left - 5)
    own = textwrap.wrap(line.expandtabs(2), left, drop_whitespace=False) or [""]
    said = textwrap.wrap(words, right) or [""]
    for i in range(max(len(own), len(said))):
        mine = own[i] if i < len(own) else ""
        yours = said[i] if i < len(said) else ""
        yield f"{mine:<{left}}  |  {yours}" if yours else mine
