"""`margin 60 %`, `mark-up 150 %`, `1.20 left`: the maker's line; prices as typed."""

import re
from decimal import Decimal
from fractions import Fraction
from typing import Final

from slabwright.errors import FileError, Mistake, Where
from slabwright.kitchen import MakersLine

LINE_SO: Final = "Write margin 60 %, mark-up 150 %, or 1.20 left."
_NUMBER: Final = r"(?P<n>\d{1,7}(?:[.,]\d{1,6})?)"
_SHARE: Final = re.compile(
    rf"(?:(?P<of>margin|mark-?\s?up)\s*(?:of\s+)?)?{_NUMBER}\s*(?P<cent>%|per\s*cent)?",
    re.IGNORECASE,
)
_LEFT: Final = re.compile(
    rf"(?:left\s+)?[£€$]?\s*{_NUMBER}\s*(?:[A-Z]{{3}})?(?:\s+left)?"
    r"(?:\s+(?:an?|per|each)\s+(?:piece|box|pack|sale))?",
    re.IGNORECASE,
)
_PRICE: Final = re.compile(
    r"(?:[£€$]|[A-Z]{3}\s)?\s*(?P<n>\d{1,7}(?:[.,]\d{1,2})?)\s*(?:[A-Z]{3})?"
)


def read_line(text: str) -> MakersLine | str:
    """The line that this says; what is wrong with it, in words.

    A bare share is a margin. A margin is under 100 %: what is left of a price can't
    be all of it.
    """
    said = " ".join(text.split())
    share = _SHARE.fullmatch(said)
    if share is not None and (share["of"] or share["cent"]):
        value = Fraction(share["n"].replace(",", ".")) / 100
        is_margin = (share["of"] or "margin").casefold() == "margin"
        if is_margin and value >= 1:
            return f"A margin of {float(value) * 100:g} % leaves nothing for the cost."
        return MakersLine("margin" if is_margin else "mark-up", value, said)
    left = _LEFT.fullmatch(said)
    if left is not None and re.search(r"left|\ba\b|per|each", said, re.IGNORECASE):
        return MakersLine("left", Fraction(left["n"].replace(",", ".")), said)
    return f"'{said:.60}' is no margin, no mark-up and no money left."


def line_asked(text: str, field: str = "line") -> MakersLine:
    """The line that somebody asks for.

    Raises:
        FileError: if it is none.
    """
    found = read_line(text)
    if isinstance(found, str):
        raise FileError(Mistake(found, LINE_SO, Where(field=field)))
    return found


def price_asked(text: str, field: str = "price") -> Decimal:
    """A price as somebody types it, above nothing.

    Raises:
        FileError: if it is none.
    """
    found = _PRICE.fullmatch(text.strip())
    price = Decimal(found["n"].replace(",", ".")) if found else Decimal(0)
    if price <= 0:
        what = f"'{text:.40}' is no price."
        raise FileError(Mistake(what, "Write it so: 3.20.", Where(field=field)))
    return price
