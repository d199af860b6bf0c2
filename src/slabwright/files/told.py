"""`24 min hands, washing down`; `0.11 a piece, box`: what a making bears, as typed."""

import re
from decimal import Decimal
from typing import Final, Literal, cast

from slabwright.kitchen import Told

TOLD_SO: Final = (
    "Write it so: 24 min hands, washing down; 30 min oven; 3.6 kWh; 0.11 a piece, "
    "wrap; 0.40 a box; 1.20 a tray, rent; 5.00 a batch."
)
_NUMBER: Final = r"\d{1,9}(?:[.,]\d{1,6})?"
_RANGE: Final = rf"(?P<low>{_NUMBER})(?:\s*(?:-|–|to)\s*(?P<high>{_NUMBER}))?"
_PER: Final = (
    r"(?:\s*(?:an?|per|each|/)\s*(?P<per>batch|making|tray|slab|piece|box|pack|bag"
    r"|tub))?"
)
_TIME: Final = re.compile(
    rf"{_RANGE}\s*(?P<unit>min(?:ute)?s?|h|hours?)\s+(?:of\s+|in the\s+)?"
    rf"(?P<of>hands|oven){_PER}",
    re.IGNORECASE,
)
_ENERGY: Final = re.compile(rf"{_RANGE}\s*kWh{_PER}", re.IGNORECASE)
_MONEY: Final = re.compile(
    rf"(?:[£€$]|[A-Z]{{3}}\s)?\s*{_RANGE}\s*(?:[A-Z]{{3}})?{_PER}", re.IGNORECASE
)
_PERS: Final = {
    "batch": "batch", "making": "batch", "tray": "tray", "slab": "tray",
    "piece": "piece", "box": "box", "pack": "box", "bag": "box", "tub": "box",
}  # fmt: skip
_MOST: Final = Decimal(100_000)
LONGEST_TOLD: Final = 200


def read_told(text: str) -> Told | str:
    """What this says; what is wrong with it, in words, if it says nothing of the kind.

    >>> read_told("0.11 a piece, box").kind, read_told("2 h hands").low
    ('money', Decimal('120'))
    """
    said = " ".join(text.split())
    if len(said) > LONGEST_TOLD:
        return f"It has {len(said)} characters; at most {LONGEST_TOLD}."
    amount, what = _split(said)
    time, energy = _TIME.fullmatch(amount), _ENERGY.fullmatch(amount)
    found = time or energy or _MONEY.fullmatch(amount)
    if found is None:
        return f"'{amount:.60}' is no minutes, kWh or money."
    per = _PERS[(found["per"] or "batch").casefold()]
    if found is not time and found is not energy and not found["per"]:
        return f"'{amount:.60}' doesn't say whether it is a piece, a box or a tray."
    if (time or energy) and per in {"piece", "box"}:
        return f"'{amount:.60}' is told by the batch or the tray."
    hour = bool(time and time["unit"].casefold().startswith("h"))
    low = _number(found["low"]) * (60 if hour else 1)
    high = _number(found["high"] or found["low"]) * (60 if hour else 1)
    if high < low or high > _MOST:
        return f"'{amount:.60}' runs backwards." if high < low else "That is too much."
    kind = time["of"].casefold() if time else "energy" if energy else "money"
    return Told(
        cast('Literal["hands", "oven", "energy", "money"]', kind),
        low,
        high,
        cast('Literal["batch", "tray", "piece", "box"]', per),
        what,
        said,
    )


def _split(said: str) -> tuple[str, str]:
    """The amount, and what it is for; a comma inside a number divides nothing."""
    found = re.search(r",(?!\d)", said)
    if found is None:
        return said, ""
    return said[: found.start()].strip(), said[found.end() :].strip()


def _number(text: str) -> Decimal:
    return Decimal(text.replace(",", "."))
