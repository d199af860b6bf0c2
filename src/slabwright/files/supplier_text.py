"""The text of a specification, made even before it is read word by word."""

import re
from typing import Final

from slabwright.errors import FileError, Mistake, Span, Where

_PER_100G: Final = re.compile(
    r"(?:\bper\b|\bin\b|/)\s*100\s*g(?:ram(?:me)?s?)?\b(?:\s*/\s*(?:100\s*)?ml\b)?"
    r"|^\s*\(?100\s*g(?:rams?)?\)?\s*(?:contains?\b|provides?\b|:)",
    re.IGNORECASE | re.MULTILINE,
)
_PER_ELSE: Final = re.compile(
    r"(?:\bper\s+|/\s*(?=100\s*ml))\d+(?:[.,]\d+)?\s*(?:g|ml|oz|kg|l)\b"
    r"|\bper\s+(?:serving|portion)\b",
    re.IGNORECASE,
)
_ASIDE: Final = re.compile(
    r"\b(?:N|nitrogen|sodium)\s*[x×*]\s*\d(?:[.,]\d+)?|\.{2,}", re.IGNORECASE
)
"""How a figure was reckoned, and dots that lead the eye."""
_THOUSANDS: Final = re.compile(
    r"(?<![\d.,/])\d{1,3}(?:[ \u00a0\u2009\u202f'’]\d{3})+(?![\d/])(?:[.,]\d+)?"
)
_LISTED: Final = re.compile(
    r"^[ \t]*(?:ingredients?[ \t]*[:.]|allerg(?:ens?|y)\b|may[ \t]+contain\b).*"
    r"(?:\n(?![ \t]*$|[ \t]*(?:energy|(?:total[ \t]+)?fats?|of[ \t]+which|carbo|sugars?"
    r"|fibre|fiber|protein|salt|sodium|nutri|typical|per)\b).*)*",
    re.IGNORECASE | re.MULTILINE,
)
"""What it is made of, and its allergens: their words are no rows of figures."""
_TWO_FIGURES: Final = re.compile(r"(?<=\d\d)/(?=\d\d)")


def evened(text: str, file: str) -> str:
    """The text without `per 100 g`, figures in one form, each where it stood.

    >>> evened("Sodium 1 200 mg per 100 g", "").rstrip()
    'Sodium 1200  mg'

    Raises:
        FileError: if its first column is per portion, or per 100 ml.
    """
    first, blank = _PER_100G.search(text), _PER_100G.sub(_blank, text)
    other = _PER_ELSE.search(blank)
    if other and (first is None or other.start() < first.start()):
        line = text.count("\n", 0, other.start())
        column = other.start() - text.rfind("\n", 0, other.start())
        span = Span(line + 1, column, column + len(other.group()))
        what = f"The figures are '{other.group()}'."
        do = "Write them per 100 g, or put that column first."
        raise FileError(Mistake(what, do, Where(file, span)))
    rows = _ASIDE.sub(_blank, _LISTED.sub(_blank, blank))
    return _TWO_FIGURES.sub("|", _THOUSANDS.sub(_tight, rows))


def listed(text: str) -> tuple[str, ...]:
    """The stretches that say what it is made of, and what of allergens."""
    return tuple(found.group() for found in _LISTED.finditer(text))


def _blank(found: re.Match[str]) -> str:
    return re.sub(r"[^\n]", " ", found.group())


def _tight(found: re.Match[str]) -> str:
    tight = re.sub(r"[ \u00a0\u2009\u202f'’]", "", found.group())
    return tight.ljust(len(found.group()))
