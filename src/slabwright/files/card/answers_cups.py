"""Whose cups a recipe means, answered: said before each of them."""

import re
from collections.abc import Iterator
from typing import Final

from slabwright.files.card.edit import Edit, is_verbatim, joined, line_bounds
from slabwright.files.card.reader import CardRead
from slabwright.formula.line import Line
from slabwright.quantity.amount import Amount

US_CUPS: Final = "write US before each cup"
_CUP: Final = re.compile(r"\bc(?:ups?)?\b", re.IGNORECASE)


def cups_of_nowhere(amounts: Iterator[Amount]) -> Iterator[Amount]:
    """Cups among these amounts of which nothing says whose they are."""
    return (one for one in amounts if one.unit.name == "cup" and one.regime is None)


def us_cups(text: str, read: CardRead) -> Edit | None:
    """The change that makes every cup an American one; None if it can't be written."""
    made: Edit | None = None
    for one in read.lines:
        if not is_verbatim(text, one):
            continue
        start, end = line_bounds(text, one.line.number)
        lines = (value for value in one.values if isinstance(value, Line))
        for amount in cups_of_nowhere(a for line in lines for a in line.amounts):
            at = start + amount.span.column - 1
            found = _CUP.search(text, at, min(end, start + amount.span.end - 1))
            if found is not None:
                here = Edit(found.start(), found.start(), "US ", one.line.number)
                made = here if made is None else joined(text, made, here)
    return made
